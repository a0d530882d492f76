package out

import (
	"fmt"
	"math"
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
	best := 0
	for i, r := range rs.Alternatives {
		if r.Metrics["good_rate"].Mean > rs.Alternatives[best].Metrics["good_rate"].Mean {
			best = i
		}
	}
	first := rs.Alternatives[0]
	u := model.Display(model.Speed, sys)
	shownBest := best > 0 && rs.Differences[best]["good_rate"].Shown()
	if !shownBest {
		s := fmt.Sprintf("None is shown to make more good web than %q.", safe(first.Alternative))
		if worse := shownWorse(rs); len(worse) > 0 {
			s += " Shown to make less: " + strings.Join(worse, ", ") + "."
		}
		return []string{s}
	}
	d := rs.Differences[best]["good_rate"]
	share := 100 * d.Mean / first.Metrics["good_rate"].Mean
	text := []string{fmt.Sprintf("%q makes the most good web: %s %s more than %q (%+.1f %%), at %g %% confidence.",
		safe(rs.Alternatives[best].Alternative), figure(d, u), u.Name, safe(first.Alternative), share, 100*rs.Run.Confidence)}
	if s := reasons(rs, best); s != "" {
		text = append(text, s)
	}
	if same := notShown(rs, best, sys); same != "" {
		text = append(text, same)
	}
	return text
}

// reasons says which stopped time and waste change most.
func reasons(rs *sim.Results, i int) string {
	type change struct {
		name string
		d    sim.Estimate
	}
	var time, waste change
	for name, d := range rs.Differences[i] {
		// A hold that only one of the two kinds of change has is compared as it stands.
		if strings.HasPrefix(name, "time.stopped.") && d.Shown() && bigger(d, time.d, name, time.name) {
			time = change{name, d}
		}
		if strings.HasPrefix(name, "waste.") && name != "waste.total" && d.Shown() && bigger(d, waste.d, name, waste.name) {
			waste = change{name, d}
		}
	}
	for _, name := range rs.Alternatives[0].Names {
		if _, both := rs.Alternatives[i].Metrics[name]; both || !strings.HasPrefix(name, "time.stopped.") {
			continue
		}
		d := rs.Alternatives[0].Metrics[name]
		d.Mean = -d.Mean
		if bigger(d, time.d, name, time.name) {
			time = change{name, d}
		}
	}
	var parts []string
	if time.name != "" {
		parts = append(parts, fmt.Sprintf("time stopped for %s %s by %s points of the hours", holdLabel(strings.TrimPrefix(time.name, "time.stopped.")), falls(time.d.Mean), percentPoints(time.d)))
	}
	if waste.name != "" {
		parts = append(parts, fmt.Sprintf("web lost to %s %s by %s points of the web supplied", strings.TrimPrefix(labelOf(waste.name).text, "scrap: "), falls(waste.d.Mean), percentPoints(waste.d)))
	}
	if len(parts) == 0 {
		return ""
	}
	return "The largest changes: " + strings.Join(parts, "; ") + "."
}

// bigger orders changes by size, then by name, so that the words are the same each time.
func bigger(a, b sim.Estimate, an, bn string) bool {
	if x, y := math.Abs(a.Mean), math.Abs(b.Mean); x != y {
		return x > y
	}
	return a.Mean != 0 && (bn == "" || an < bn)
}

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
			same = append(same, fmt.Sprintf("good web of %q", safe(rs.Alternatives[i].Alternative)))
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
			names = append(names, fmt.Sprintf("%q", safe(rs.Alternatives[i].Alternative)))
		}
	}
	return names
}
