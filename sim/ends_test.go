package sim_test

import (
	"context"
	"math"
	"slices"
	"strings"
	"time"

	"rollchange/model"
	"rollchange/scenarios/random"
	"rollchange/sim"
	"rollchange/sim/estimate"
	"rollchange/sim/replicate"
)

// laws in the order in which they are tried on a line. All but the first look at
// lines of which the first holds.
var laws = []law{
	{"ends", 1, endsWell},
	{"goes on", 2, goesOn},
	{"orders", 1, ordersHold},
	{"a product nobody orders", 8, neverOrdered},
	{"products spelled out", 8, spelledOut},
	{"one product is jobs", 4, oneProductIsJobs},
	{"workers on a list", 16, ordersForWorkers},
	{"units", 8, sameInUnits},
	{"times doubled", 8, sameInTime},
	{"lengths doubled", 8, sameInLength},
	{"planned ahead", 2, samePlanned},
	{"what never comes", 16, neverComes},
	{"workers", 64, sameForWorkers},
	{"alternatives", 32, sameBesideOthers},
	{"order of tables", 8, sameInOrder},
	{"horizon", 16, prefixOf},
	{"tiny warm-up", 8, sameWithTinyWarmUp},
	{"trim", 4, trimAlone},
	{"side of the splice", 4, otherSide},
	{"known means", 32, addsUpWithControls},
}

// studyOf reads a scenario; nil when it is none, or one that takes longer than a
// test has time for: nothing to try a law on.
func studyOf(s *random.Scenario) *model.Study {
	parsed, err := s.Parse()
	if err != nil || !(random.Events(&parsed.Study) <= 2*random.MostEvents) {
		return nil
	}
	return &parsed.Study
}

// simulate runs a study within a time that no line of its size needs.
func simulate(study *model.Study, opt replicate.Options) (*replicate.Results, error) {
	ctx, cancel := context.WithTimeout(context.Background(), time.Minute)
	defer cancel()
	return replicate.Simulate(ctx, study, opt)
}

// tried is what the lines that ended came to.
var tried figures

// endsWell: a line that check accepts runs to its horizon, its books balance,
// and what it came to can be.
func endsWell(s *random.Scenario) error {
	study := studyOf(s)
	if study == nil {
		return nil
	}
	r, err := simulate(study, replicate.Options{Workers: 1, Watch: newWatcher(study).look})
	if err != nil {
		return err
	}
	tried.note(study, r)
	for i := range r.Alternatives {
		if err := possible(study, &study.Alternatives[i].Line, &r.Alternatives[i]); err != nil {
			return err
		}
	}
	return nil
}

// goesOn: no line stands for ever while its crew has nothing to do.
func goesOn(s *random.Scenario) error {
	study := studyOf(s)
	if study == nil {
		return nil
	}
	for i := range study.Alternatives {
		stands, err := sim.StandsForEver(&study.Alternatives[i].Line, sim.Replication{Seed: study.Run.Seed, Horizon: study.Run.Horizon})
		if err == nil && stands {
			return breaks("a line stands for ever", "by %g s", study.Run.Horizon)
		}
	}
	return nil
}

// addsUpWithControls: figures that the known means of the draws narrow can be, and add up,
// as they do without. Lines are drawn with one replication or two, too few for that.
func addsUpWithControls(s *random.Scenario) error {
	s = s.With(map[string]random.Value{"run.replications": {Word: "12"}})
	study := studyOf(s)
	if study == nil {
		return nil
	}
	r, err := simulate(study, replicate.Options{Workers: 1})
	if err != nil {
		return err
	}
	for i := range r.Alternatives {
		if err := possible(study, &study.Alternatives[i].Line, &r.Alternatives[i]); err != nil {
			return err
		}
	}
	return nil
}

