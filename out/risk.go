package out

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"rollchange/model"
	"rollchange/sim"
)

// isRiskPart says whether a metric is a part of the chance of depletion or
// overfill, or that chance under another law.
func isRiskPart(name string) bool {
	return strings.HasPrefix(name, "splice.depletion.") || strings.HasPrefix(name, "transfer.overfill.")
}

// riskRow is what the table says of a chance that the storage is used up. The
// parts of it stand in one row, after the whole.
func riskRow(name string, r sim.Result, run sim.RunInfo, about About) ([]row, bool) {
	e := r.Metrics[name]
	switch {
	case isRiskPart(name):
		return nil, false
	case strings.HasSuffix(name, "_counted"):
		if e.Mean == 0 {
			value, bound := noneSeen(name, r, run)
			return []row{{labelOf(name).text, value, bound}}, true
		}
		return []row{{labelOf(name).text, chance(e), ""}}, true
	case strings.HasSuffix(name, "_interval"):
		return []row{{labelOf(name).text, interval(e), inYears(e.Mean, about.Year)}}, true
	}
	rows := []row{{labelOf(name).text, chance(e), ""}}
	if parts := madeOf(name, r); parts != "" {
		rows = append(rows, row{"  of it " + parts, "", ""})
	}
	var tails []string
	differ := false
	for _, law := range model.TailLaws {
		if x, ok := r.Metrics[name+".if_"+string(law)]; ok {
			tails = append(tails, lawName(law)+" "+shareText(x.Mean))
			differ = differ || math.Abs(x.Mean-e.Mean) > 0.1*e.Mean
		}
	}
	if differ {
		rows = append(rows, row{"  were the dwell " + strings.Join(tails, ", "), "", ""})
	}
	return rows, true
}

// lawName is a law as it is called in a sentence.
func lawName(law model.Law) string {
	if law == model.Weibull {
		return "Weibull"
	}
	return string(law)
}

// madeOf says what a chance is made of: "the dwell alone 3 %, a failed splice 97 %".
func madeOf(name string, r sim.Result) string {
	all := r.Metrics[name].Mean
	words := [][2]string{{"dwell", "the dwell alone"}, {"not_ready", "the next roll late"}, {"failed", "a failed splice"}, {"refill", "not refilled before"}}
	if strings.HasPrefix(name, "transfer") {
		words = [][2]string{{"dwell", "the dwell alone"}, {"not_ready", "the next core late"}, {"failed", "a failed transfer"}, {"refill", "not drawn down before"}}
	}
	var parts []string
	for _, w := range words {
		if x := r.Metrics[name+"."+w[0]].Mean; x > 0 {
			parts = append(parts, w[1]+" "+shareText(x/all))
		}
	}
	return strings.Join(parts, ", ")
}

// shareText writes a chance: in percent, or as a power of ten when it is small.
func shareText(p float64) string {
	switch {
	case p == 0:
		return "0 %"
	case p < 1e-5:
		return strconv.FormatFloat(p, 'e', 1, 64)
	case p >= 0.9995:
		return "100 %"
	}
	return strconv.FormatFloat(100*p, 'g', 3, 64) + " %"
}

// chance is the estimate of a chance.
func chance(e sim.Estimate) string {
	switch {
	case e.Mean >= 1e-5 || e.Mean == 0:
		u := model.Display(model.Share, model.Metric)
		return figure(e, u) + " " + u.Name
	case !math.IsNaN(e.HalfWidth):
		return strconv.FormatFloat(e.Mean, 'e', 2, 64) + " ± " + strconv.FormatFloat(100*e.HalfWidth/e.Mean, 'g', 2, 64) + " % of it"
	case e.Known():
		return fmt.Sprintf("%.2e (%s–%s)", e.Mean, shareText(e.Low), shareText(e.High))
	}
	return strconv.FormatFloat(e.Mean, 'e', 2, 64) + " ± n/a"
}

// interval is a mean time between depletions, in hours.
func interval(e sim.Estimate) string {
	h := model.Unit{Name: "h", SI: 3600}
	text := func(x float64) string {
		if math.IsInf(x, 1) {
			return "never"
		}
		return strconv.FormatFloat(h.From(x), 'g', 3, 64)
	}
	switch {
	case math.IsInf(e.Mean, 1):
		return "more than " + text(e.Low) + " h"
	case e.Known():
		return text(e.Mean) + " (" + text(e.Low) + "–" + text(e.High) + ") h"
	}
	return text(e.Mean) + " h"
}

// inYears says how many years of running a time is.
func inYears(seconds, year float64) string {
	of := " years of running"
	if year == 0 {
		year, of = 365*86400, " calendar years"
	}
	if seconds < 0.01*year {
		return ""
	}
	return strconv.FormatFloat(seconds/year, 'g', 3, 64) + of
}

// noneSeen tells of a share of the changes of which none was seen: out of how
// many, and the share that is ruled out.
func noneSeen(name string, r sim.Result, run sim.RunInfo) (value, bound string) {
	n := changesSeen(name, r, run)
	if n < 1 {
		return "none seen", ""
	}
	bound = ""
	if high := r.Metrics[name].High; high > 0 {
		bound = "below " + shareText(high)
	}
	return fmt.Sprintf("none in %.0f", n), bound
}

// changesSeen is how many splices or transfers a share is counted in.
func changesSeen(name string, r sim.Result, run sim.RunInfo) float64 {
	kind, _, _ := strings.Cut(name, ".")
	return math.Round(r.Metrics[kind+"_rate"].Mean * (run.Horizon - run.WarmUp) * float64(run.Replications))
}
