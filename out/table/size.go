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
	"rollchange/sim/metric"
	"rollchange/sim/replicate"
	"rollchange/sim/whatif"
)

// quantityText is a value for people in the unit of its dimension.
func quantityText(x float64, d model.Dimension, sys model.System) string {
	switch {
	case math.IsNaN(x):
		return "–"
	case math.IsInf(x, 1):
		return words.NoEnd
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
func Answer(w io.Writer, about words.About, a *whatif.Answer, run replicate.RunInfo, sys model.System, to Screen) error {
	var b strings.Builder
	title := about.TitleOf(a.Alternative, false)
	fmt.Fprintf(&b, "%s\n%s\n\n", to.title(title), to.prose(words.Head(run)))
	fmt.Fprintln(&b, to.head(answerSentence(a, sys)))
	if a.Kind != "residual" && !math.IsNaN(a.Now) {
		fmt.Fprintf(&b, words.ScenarioHas+"\n", quantityText(a.Now, a.Dim, sys))
	}
	for _, n := range a.Notes {
		fmt.Fprintln(&b, to.prose(upperFirst(words.Keyless(n))+"."))
	}
	if a.Most != nil {
		fmt.Fprintln(&b, to.prose(mostSentence(a, sys)))
	}
	nextTable(&b, a, sys, to)
	formBlock(&b, a, sys, to)
	strandTable(&b, a, sys, to)
	evidenceTable(&b, a, sys, to)
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
		lead := words.NotMet
		if a.Short != nil {
			lead = words.NotShownMet
		}
		return fmt.Sprintf(words.WhyNotSentence, lead, a.Target, upperFirst(words.Keyless(a.Why)))
	}
	between := ""
	if low, high := quantityText(a.Low, a.Dim, sys), quantityText(a.High, a.Dim, sys); low != high && a.High-a.Low > 1e-3*a.Value {
		between = fmt.Sprintf(words.SizeRange, strings.TrimSuffix(low, " "+model.Display(a.Dim, sys).Name), high)
	}
	what := map[string]string{"storage": fmt.Sprintf(words.SmallestOf, a.Of), "speed": words.FastestLine, "residual": words.BestResidual, "crew": words.FewestOperators}[a.Kind]
	if a.Of == "lines" {
		what = words.MostLines
	}
	s := fmt.Sprintf(words.SizeSentence, what, value, between, a.Target)
	if a.LimitedBy != "" {
		s += fmt.Sprintf(words.BindsSentence, words.Keyless(a.LimitedBy))
	}
	return s
}

func mostSentence(a *whatif.Answer, sys model.System) string {
	e := a.Most.Metrics[metric.GoodRate]
	u := words.ShownUnit("m/s", e.Mean, sys)
	s := fmt.Sprintf(words.MostGoodSentence, quantityText(a.Most.X, a.Dim, sys), words.Figure(e, u), u.Name)
	for _, t := range a.Evidence {
		if t.X == a.Now && t.Possible {
			now := t.Metrics[metric.GoodRate]
			s += fmt.Sprintf(words.PresentGoodSentence, quantityText(a.Now, a.Dim, sys), words.Figure(now, u), u.Name)
		}
	}
	return s
}

// nextTable lists the limits in the order in which they bind, and apart from them
// those that no speed that was tried reaches.
func nextTable(b *strings.Builder, a *whatif.Answer, sys model.System, to Screen) {
	var free []string
	head := "\n" + words.HeadBinds
	for _, x := range a.Next {
		what := words.Keyless(legible.Line(x.Words))
		if x.Metric != "" {
			what += fmt.Sprintf(words.BindsAtMost, boundText(x.Bound))
		}
		from := fmt.Sprintf(words.BindsAbove, quantityText(x.Value, a.Dim, sys))
		switch {
		case x.Never:
			from = words.BindsEverywhere
		case math.IsNaN(x.Value):
			free = append(free, what)
			continue
		}
		if head != "" {
			fmt.Fprintln(b, head)
			head = ""
		}
		lines := strings.Split(wrap(what, min(to.width(), mostProse)-25), "\n")
		fmt.Fprintf(b, "  %s %s\n", pad(from, 22), lines[0])
		for _, l := range lines[1:] {
			fmt.Fprintf(b, "  %s %s\n", pad("", 22), l)
		}
	}
	if len(free) > 0 {
		fmt.Fprintln(b, "\n"+to.prose(fmt.Sprintf(words.NeverBinds, strings.Join(free, "; "))))
	}
}

// boundText is the most that a metric may be.
func boundText(x whatif.Bound) string {
	if x.Rate {
		return x.Asked
	}
	return words.Chance(x.Most)
}

func formBlock(b *strings.Builder, a *whatif.Answer, sys model.System, to Screen) {
	f := a.ClosedForm
	if f == nil {
		return
	}
	fmt.Fprintf(b, "\n"+words.HeadClosedForm+"\n", quantityText(f.Value, a.Dim, sys))
	fmt.Fprintln(b, to.indented(fmt.Sprintf(words.FormulaValid, f.Formula, f.Assumptions), 2))
	if len(f.Other) > 0 {
		var parts []string
		for _, o := range f.Other {
			parts = append(parts, strings.ReplaceAll(o.Name, words.LawInForm, words.LawInText)+" "+quantityText(o.Value, a.Dim, sys))
		}
		lead := words.FormOfStations
		if a.Kind == "storage" {
			lead = words.FormOfLaws
		}
		fmt.Fprintln(b, to.indented(lead+": "+strings.Join(parts, ", "), 2))
	}
}

func strandTable(b *strings.Builder, a *whatif.Answer, sys model.System, to Screen) {
	if len(a.Strands) == 0 {
		return
	}
	g := grid{label: words.HeadStrands, heads: []string{words.HeadCarriageTravel, words.HeadCarriageSpeed, words.HeadTension}, right: true}
	for _, x := range a.Strands {
		tension := "–"
		if !math.IsNaN(x.Tension) {
			tension = quantityText(x.Tension, model.Force, sys)
		}
		g.add(strconv.Itoa(x.Strands), quantityText(x.Travel, model.Length, sys), quantityText(x.Speed, model.Speed, sys), tension)
	}
	fmt.Fprintln(b)
	g.write(b, to)
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

func evidenceTable(b *strings.Builder, a *whatif.Answer, sys model.System, to Screen) {
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
		if a.Of == words.OfRewindStorage {
			name = strings.Replace(name, metric.Depletion, metric.Overfill, 1)
		}
		for _, t := range kept {
			if e, ok := t.Metrics[name]; ok && e.Mean != 0 {
				cols = append(cols, name)
				break
			}
		}
	}
	fmt.Fprintf(b, "\n"+words.HeadValuesSimulated+"\n", len(a.Evidence))
	g := grid{label: a.Of, right: true}
	for _, c := range cols {
		g.heads = append(g.heads, words.LabelOf(c).Short)
	}
	for _, t := range kept {
		if !t.Possible {
			g.rows = append(g.rows, gridRow{label: quantityText(t.X, a.Dim, sys), below: to.indented(fmt.Sprintf(words.NotPossible, words.Keyless(legible.Line(t.Why))), 4)})
			continue
		}
		var cells []string
		for _, c := range cols {
			cells = append(cells, cellText(t.Metrics, c, sys))
		}
		g.add(quantityText(t.X, a.Dim, sys), cells...)
	}
	g.write(b, to)
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

func cellText(m replicate.Metrics, name string, sys model.System) string {
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
