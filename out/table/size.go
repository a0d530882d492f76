package table

import (
	"fmt"
	"io"
	"math"
	"slices"
	"strconv"
	"strings"

	"rollchange/model"
	"rollchange/model/legible"
	"rollchange/out/words"
	"rollchange/sim"
	"rollchange/sim/metric"
	"rollchange/sim/whatif"
)

// quantityText is a value for people in the unit of its dimension.
func quantityText(x float64, d model.Dimension, sys model.System) string {
	switch {
	case math.IsNaN(x):
		return "–"
	case math.IsInf(x, 1):
		return "no end"
	case d == model.Number:
		return strconv.FormatFloat(x, 'f', -1, 64)
	}
	u := model.Display(d, sys)
	v := u.From(x)
	digits := max(0, 3-int(math.Floor(math.Log10(math.Max(1e-9, math.Abs(v))))))
	return strconv.FormatFloat(v, 'f', min(digits, 6), 64) + " " + u.Name
}

// Answer writes the answer to a sizing question for people: the value with
// its interval, what binds, the closed form beside it, and the evidence.
func Answer(w io.Writer, about words.About, a *whatif.Answer, run sim.RunInfo, sys model.System, color bool) error {
	var b strings.Builder
	title := about.TitleOf(a.Alternative, false)
	fmt.Fprintf(&b, "%s\n%s\n\n", bold(words.Shorten(title, 100), color), wrap(words.Head(run), 100))
	fmt.Fprintln(&b, bold(wrap(answerSentence(a, sys), 96), color))
	if a.Kind != "residual" && !math.IsNaN(a.Now) {
		fmt.Fprintf(&b, "The scenario has %s.\n", quantityText(a.Now, a.Dim, sys))
	}
	for _, n := range a.Notes {
		fmt.Fprintln(&b, wrap(upperFirst(words.Keyless(n))+".", 96))
	}
	if a.Most != nil {
		fmt.Fprintln(&b, wrap(mostSentence(a, sys), 96))
	}
	nextTable(&b, a, sys)
	formBlock(&b, a, sys)
	strandTable(&b, a, sys)
	evidenceTable(&b, a, sys)
	_, err := io.WriteString(w, b.String())
	return err
}

func upperFirst(s string) string {
	if s == "" {
		return s
	}
	return strings.ToUpper(s[:1]) + s[1:]
}

func answerSentence(a *whatif.Answer, sys model.System) string {
	value := quantityText(a.Value, a.Dim, sys)
	if !a.Met {
		lead := "Not met"
		if a.Short != nil {
			lead = "Not shown to be met"
		}
		return fmt.Sprintf("%s: %s. %s.", lead, a.Target, upperFirst(words.Keyless(a.Why)))
	}
	between := ""
	if low, high := quantityText(a.Low, a.Dim, sys), quantityText(a.High, a.Dim, sys); low != high && a.High-a.Low > 1e-3*a.Value {
		between = fmt.Sprintf(" (%s to %s)", strings.TrimSuffix(low, " "+model.Display(a.Dim, sys).Name), high)
	}
	what := map[string]string{"storage": "Smallest " + a.Of, "speed": "Fastest line speed", "residual": "Best residual", "crew": "Fewest operators"}[a.Kind]
	if a.Of == "lines" {
		what = "Most lines"
	}
	s := fmt.Sprintf("%s: %s%s. Target: %s.", what, value, between, a.Target)
	if a.LimitedBy != "" {
		s += fmt.Sprintf(" What binds: %s.", words.Keyless(a.LimitedBy))
	}
	return s
}

func mostSentence(a *whatif.Answer, sys model.System) string {
	e := a.Most.Metrics[metric.GoodRate]
	u := words.ShownUnit("m/s", e.Mean, sys)
	s := fmt.Sprintf("Most good web is made at about %s: %s %s.", quantityText(a.Most.X, a.Dim, sys), words.Figure(e, u), u.Name)
	for _, t := range a.Evidence {
		if t.X == a.Now && t.Possible {
			now := t.Metrics[metric.GoodRate]
			s += fmt.Sprintf(" At the present %s it is %s %s.", quantityText(a.Now, a.Dim, sys), words.Figure(now, u), u.Name)
		}
	}
	return s
}

