package words

import (
	"math"
	"strings"

	"rollchange/model"
	"rollchange/sim/estimate"
	"rollchange/sim/metric"
	"rollchange/sim/replicate"
)

// LawName is a law as it is called in a sentence.
func LawName(law model.Law) string {
	if law == model.Weibull {
		return "Weibull"
	}
	return string(law)
}

// MadeOf says what a chance is made of: "long dwell 3 %, failed splice 97 %".
func MadeOf(name string, r replicate.Result) string {
	all := r.Metrics[name].Mean
	words := [][2]string{{"dwell", "long dwell"}, {"not_ready", "next roll late"}, {"failed", "failed splice"}, {"refill", "storage not yet refilled"}}
	if name == metric.Overfill {
		words = [][2]string{{"dwell", "long dwell"}, {"not_ready", "next core late"}, {"failed", "failed transfer"}, {"refill", "storage not yet drawn down"}}
	}
	var parts []string
	for _, w := range words {
		if x := r.Metrics[name+"."+w[0]].Mean; x > 0 {
			parts = append(parts, w[1]+" "+Chance(x/all))
		}
	}
	return strings.Join(parts, ", ")
}

// Chance writes a chance in percent.
func Chance(p float64) string {
	switch {
	case p == 0:
		return "0 %"
	case p < 1e-12: // whatever the tail of a distribution says
		return "below 1e-10 %"
	case p >= 0.9995:
		return "100 %"
	case p < 1e-5:
		return smallChance(p, 2)
	}
	return Short(100*p, 3) + " %"
}

// smallChance is a chance that few zeros can show in percent, to n digits: "0.00017 %",
// "1.7e-8 %".
func smallChance(p float64, n int) string {
	if p < 0.999e-7 {
		return power(100*p, n) + " %"
	}
	return digits(100*p, n) + " %"
}

// ChanceFigure is the estimate of a chance.
func ChanceFigure(e estimate.Estimate) string {
	switch {
	case e.Mean >= 1e-5 || e.Mean == 0:
		u := model.Display(model.Share, model.Metric)
		return Figure(e, u) + " " + u.Name
	case !math.IsNaN(e.HalfWidth):
		return smallChance(e.Mean, 3) + " ± " + Short(100*e.HalfWidth/e.Mean, 2) + " % of it"
	case e.Known() && e.High < leastPlain:
		if mean, limits := between(100*e.Mean, 100*e.Low, 100*e.High, "–"); limits != "" {
			return mean + " (" + limits + ") %"
		}
		return smallChance(e.Mean, 3)
	case e.Known():
		return smallChance(e.Mean, 3) + " (" + Chance(e.Low) + "–" + Chance(e.High) + ")"
	}
	return smallChance(e.Mean, 3) + " ± n/a"
}

// IntervalFigure is a mean time between depletions, in hours.
func IntervalFigure(e estimate.Estimate) string {
	h := model.Unit{Name: "h", SI: 3600}
	text := func(x float64) string {
		if math.IsInf(x, 1) {
			return "never"
		}
		return digits(h.From(x), 3)
	}
	switch {
	case math.IsInf(e.Mean, 1):
		return "more than " + text(e.Low) + " h"
	case e.Known() && Finite(e.High):
		mean, limits := between(h.From(e.Mean), h.From(e.Low), h.From(e.High), "–")
		if limits != "" {
			limits = " (" + limits + ")"
		}
		return mean + limits + " h"
	case e.Known():
		return text(e.Mean) + " (" + text(e.Low) + "–" + text(e.High) + ") h"
	}
	return text(e.Mean) + " h"
}

// InYears says how many years of running a time is; "" where it is short or has no end.
func InYears(seconds, year float64) string {
	of := " years of running"
	if year == 0 {
		year, of = 365*86400, " calendar years"
	}
	if seconds < 0.01*year || math.IsInf(seconds, 1) {
		return ""
	}
	return digits(seconds/year, 3) + of
}

// NoneSeen tells of a share of the changes of which none was seen: out of how
// many, and the share that is ruled out.
func NoneSeen(name string, r replicate.Result, run replicate.RunInfo) (value, bound string) {
	n := changesSeen(name, r, run)
	if n < 1 {
		return "none seen", ""
	}
	bound = ""
	if high := r.Metrics[name].High; high > 0 {
		bound = "below " + Chance(high)
	}
	return NoneIn + " " + Grouped(n), bound
}

// NoneIn begins what NoneSeen tells of.
const NoneIn = "none in"

// changesSeen is how many splices or transfers a share is counted in.
func changesSeen(name string, r replicate.Result, run replicate.RunInfo) float64 {
	return math.Round(r.Metrics[metric.ChangesOf(name)].Mean * (run.Horizon - run.WarmUp) * float64(run.Replications))
}
