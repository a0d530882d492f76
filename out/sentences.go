package out

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"rollchange/model"
	"rollchange/sim"
)

// Sentences says in two or three plain sentences what separates the
// alternatives: which makes most, where the difference comes from, and what is
// not shown to differ.
func Sentences(rs *sim.Results, sys model.System) []string {
	if len(rs.Alternatives) < 2 || rs.Run.Replications < 2 {
		return nil
	}
	best := 0 // of those that are shown to make more than the first
	for i, d := range rs.Differences {
		if e := d["good_rate"]; e.Shown() && e.Mean > 0 && e.Mean > rs.Differences[best]["good_rate"].Mean {
			best = i
		}
	}
	first := rs.Alternatives[0]
	u := model.Display(model.Speed, sys)
	if best == 0 {
		s := fmt.Sprintf("None is shown to make more good web than %s.", called(first))
		if worse := shownWorse(rs); len(worse) > 0 {
			s += " Shown to make less: " + strings.Join(worse, ", ") + "."
		}
		return []string{s}
	}
	d := rs.Differences[best]["good_rate"]
	share := ""
	if m := first.Metrics["good_rate"].Mean; m > 0 {
		share = fmt.Sprintf(" (%+.1f %%)", 100*d.Mean/m)
	}
	text := []string{fmt.Sprintf("%s makes the most good web: %s %s more than %s%s, at %g %% confidence.",
		called(rs.Alternatives[best]), figure(d, u), u.Name, called(first), share, 100*rs.Run.Confidence)}
	if rivals := rivals(rs, best); len(rivals) > 0 {
		text[0] += fmt.Sprintf(" Not shown to make less than it: %s; put one of them first to compare them.", strings.Join(rivals, ", "))
	}
	if s := reasons(rs, best); s != "" {
		text = append(text, s)
	}
	if same := notShown(rs, best, sys); same != "" {
		text = append(text, same)
	}
	return text
}

// called is the name of an alternative in a sentence.
func called(r sim.Result) string { return strconv.Quote(shorten(safe(r.Alternative), 40)) }

// rivals names the alternatives, but the first, that these differences cannot
// tell from the best. Both are known against the first only, so their half
// widths are added: no pairing can make the interval between them wider.
func rivals(rs *sim.Results, best int) []string {
	var names []string
	b := rs.Differences[best]["good_rate"]
	for i := 1; i < len(rs.Alternatives); i++ {
		d := rs.Differences[i]["good_rate"]
		if i != best && !(b.Mean-d.Mean > b.HalfWidth+d.HalfWidth) {
			names = append(names, called(rs.Alternatives[i]))
		}
	}
	return names
}

// reasons says which stopped time and waste change most.
func reasons(rs *sim.Results, i int) string {
	type change struct {
		name string
		d    sim.Estimate
	}
	var time, waste change
	for _, name := range comparedNames(rs) {
		d, ok := differenceOf(rs, i, name)
		switch {
		case !ok || !d.Shown():
		case strings.HasPrefix(name, "time.stopped.") && bigger(d, time.d):
			time = change{name, d}
		case strings.HasPrefix(name, "waste.") && name != "waste.total" && bigger(d, waste.d):
			waste = change{name, d}
		}
	}
	var parts []string
	if time.name != "" {
		parts = append(parts, fmt.Sprintf("time stopped for %s %s by %s points of the hours", shorten(holdLabel(strings.TrimPrefix(time.name, "time.stopped.")), 40), falls(time.d.Mean), percentPoints(time.d)))
	}
	if waste.name != "" {
		parts = append(parts, fmt.Sprintf("web lost to %s %s by %s points of the web supplied", strings.TrimPrefix(labelOf(waste.name).text, "scrap: "), falls(waste.d.Mean), percentPoints(waste.d)))
	}
	if len(parts) == 0 {
		return ""
	}
	return "The largest changes: " + strings.Join(parts, "; ") + "."
}

// bigger says whether change a is larger than b, either way.
func bigger(a, b sim.Estimate) bool { return math.Abs(a.Mean) > math.Abs(b.Mean) }

func falls(x float64) string {
	if x < 0 {
		return "falls"
	}
	return "rises"
}

func percentPoints(d sim.Estimate) string {
	d.Mean = math.Abs(d.Mean)
	return figure(d, model.Unit{SI: 0.01})
}

// notShown names the headline figures in which no difference is shown, and
// the alternatives that are not shown to differ in output.
func notShown(rs *sim.Results, best int, _ model.System) string {
	var same []string
	for _, name := range []string{"waste.total", "quality", "crew.utilisation"} {
		if d, ok := rs.Differences[best][name]; ok && !d.Shown() {
			same = append(same, labelOf(name).text)
		}
	}
	for i := 1; i < len(rs.Alternatives); i++ {
		if i != best && !rs.Differences[i]["good_rate"].Shown() {
			same = append(same, "good web of "+called(rs.Alternatives[i]))
		}
	}
	if len(same) == 0 {
		return ""
	}
	return fmt.Sprintf("No difference shown in: %s.", strings.Join(same, ", "))
}

// shownWorse names the alternatives that are shown to make less than the first.
func shownWorse(rs *sim.Results) []string {
	var names []string
	for i := 1; i < len(rs.Alternatives); i++ {
		if d := rs.Differences[i]["good_rate"]; d.Shown() && d.Mean < 0 {
			names = append(names, called(rs.Alternatives[i]))
		}
	}
	return names
}