// nextTable lists the limits in the order in which they bind, and apart from them
// those that no speed that was tried reaches.
func nextTable(b *strings.Builder, a *whatif.Answer, sys model.System) {
	var free []string
	head := "\nWhat binds, in order"
	for _, x := range a.Next {
		limit := ""
		if x.Metric != "" {
			limit = " (" + boundText(x.Bound) + " at most)"
		}
		from := "above " + quantityText(x.Value, a.Dim, sys)
		switch {
		case x.Never:
			from = "at every speed"
		case math.IsNaN(x.Value):
			free = append(free, words.Keyless(legible.Line(x.Words))+limit)
			continue
		}
		if head != "" {
			fmt.Fprintln(b, head)
			head = ""
		}
		lines := strings.Split(wrap(words.Keyless(legible.Line(x.Words))+limit, 70), "\n")
		fmt.Fprintf(b, "  %s %s\n", pad(from, 22), lines[0])
		for _, l := range lines[1:] {
			fmt.Fprintf(b, "  %s %s\n", pad("", 22), l)
		}
	}
	if len(free) > 0 {
		fmt.Fprintln(b, wrap("Never binds at any speed tried: "+strings.Join(free, "; ")+".", 96))
	}
}

// boundText is the most that a metric may be.
func boundText(x whatif.Bound) string {
	if x.Rate {
		return x.Asked
	}
	return words.Chance(x.Most)
}

func formBlock(b *strings.Builder, a *whatif.Answer, sys model.System) {
	f := a.ClosedForm
	if f == nil {
		return
	}
	fmt.Fprintf(b, "\nClosed form: %s\n", quantityText(f.Value, a.Dim, sys))
	for _, line := range strings.Split(wrap(f.Formula+"; valid if "+f.Assumptions, 94), "\n") {
		fmt.Fprintln(b, "  "+line)
	}
	if len(f.Other) > 0 {
		var parts []string
		for _, o := range f.Other {
			parts = append(parts, strings.ReplaceAll(o.Name, "weibull", "Weibull")+" "+quantityText(o.Value, a.Dim, sys))
		}
		lead := "by station"
		if a.Kind == "storage" {
			lead = "other distributions, same mean and sd"
		}
		fmt.Fprintf(b, "  %s: %s\n", lead, strings.Join(parts, ", "))
	}
}

func strandTable(b *strings.Builder, a *whatif.Answer, sys model.System) {
	if len(a.Strands) == 0 {
		return
	}
	fmt.Fprintf(b, "\n%s%s%s%s\n", padLeft("strands", 9), padLeft("carriage travel", 18), padLeft("carriage speed", 18), padLeft("tension added", 18))
	for _, x := range a.Strands {
		tension := "–"
		if !math.IsNaN(x.Tension) {
			tension = quantityText(x.Tension, model.Force, sys)
		}
		fmt.Fprintf(b, "%s%s%s%s\n", padLeft(strconv.Itoa(x.Strands), 9), padLeft(quantityText(x.Travel, model.Length, sys), 18),
			padLeft(quantityText(x.Speed, model.Speed, sys), 18), padLeft(tension, 18))
	}
}

// evidenceColumns are the metrics that the evidence of a question shows.
var evidenceColumns = map[string][]string{
	"storage":  {metric.Depletion, metric.DepletionNotFailed, metric.DepletionFailed, metric.DepletionInterval, metric.GoodRate},
	"speed":    {metric.GoodRate, metric.Depletion, metric.DepletionNotFailed, metric.Overfill, metric.OverfillNotFailed, metric.SpliceNotReady, metric.TransferNotReady, metric.CrewBusy},
	"residual": {metric.RunOut, metric.WasteResidual, metric.GoodRate},
	"crew":     {metric.GoodRate, metric.Waiting, metric.CrewBusy},
}

