package words

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"rollchange/model"
	"rollchange/model/legible"
	"rollchange/sim/estimate"
	"rollchange/sim/metric"
	"rollchange/sim/replicate"
)

// Sentences says in two or three plain sentences what separates the
// alternatives: which makes most, where the difference comes from, and what is
// not shown to differ. What is within its half width is never said to be more.
func Sentences(rs *replicate.Results, sys model.System) []string {
	if len(rs.Alternatives) < 2 || rs.Run.Replications < 2 {
		return nil
	}
	best := 0 // of those that are shown to make more than the first
	for i, d := range rs.Differences {
		if e := d[metric.GoodRate]; e.Shown() && e.Mean > 0 && e.Mean > rs.Differences[best][metric.GoodRate].Mean {
			best = i
		}
	}
	first := rs.Alternatives[0]
	if best == 0 {
		s := fmt.Sprintf("None is shown to make more good web than %s.", Called(first))
		if len(rs.Alternatives) == 2 {
			s = fmt.Sprintf("%s is not shown to make more good web than %s.", Called(rs.Alternatives[1]), Called(first))
		}
		if worse := shownWorse(rs); len(worse) > 0 {
			s += " These make less: " + strings.Join(worse, ", ") + "."
		}
		return []string{s}
	}
	text := []string{most(rs, best, sys)}
	if s := reasons(rs, best); s != "" {
		text = append(text, s)
	}
	if same := notShown(rs, best); same != "" {
		text = append(text, same)
	}
	return text
}

// most says how much more an alternative makes than the first, and that it
// makes most only where it is told from all others.
func most(rs *replicate.Results, best int, sys model.System) string {
	first, d, u := rs.Alternatives[0], rs.Differences[best][metric.GoodRate], model.Display(model.Speed, sys)
	share := ""
	if m := first.Metrics[metric.GoodRate].Mean; m > 0 {
		share = fmt.Sprintf(" (+%s %%)", number(100*d.Mean/m, 1))
	}
	name, more := Called(rs.Alternatives[best]), size(d, u)+" "+u.Name
	rivals := rivals(rs, best)
	switch {
	case len(rivals) > 0:
		return fmt.Sprintf("%s makes %s more good web than %s%s, at %g %% confidence; it is not shown to make more than %s.",
			name, more, Called(first), share, 100*rs.Run.Confidence, strings.Join(rivals, ", "))
	case len(rs.Alternatives) == 2:
		return fmt.Sprintf("%s makes %s more good web than %s%s, at %g %% confidence.", name, more, Called(first), share, 100*rs.Run.Confidence)
	}
	return fmt.Sprintf("%s makes the most good web: %s more than %s%s, at %g %% confidence.", name, more, Called(first), share, 100*rs.Run.Confidence)
}

// Called is the name of an alternative in a sentence.
func Called(r replicate.Result) string {
	return strconv.Quote(Shorten(legible.Line(r.Alternative), 40))
}

// rivals names the alternatives, but the first, that are not shown to make less
// than the best.
func rivals(rs *replicate.Results, best int) []string {
	var names []string
	for i := 1; i < len(rs.Alternatives); i++ {
		if i == best {
			continue
		}
		if d, half := apart(rs, best, i); !(d > half) {
			names = append(names, Called(rs.Alternatives[i]))
		}
	}
	return names
}

// apart is how much more good web alternative a makes than b, and the half
// width of that: from their covariance between replications where it is known.
// Else both are known against the first only, and their half widths are added:
// no pairing can make the interval between them wider.
func apart(rs *replicate.Results, a, b int) (d, half float64) {
	x, y := rs.Differences[a][metric.GoodRate], rs.Differences[b][metric.GoodRate]
	d, half = x.Mean-y.Mean, Reach(x)+Reach(y)
	if j := rs.Joint; j != nil && j.N > 1 {
		k := len(replicate.JointMetrics)
		i, l := a*k, b*k // good_rate is the first of them
		variance := max(0, j.Cov[i][i]+j.Cov[l][l]-2*j.Cov[i][l]) / float64(j.N)
		half = estimate.StudentT(0.5+rs.Run.Confidence/2, float64(j.N-1)) * math.Sqrt(variance)
	}
	return d, half
}

