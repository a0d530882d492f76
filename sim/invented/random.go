package invented

import (
	"math"
	"math/rand/v2"

	"rollchange/model"
)

// Random makes a line of a usual size, with changes often enough to count
// them: for tests of figures by chance. Laws are tried on the lines of
// scenarios/random, which know no usual size. It is a function of the seed alone.
func Random(seed uint64) model.Line {
	r := rand.New(rand.NewPCG(seed, 77))
	in := func(low, high float64) float64 { return low + (high-low)*r.Float64() }
	chance := func(p float64) bool { return r.Float64() < p }
	vary := func(mean float64) model.Dist {
		switch r.IntN(9) {
		case 0:
			return model.Dist{Law: model.Exponential, A: mean}
		case 1:
			return model.Dist{Law: model.Lognormal, A: mean, B: mean * in(0.1, 1)}
		case 2:
			return model.Dist{Law: model.Normal, A: mean, B: mean * in(0.1, 0.6)}
		case 3:
			return model.Dist{Law: model.Uniform, A: mean * 0.5, B: mean * 1.5}
		case 4:
			return model.Dist{Law: model.Triangular, A: mean * 0.5, B: mean * 0.8, C: mean * 2}
		case 5:
			k := in(0.5, 5)
			return model.Dist{Law: model.Gamma, A: k, B: mean / k}
		case 6:
			return model.Dist{Law: model.Weibull, A: in(0.7, 3), B: mean}
		case 7:
			return model.Dist{Law: model.Empirical, Values: []float64{mean * 0.3, mean, mean * 2}}
		}
		return model.Const(mean)
	}
	v := in(0.3, 12)
	l := model.Line{
		Process: model.Process{Speed: v, RatedSpeed: v * in(1, 1.3), Accel: in(0.05, 2), Decel: in(0.1, 2), Path: in(0, 40)},
		Crew:    model.Crew{Operators: 1 + r.IntN(3), Lines: 1, Reaction: vary(in(1, 40)), Shift: 8 * 3600},
	}
	if chance(0.1) {
		l.Process.Accel, l.Process.Decel = 1e4, 1e4
	}
	if chance(0.5) {
		l.Process.StopScrap, l.Process.RestartScrap = vary(in(0.1, 30)), vary(in(0.1, 60))
	}
	roll := in(60, 4000)
	u := &l.Unwind
	*u = model.Unwind{Change: []model.ChangeKind{model.Manual, model.ZeroSpeed, model.ZeroSpeed, model.Flying}[r.IntN(4)],
		Roll: model.RollSize{Length: vary(roll)}, Residual: in(0, 15), ChangeTime: vary(in(10, 400)), CallAhead: in(0, 100),
		Load: vary(in(1, 300)), Prepare: vary(in(1, 200)), Dwell: vary(in(0.2, 20)), Decel: l.Process.Decel * in(0.2, 3), Accel: l.Process.Accel * in(0.2, 3),
		MaxSpeed: v * in(1.02, 2), SpliceSuccess: 1 - in(0, 0.2), SpliceBreaks: in(0, 0.1), Recover: vary(in(10, 200))}
	u.ResidualLeast = u.Residual * in(0, 1)
	if chance(0.5) {
		u.SpliceScrap = vary(in(0.1, 10))
	}
	if chance(0.5) {
		u.ResidualError = model.Dist{Law: model.Normal, A: 0, B: in(0.1, 8), Signed: true}
	}
	storage := func(run float64) model.Storage {
		// Large enough for the interlock to stop the line: a scenario must be.
		c := in(1.7, 4)*v*v/(2*l.Process.Decel) + in(2, 30*v)
		s := model.Storage{Capacity: c, RunLevel: run * c, Reserve: in(0, 0.1) * c}
		if run > 0.5 {
			s.RestartLevel = s.RunLevel * in(0.1, 1)
			s.SlowLevel = s.RunLevel * in(0.2, 0.99)
		} else {
			s.RestartLevel = s.RunLevel + (c-s.RunLevel)*in(0.05, 0.9)
			s.SlowLevel = s.RunLevel + (c-s.RunLevel)*in(0.05, 0.9)
		}
		s.Slow, s.SlowSpeed = chance(0.3), v*in(0.1, 0.9)
		return s
	}
	u.Storage = storage(in(0.7, 1))
	w := &l.Rewind
	*w = model.Rewind{Change: []model.ChangeKind{model.Manual, model.ZeroSpeed, model.Flying, model.None}[r.IntN(4)],
		Roll: model.RollSize{Length: vary(in(40, 2*roll))}, Trigger: []model.Trigger{model.ByLength, model.BySplice, model.ByLengthOrSplice}[r.IntN(3)],
		Overrun: in(0, 60), MaxSplices: r.IntN(4) - 1, ChangeTime: vary(in(5, 200)), CallAhead: in(0, 60), Doff: vary(in(1, 100)), LoadCore: vary(in(1, 100)),
		Dwell: vary(in(0.2, 10)), Decel: l.Process.Decel * in(0.2, 3), Accel: l.Process.Accel * in(0.2, 3), MaxSpeed: v * in(1.02, 2),
		TransferSuccess: 1 - in(0, 0.1), Recover: vary(in(10, 200)), Storage: storage(in(0, 0.3))}
	if chance(0.5) {
		w.TransferScrap, w.MinLength, w.Pack = vary(in(0.1, 10)), in(0, 100), vary(in(5, 100))
	}
	if chance(0.3) {
		u.LateChange, w.LateChange = vary(in(1, 30)), vary(in(1, 30))
	}
	if chance(0.6) || u.Change == model.Flying || u.SpliceBreaks > 0 {
		l.WebBreaks = &model.WebBreaks{MeanLength: in(500, 30000), AtSpeed: v * in(0.5, 2), Exponent: in(0, 3), Repair: vary(in(30, 600)), Scrap: vary(in(0, 50))}
		if chance(0.2) {
			l.WebBreaks.MeanLength = math.Inf(1)
		}
	}
	for i := range r.IntN(3) {
		l.Stops = append(l.Stops, model.Stop{Name: string(rune('a' + i)), Every: vary(in(300, 8000)), Calendar: chance(0.4),
			Repair: vary(in(10, 500)), NeedsOperator: chance(0.6), Scrap: vary(in(0, 20))})
	}
	if chance(0.4) {
		l.Jobs = &model.Jobs{Length: vary(in(100, 6000)), Changeover: vary(in(60, 1500)), Scrap: vary(in(0, 100)), NewParentRoll: chance(0.5)}
	}
	if chance(0.3) {
		l.Crew.Lines = 1 + r.IntN(3)
	}
	if chance(0.3) {
		l.Crew.Duties = append(l.Crew.Duties, model.Duty{Name: "check", Every: vary(in(600, 4000)), Takes: vary(in(30, 300))})
	}
	if chance(0.2) && w.Change != model.None {
		l.Crew.Duties = append(l.Crew.Duties, model.Duty{Name: "label", PerRoll: 1 + r.IntN(3), Takes: vary(in(5, 60))})
	}
	if chance(0.4) {
		l.Crew.Breaks = append(l.Crew.Breaks, model.Break{At: in(0, 3) * 3600, For: in(5, 40) * 60, Cover: chance(0.5)})
		l.Crew.Breaks = append(l.Crew.Breaks, model.Break{At: in(4, 7) * 3600, For: in(5, 40) * 60, Cover: chance(0.5)})
	}
	if chance(0.4) && w.Change.Ahead() {
		w.LateSpeed = v * in(0.1, 0.9)
	}
	return l
}