// mostEvidence is how many of the simulated values a table shows: those nearest
// to the answer. JSON has them all.
const mostEvidence = 7

func evidenceTable(b *strings.Builder, a *whatif.Answer, sys model.System) {
	list := slices.Clone(a.Evidence)
	slices.SortStableFunc(list, func(x, y whatif.Trial) int {
		if math.Abs(x.X-a.Value) < math.Abs(y.X-a.Value) {
			return -1
		}
		return 1
	})
	// Where a rare target took more replications, what took fewer is not mixed with it.
	most := 0
	for _, t := range list {
		most = max(most, t.Replications)
	}
	list = slices.DeleteFunc(list, func(t whatif.Trial) bool { return t.Possible && t.Replications < most })
	// Values that differ too little to be told apart say nothing more.
	var kept []whatif.Trial
	for _, t := range list {
		near := slices.ContainsFunc(kept, func(k whatif.Trial) bool { return math.Abs(k.X-t.X) < 2e-3*math.Abs(t.X) && k.X != t.X })
		if len(kept) < mostEvidence && (!near || t.X == a.Now) {
			kept = append(kept, t)
		}
	}
	slices.SortFunc(kept, func(x, y whatif.Trial) int {
		if x.X < y.X {
			return -1
		}
		return 1
	})
	var cols []string
	for _, name := range evidenceColumns[a.Kind] {
		if left(a, name) {
			continue
		}
		if a.Of == "rewind storage" {
			name = strings.Replace(name, metric.Depletion, metric.Overfill, 1)
		}
		for _, t := range kept {
			if e, ok := t.Metrics[name]; ok && e.Mean != 0 {
				cols = append(cols, name)
				break
			}
		}
	}
	fmt.Fprintf(b, "\nSimulated (%d values, the nearest shown)\n%s", len(a.Evidence), padLeft(a.Of, 16))
	for _, c := range cols {
		fmt.Fprint(b, padLeft(words.LabelOf(c).Short, 17))
	}
	fmt.Fprintln(b)
	for _, t := range kept {
		fmt.Fprint(b, padLeft(quantityText(t.X, a.Dim, sys), 16))
		if !t.Possible {
			fmt.Fprintln(b, "  not a possible line: "+words.Shorten(words.Keyless(legible.Line(t.Why)), 60))
			continue
		}
		for _, c := range cols {
			fmt.Fprint(b, padLeft(cellText(t.Metrics, c, sys), 17))
		}
		fmt.Fprintln(b)
	}
}

// left says whether a column is left out: the chance that the target is put on
// stands in the table, with what failed changes add beside it where they are not
// counted.
func left(a *whatif.Answer, name string) bool {
	metrics := []string{a.Metric}
	for _, x := range a.Next {
		metrics = append(metrics, x.Metric)
	}
	apart := slices.ContainsFunc(metrics, func(m string) bool { return strings.HasSuffix(m, ".not_failed") })
	switch {
	case name == metric.DepletionNotFailed, name == metric.DepletionFailed, name == metric.OverfillNotFailed:
		return !apart
	case name == metric.Depletion, name == metric.Overfill, name == metric.DepletionInterval:
		return apart
	}
	return false
}

func cellText(m sim.Metrics, name string, sys model.System) string {
	e, ok := m[name]
	of, _ := metric.Of(name)
	switch {
	case !ok:
		return "–"
	case of.Shown == metric.Every:
		return strconv.FormatFloat(e.Mean/3600, 'g', 3, 64) + " h"
	case e.Unit == "1" && e.Mean < 1e-5:
		return words.Chance(e.Mean)
	}
	u := words.ShownUnit(e.Unit, math.Abs(e.Mean), sys)
	return strconv.FormatFloat(u.From(e.Mean), 'g', 4, 64) + " " + u.Name
}