// possible says whether the results of one alternative can be.
func possible(study *model.Study, l *model.Line, r *replicate.Result) error {
	const near = 1e-9
	mean := func(name string) float64 { return r.Metrics[name].Mean }
	for _, name := range r.Names {
		x := r.Metrics[name].Mean
		switch {
		case math.IsInf(x, 1) && strings.HasSuffix(name, "_interval"): // none came true: it is longer than its low end
		case math.IsNaN(x) || math.IsInf(x, 0):
			return breaks(name+" is not a number", "%g", x)
		case x < -near && !signed(name):
			return breaks(name+" is negative", "%g", x)
		case r.Metrics[name].Unit == "1" && x > 1+near:
			return breaks(name+" is above 1", "%g", x)
		}
	}
	for _, name := range r.Names {
		if e := r.Metrics[name]; !hasLimits(e) {
			return breaks("no limits, or such as leave the figure out, of "+name, "%+v", e)
		}
	}
	sum := func(prefix, but string) float64 {
		total := 0.0
		for _, name := range r.Names {
			if strings.HasPrefix(name, prefix) && name != but {
				total += mean(name)
			}
		}
		return total
	}
	if d := mean("time.running") + mean("time.ramping") + mean("time.slowed") + mean("time.stopped"); math.Abs(d-1) > near {
		return breaks("shares of time do not add up to 1", "%.12g", d)
	}
	if d := sum("time.stopped.", ""); math.Abs(d-mean("time.stopped")) > near {
		return breaks("stopped time by cause does not add up", "%.12g in place of %.12g", d, mean("time.stopped"))
	}
	if d := sum("waste.", "waste.total"); math.Abs(d-mean("waste.total")) > near {
		return breaks("waste by cause does not add up", "%.12g in place of %.12g", d, mean("waste.total"))
	}
	if x, most := mean("processed_rate"), topSpeed(l)*float64(l.Crew.Lines); x > most*(1+near) {
		return breaks("more is processed than the speed allows", "%g of %g m/s", x, most)
	}
	if mean("good_rate") > mean("processed_rate")*(1+near) {
		return breaks("more is good than was processed", "%g of %g m/s", mean("good_rate"), mean("processed_rate"))
	}
	if err := areasAddUp(study, l, r); err != nil {
		return err
	}
	// OEE, ISO 22400-2: a product in each replication and line, so of the means
	// only where there is one of both.
	if d := mean("availability")*mean("performance")*mean("quality") - mean("oee"); l.Crew.Lines == 1 && study.Run.Replications == 1 && math.Abs(d) > near {
		return breaks("OEE is not the product of its parts", "%g", d)
	}
	if x := mean("unwind_storage.lowest"); x > l.Unwind.Storage.Capacity*(1+near) {
		return breaks("unwind_storage.lowest is above the capacity", "%g m", x)
	}
	if x := mean("rewind_storage.highest"); x > l.Rewind.Storage.Capacity*(1+near) {
		return breaks("rewind_storage.highest is above the capacity", "%g m", x)
	}
	// The interlock stops the line in time, unless it may start again with less
	// than it needs to stop (design 8), a roll runs out while the storage has less, or a change begins while it
	// still rises from there: the interlock looks at a content that falls.
	for i, name := range []string{"unwind_storage.empty", "rewind_storage.full"} {
		if x := mean(name); x > 0 && !slices.ContainsFunc(asRun(l), func(p *model.Line) bool { return startsLow(p, i) }) && mean([2]string{"splice", "transfer"}[i]+".not_refilled") == 0 && !(i == 0 && mean("splice.run_out") > 0) {
			return breaks(name+" although the interlock stops the line in time", "%g", x)
		}
	}
	return balanced(study, l, r)
}

// hasLimits says whether the limits of a figure are about it, and whether it is
// said why there is no half width.
func hasLimits(e estimate.Estimate) bool {
	near := 1e-9 * math.Abs(e.Mean)
	return !(e.Low > e.Mean+near) && !(e.High < e.Mean-near) && !(e.HalfWidth < 0) && (math.IsNaN(e.HalfWidth) == (e.Why != estimate.Symmetric))
}

// signed lists what may be below 0.
func signed(name string) bool { return false }

// balanced says whether every metre and every second is accounted for.
func balanced(study *model.Study, l *model.Line, r *replicate.Result) error {
	h := study.Run.Horizon
	if !(r.Balance.Metres <= near(2*topSpeed(l)*h, l.Unwind.Storage.Capacity, l.Rewind.Storage.Capacity)) || !(r.Balance.Seconds <= near(h)) {
		return breaks("the books do not balance", "%g m, %g s", r.Balance.Metres, r.Balance.Seconds)
	}
	return nil
}