// change is how one metric differs from that of the first alternative.
type change struct {
	name string
	d    estimate.Estimate
}

// size is how large it is, either way.
func (c change) size() float64 { return math.Abs(c.d.Mean) }

// mostNamed is how many changes that are not told apart a sentence names.
const mostNamed = 3

// largest are the changes that are not shown to be smaller than the largest of
// them, the largest first; more says that there are others that are not named.
func largest(list []change) (named []change, more bool) {
	slices.SortStableFunc(list, func(a, b change) int {
		switch {
		case a.size() > b.size():
			return -1
		case a.size() < b.size():
			return 1
		}
		return 0
	})
	for _, c := range list {
		if top := list[0]; top.size()-c.size() > Reach(top.d)+Reach(c.d) {
			continue
		}
		if len(named) == mostNamed {
			return named, true
		}
		named = append(named, c)
	}
	return named, false
}

// reasons says which stopped time and which waste change most.
func reasons(rs *replicate.Results, i int) string {
	var time, waste []change
	for _, row := range Compare(rs, model.Metric).ForPeople() {
		d := row.Cells[i].Difference
		switch {
		case d == nil || !d.Shown():
		case row.Metric.Name == metric.StoppedBy:
			time = append(time, change{row.Name, *d})
		case row.IsPart() && row.Group == metric.WebGoes:
			waste = append(waste, change{row.Name, *d})
		}
	}
	var parts []string
	some := false
	tell := func(list []change, of, whole string, called func(string) string) {
		named, more := largest(list)
		var each []string
		for _, c := range named {
			each = append(each, fmt.Sprintf("%s %s by %s points of %s", called(c.name), falls(c.d.Mean), percentPoints(c.d), whole))
		}
		if len(each) > 0 {
			parts = append(parts, of+" "+strings.Join(each, ", and "))
		}
		some = some || more
	}
	tell(time, "stopped time for", "the hours", func(n string) string {
		return Shorten(HoldLabel(strings.TrimPrefix(n, metric.StoppedBy)), 40)
	})
	tell(waste, "waste from", "the web supplied", func(n string) string { return strings.TrimPrefix(LabelOf(n).Text, "scrap: ") })
	if len(parts) == 0 {
		return ""
	}
	head := "What changes most with"
	if some {
		head = "Among what changes most with"
	}
	return fmt.Sprintf("%s %s: %s.", head, Called(rs.Alternatives[i]), strings.Join(parts, "; "))
}

func falls(x float64) string {
	if x < 0 {
		return "falls"
	}
	return "rises"
}

func percentPoints(d estimate.Estimate) string { return size(d, model.Unit{SI: 0.01}) }

// notShown names the headline figures in which the best is not shown to differ
// from the first, and the alternatives that are not shown to differ in output.
func notShown(rs *replicate.Results, best int) string {
	first := Called(rs.Alternatives[0])
	var same, others []string
	for _, name := range []string{metric.Waste, metric.Quality, metric.CrewBusy} {
		if d, ok := rs.Differences[best][name]; ok && !d.Shown() {
			same = append(same, LabelOf(name).Text)
		}
	}
	for i := 1; i < len(rs.Alternatives); i++ {
		if i != best && !rs.Differences[i][metric.GoodRate].Shown() {
			others = append(others, Called(rs.Alternatives[i]))
		}
	}
	var text []string
	if len(same) > 0 {
		text = append(text, fmt.Sprintf("No difference between %s and %s is shown in: %s.", Called(rs.Alternatives[best]), first, strings.Join(same, ", ")))
	}
	if len(others) > 0 {
		text = append(text, fmt.Sprintf("No difference in good web from %s is shown for: %s.", first, strings.Join(others, ", ")))
	}
	return strings.Join(text, " ")
}

// shownWorse names the alternatives that are shown to make less than the first.
func shownWorse(rs *replicate.Results) []string {
	var names []string
	for i := 1; i < len(rs.Alternatives); i++ {
		if d := rs.Differences[i][metric.GoodRate]; d.Shown() && d.Mean < 0 {
			names = append(names, Called(rs.Alternatives[i]))
		}
	}
	return names
}
