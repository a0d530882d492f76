package invented

import "rollchange/model"

// EveryChance is a line whose splices are made at rest out of storage, with chance of
// every sort; two of them share the crew.
func EveryChance() model.Line {
	law := func(mean float64) model.Dist { return model.Dist{Law: model.Exponential, A: mean} }
	return model.Line{
		Process: model.Process{Speed: 2, RatedSpeed: 2, Accel: 0.25, Decel: 0.5, RestartScrap: law(5)},
		Unwind: model.Unwind{Change: model.ZeroSpeed, Roll: model.RollSize{Length: law(1500)}, Residual: 5, Load: law(60), Prepare: model.Const(30),
			Dwell: model.Dist{Law: model.Gamma, A: 16, B: 0.5}, Decel: 1, Accel: 0.5, MaxSpeed: 4, SpliceSuccess: 0.98, Recover: law(90),
			Storage: model.Storage{Capacity: 60, RunLevel: 60, RestartLevel: 30}},
		Rewind:    model.Rewind{Change: model.None},
		Crew:      model.Crew{Operators: 1, Lines: 2, Reaction: law(10), Duties: []model.Duty{{Name: "patrol", Every: law(3600), Takes: law(60)}}},
		Stops:     []model.Stop{{Name: "jam", Every: law(3600), Repair: law(120), NeedsOperator: true}},
		WebBreaks: &model.WebBreaks{MeanLength: 20000, AtSpeed: 2, Repair: law(300)},
	}
}

// Steep stops at 2 m/s2, its unwind at 0.8: a stop 0.1625 s after the trigger.
func Steep() model.Line {
	l := ZeroSpeed()
	l.Process.Accel, l.Process.Decel = 1, 2
	l.Crew.Reaction, l.Unwind.Prepare = model.Const(0), model.Const(0)
	l.Unwind.Storage = model.Storage{Capacity: 80, RunLevel: 80, RestartLevel: 40, Reserve: 2}
	l.Stops = []model.Stop{{Name: "jam", Every: model.Const(596.2), Calendar: true, Repair: model.Const(60), NeedsOperator: true}}
	return l
}

// Manual has an unwind by hand and no rewind.
func Manual() model.Line {
	return model.Line{
		Process: model.Process{Speed: 2.5, RatedSpeed: 2.5, Accel: 0.25, Decel: 0.5},
		Unwind: model.Unwind{Change: model.Manual, Roll: model.RollSize{Length: model.Const(2000)}, Residual: 8,
			ChangeTime: model.Const(240), SpliceSuccess: 1},
		Rewind: model.Rewind{Change: model.None, Trigger: model.ByLength, MaxSplices: -1},
		Crew:   model.Crew{Operators: 1, Lines: 1, Reaction: model.Const(20), Shift: 8 * 3600},
	}
}

// ZeroSpeed splices at rest, out of storage, and has no rewind.
func ZeroSpeed() model.Line {
	l := Manual()
	l.Crew.Operators = 2
	l.Unwind = model.Unwind{Change: model.ZeroSpeed, Roll: model.RollSize{Length: model.Const(1500)},
		Residual: 6, ResidualLeast: 2, Load: model.Const(60), Prepare: model.Const(40), Dwell: model.Const(8),
		Decel: 0.8, Accel: 0.6, MaxSpeed: 3.75, SpliceSuccess: 1, Recover: model.Const(120),
		Storage: model.Storage{Capacity: 60, RunLevel: 60, RestartLevel: 30, Reserve: 2}}
	return l
}

// AddZeroSpeedRewind gives a line a rewind that transfers at rest, into storage.
func AddZeroSpeedRewind(l *model.Line) {
	l.Rewind = model.Rewind{Change: model.ZeroSpeed, Roll: model.RollSize{Length: model.Const(900)}, Trigger: model.ByLength,
		Overrun: 50, MaxSplices: -1, Doff: model.Const(60), LoadCore: model.Const(40), Dwell: model.Const(5),
		Decel: 0.8, Accel: 0.6, MaxSpeed: 3.75, TransferSuccess: 1, Recover: model.Const(120),
		Storage: model.Storage{Capacity: 60, RunLevel: 5, RestartLevel: 30, Reserve: 2}}
}

// Study has an alternative for each line, A, B and so on.
func Study(lines ...model.Line) *model.Study {
	s := &model.Study{Run: model.Run{Horizon: 30000, Replications: 7, Seed: 5, Confidence: 0.95}}
	for i, l := range lines {
		s.Alternatives = append(s.Alternatives, model.Alternative{Name: string(rune('A' + i)), Line: l})
	}
	return s
}
