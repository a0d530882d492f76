package random

import (
	"errors"
	"fmt"
	"math"
	"strings"

	"rollchange/model"
	"rollchange/scenarios"
)

// ErrDear says that a scenario is valid but has more events than a test has
// time for.
var ErrDear = errors.New("more events than a test has time for")

// MostEvents is about how many events a drawn scenario may have.
const MostEvents = 30e3

// Draw draws the scenario of a seed and reads it. What is refused is given, when
// it is missing, drawn anew twice, then dropped; so values up to the very limit
// of what check accepts remain. The error is that of scenarios.Parse when no
// valid scenario was found, or ErrDear.
func Draw(seed uint64) (*Scenario, *scenarios.Scenario, error) {
	d := newDrawer(seed)
	d.all()
	for round := 0; ; round++ {
		s := d.scenario()
		parsed, err := s.Parse()
		var wrong *scenarios.Errors
		switch {
		case err == nil && Events(&parsed.Study) <= MostEvents:
			return s, parsed, nil
		case round == 15:
			if err == nil {
				err = ErrDear
			}
			return s, nil, err
		case err == nil:
			d.cheaper(round)
		case !errors.As(err, &wrong):
			return s, nil, err
		default:
			for _, p := range wrong.Problems {
				if strings.Contains(p.What, " (product ") {
					d.mendProducts(p.Key)
				} else {
					d.mend(p.Key)
				}
			}
		}
	}
}

// mend does something about a key that is refused.
func (d *drawer) mend(key string) {
	if d.mendMoney(key) {
		return
	}
	overlays := false
	for i := range d.mood.heirs {
		if path := fmt.Sprintf("alternative[%d].%s", i, key); d.given[path] {
			delete(d.given, path)
			overlays = true
		}
	}
	switch {
	case overlays:
	case strings.HasSuffix(key, ".storage.restart_level") && !d.given[key[:strings.IndexByte(key, '.')]+".recover"]:
		d.given[key[:strings.IndexByte(key, '.')]+".recover"] = true // what mends a web that breaks at the end of the storage
	case row(key) == nil:
	case !d.given[key]:
		d.given[key] = true
		d.forget(key)
	default:
		d.again(key)
		switch n := d.tries[key]; {
		case n%5 == 0:
			delete(d.given, key)
		case n%3 == 0 && key == "run.horizon":
			d.calmer()
		case n%3 == 0: // what it is measured against stands beside it, as a rule
			for path := range d.given {
				if table(path) == table(key) && path != key {
					d.again(path)
				}
			}
		}
	}
}

// mendProducts does something about a key that is refused for a product: what it has
// of its own of the key, then of the speed and ramps of the line, is dropped.
func (d *drawer) mendProducts(key string) {
	d.tries["product "+key]++
	for _, of := range []func(own string) bool{
		func(own string) bool { return own == key },
		func(own string) bool { return table(own) == "line." },
		func(own string) bool { return table(own) == table(key) },
		func(string) bool { return true },
	} {
		found := false
		for path := range d.given {
			if own, yes := ownOf(path); yes && of(own) {
				delete(d.given, path)
				found = true
			}
		}
		if found {
			return
		}
	}
	d.mend(key)
}

func table(path string) string { return path[:strings.LastIndexByte(path, '.')+1] }

// again draws a key anew, and what hangs on it.
func (d *drawer) again(key string) {
	d.tries[key]++
	d.forget(key)
}

func (d *drawer) forget(key string) {
	if _, ok := d.drawn[key]; !ok {
		return
	}
	delete(d.drawn, key)
	heirs := d.heirs[key]
	delete(d.heirs, key)
	for _, heir := range heirs {
		d.forget(heir)
	}
}

// cheaper makes a scenario with too many events shorter, then calmer.
func (d *drawer) cheaper(round int) {
	d.mood.rolls = max(1, d.mood.rolls/3)
	d.given["run.horizon"] = true
	d.forget("run.horizon")
	if round > 1 {
		d.given["run.replications"] = true
	}
	if round > 4 {
		d.calmer()
	}
}

// calmer draws anew what decides how often things happen.
func (d *drawer) calmer() {
	for path := range d.given {
		if h, _ := hookOf(path); h.steady && path != "run.horizon" {
			d.again(path)
		}
	}
}

// Events is about how many events the replications of a study have.
func Events(study *model.Study) float64 {
	sum := 0.0
	for i := range study.Alternatives {
		l := &study.Alternatives[i].Line
		most := events(l, study.Run.Horizon)
		order := 0.0 // m, in the mean
		for k := range l.Products {
			p := &l.Products[k]
			most = max(most, events(p.Line, study.Run.Horizon))
			order += p.Share * p.OrderLength.Mean()
		}
		if o := l.Orders; o != nil && len(o.List) > 0 && !o.Repeat {
			most += 20 * float64(len(o.List))
		} else if o != nil {
			for _, x := range o.List {
				order += x.Length / float64(len(o.List))
			}
			speed := 0.0
			for k := range l.Products {
				speed = max(speed, l.Products[k].Line.Process.Speed)
			}
			if order > 0 {
				most += 20 * speed * study.Run.Horizon / order
			}
		}
		sum += most * float64(l.Crew.Lines)
	}
	runs := float64(study.Run.Replications)
	if study.Run.WarmUpAuto {
		runs += 5
	}
	return sum * runs
}

// events is about how many events a line has that makes one product.
func events(l *model.Line, h float64) float64 {
	web := l.Process.Speed * h
	events := 20 * web / l.Unwind.Roll.Mean(l.Web)
	if l.Rewind.Change != model.None {
		events += (20 + 2*float64(l.Rewind.LaneCount()-1)) * web / l.Rewind.Roll.Mean(l.Web)
	}
	if b := l.WebBreaks; b != nil {
		events += 8 * web / b.MeanLength * math.Pow(l.Process.Speed/b.AtSpeed, b.Exponent)
	}
	for _, s := range l.Stops {
		events += 6 * h / s.Every.Mean()
	}
	for _, x := range l.Crew.Duties {
		if x.PerRoll == 0 {
			events += 3 * h / x.Every.Mean()
		}
	}
	if l.Jobs != nil {
		events += 8 * web / l.Jobs.Length.Mean()
	}
	return events + 2*float64(len(l.Crew.Breaks))*h/l.Crew.Shift
}
