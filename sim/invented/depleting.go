package invented

import "rollchange/model"

// Depleting are lines whose storage depletes for every reason that there is.
func Depleting() map[string]model.Line {
	lognormal := func(mean, sd float64) model.Dist { return model.Dist{Law: model.Lognormal, A: mean, B: sd} }
	exponential := func(mean float64) model.Dist { return model.Dist{Law: model.Exponential, A: mean} }
	base := func(change func(l *model.Line)) model.Line {
		l := ZeroSpeed()
		l.Unwind.Dwell = lognormal(8, 3)
		change(&l)
		return l
	}
	breaks := &model.WebBreaks{MeanLength: 400, AtSpeed: 2.5, Repair: lognormal(60, 60)}
	return map[string]model.Line{
		"dwell only": base(func(*model.Line) {}),
		"failures":   base(func(l *model.Line) { l.Unwind.SpliceSuccess, l.Unwind.Recover = 0.9, lognormal(12, 8) }),
		"failures, certain": base(func(l *model.Line) {
			l.Unwind.SpliceSuccess, l.Unwind.Recover = 0.9, model.Const(120)
		}),
		"failures and one busy operator": base(func(l *model.Line) {
			l.Unwind.SpliceSuccess, l.Unwind.Recover, l.Crew.Operators, l.Crew.Reaction = 0.8, lognormal(8, 8), 1, exponential(3)
			l.Crew.Duties = []model.Duty{{Name: "check", Every: exponential(100), Takes: exponential(30)}}
		}),
		"late arming": base(func(l *model.Line) {
			l.Unwind.Load, l.Crew.Operators = lognormal(480, 100), 1
		}),
		"short rolls": base(func(l *model.Line) {
			l.Unwind.Roll.Length, l.Unwind.Load, l.Unwind.Prepare = model.Dist{Law: model.Uniform, A: 60, B: 160}, model.Const(2), model.Const(1)
			l.Crew.Reaction = model.Const(0)
		}),
		"web breaks": base(func(l *model.Line) { l.WebBreaks = breaks }),
		"web breaks, failures, short rolls": base(func(l *model.Line) {
			l.WebBreaks = breaks
			l.Unwind.SpliceSuccess, l.Unwind.Recover = 0.8, exponential(12)
			l.Unwind.Roll.Length = model.Dist{Law: model.Uniform, A: 60, B: 400}
			l.Unwind.ResidualError = model.Dist{Law: model.Normal, B: 3, Signed: true}
		}),
		"stops that are short": base(func(l *model.Line) {
			l.Stops = []model.Stop{{Name: "jam", Every: exponential(60), Repair: exponential(4)}}
		}),
		"slows first": base(func(l *model.Line) {
			l.Unwind.Storage.Slow, l.Unwind.Storage.SlowLevel, l.Unwind.Storage.SlowSpeed = true, 35, 1.2
			l.Unwind.Dwell = lognormal(12, 5)
			l.WebBreaks = breaks
		}),
		"dwell with atoms": base(func(l *model.Line) {
			l.Unwind.Dwell = model.Dist{Law: model.Empirical, Values: []float64{6, 7, 7, 8, 12, 20}}
		}),
		"torque limits the ramp": base(func(l *model.Line) {
			l.Web = model.Web{Width: 0.33, Caliper: 1e-4, Grammage: 0.08}
			l.Unwind.Roll.Length, l.Unwind.Roll.Core = model.Dist{Law: model.Uniform, A: 500, B: 3000}, 0.15
			l.Unwind.SpindleTorque = 3
		}),
		"both storages": base(func(l *model.Line) {
			AddZeroSpeedRewind(l)
			l.Rewind.Dwell = lognormal(7, 3)
			l.Rewind.Storage.Capacity, l.Rewind.Storage.RestartLevel = 48, 25
			l.Rewind.TransferSuccess, l.Rewind.Recover = 0.9, lognormal(15, 8)
		}),
		"late cores slow the line": base(func(l *model.Line) {
			l.Rewind = model.Rewind{Change: model.Flying, Roll: model.RollSize{Length: lognormal(120, 40)}, Trigger: model.ByLength, Overrun: 40, MaxSplices: -1, TransferSuccess: 1,
				Doff: exponential(20), LoadCore: lognormal(20, 10), LateChange: lognormal(6, 3), LateSpeed: 1}
		}),
		"late cores slow the line, out of storage": base(func(l *model.Line) {
			AddZeroSpeedRewind(l)
			l.Rewind.Roll.Length, l.Rewind.Overrun, l.Rewind.Dwell = lognormal(160, 40), 20, lognormal(7, 3)
			l.Rewind.Doff, l.Rewind.LoadCore = exponential(20), lognormal(30, 10)
			l.Rewind.Storage.Capacity, l.Rewind.Storage.RestartLevel = 48, 25
			l.Rewind.LateSpeed = 1
		}),
		"a manual rewind": base(func(l *model.Line) {
			l.Rewind = model.Rewind{Change: model.Manual, Roll: model.RollSize{Length: lognormal(90, 40)}, Trigger: model.ByLength, ChangeTime: lognormal(20, 8), MaxSplices: -1}
		}),
	}
}
