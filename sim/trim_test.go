package sim_test

import (
	"math"
	"slices"
	"strings"

	"rollchange/model"
	"rollchange/scenarios/random"
	"rollchange/sim/replicate"
)

// areasAddUp: the area and the mass supplied are good, or waste of one class. Shares
// are of each line and replication, so of the means only where there is one of both.
func areasAddUp(study *model.Study, l *model.Line, r *replicate.Result) error {
	if l.Web.Width == 0 || l.Crew.Lines > 1 || study.Run.Replications > 1 {
		return nil
	}
	for i := range l.Products { // of several webs the areas are no longer those of one width
		if p := l.Products[i].Line; p.GoodWidth() != l.GoodWidth() || p.Web != l.Web {
			return nil
		}
	}
	mean := func(name string) float64 { return r.Metrics[name].Mean }
	left := 1 - mean("waste.residual")
	if left < 1e-6 {
		return nil
	}
	supplied := mean("processed_rate") / left * l.Web.Width // m2/s
	if d := mean("good_area_rate") + supplied*mean("waste.total") - supplied; math.Abs(d) > 1e-9*supplied/left {
		return breaks("good area and waste are not the area supplied", "%g of %g m2/s", d, supplied)
	}
	if d := mean("good_mass_rate") - l.Web.Grammage*mean("good_area_rate"); math.Abs(d) > 1e-12*mean("good_mass_rate") {
		return breaks("good mass is not that of the good area", "%g kg/s", d)
	}
	if _, has := r.Metrics["waste.trim"]; has != (l.Rewind.Trim > 0) {
		return breaks("trim is no waste of this line, or is not told", "%g m", l.Rewind.Trim)
	}
	return nil
}

// trimAlone: what is trimmed off moves areas, masses and the share of waste, and
// nothing else; nor does the number of lanes where nothing is done by the roll. Honest
// exception: lines with orders, whose products have theirs.
func trimAlone(s *random.Scenario) error {
	study := studyOf(s)
	if study == nil || hasOrders(s) {
		return nil
	}
	whole := *study
	whole.Alternatives = slices.Clone(study.Alternatives)
	for i := range whole.Alternatives {
		l := &whole.Alternatives[i].Line
		if l.Orders != nil { // lanes and trim are of each product: TestLanesOfProducts
			return nil
		}
		l.Rewind.Trim = 0
		if !l.Rewind.Pack.Given() && !slices.ContainsFunc(l.Crew.Duties, func(d model.Duty) bool { return d.PerRoll > 0 }) {
			l.Rewind.Lanes = 1
		}
	}
	a, err := simulate(study, replicate.Options{Workers: 1})
	if err != nil {
		return nil // the first law is about lines that do not end
	}
	b, err := simulate(&whole, replicate.Options{Workers: 1})
	if err != nil {
		return err
	}
	for i := range a.Alternatives {
		x, y := &a.Alternatives[i], &b.Alternatives[i]
		lanes := float64(study.Alternatives[i].Line.Rewind.LaneCount()) / float64(whole.Alternatives[i].Line.Rewind.LaneCount())
		for _, name := range y.Names {
			p, q := x.Metrics[name].Mean, y.Metrics[name].Mean
			switch {
			case strings.HasPrefix(name, "good_area") || strings.HasPrefix(name, "good_mass") || name == "waste.total":
				continue
			case name == "finished_roll_rate":
				q *= lanes
			}
			if p != q && !(math.IsNaN(p) && math.IsNaN(q)) && math.Abs(p-q) > 1e-9*math.Abs(q) {
				return breaks("trim or lanes move another figure", "%s: %.15g and %.15g", name, p, q)
			}
		}
	}
	return nil
}
