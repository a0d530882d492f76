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

// Answer writes the answer to a sizing question for people: the value with
// its interval, what binds, the closed form beside it, and the evidence.
func Answer(w io.Writer, about words.About, a *whatif.Answer, run replicate.RunInfo, sys model.System, to Screen) error {
	var b strings.Builder
	title := about.TitleOf(a.Alternative, false)
	fmt.Fprintf(&b, "%s\n%s\n\n", to.title(title), to.made(about, words.Head(run)))
	fmt.Fprintln(&b, to.head(words.AnswerSentence(a, sys)))
	if a.Kind != whatif.Residual && !math.IsNaN(a.Now) {
		fmt.Fprintf(&b, words.ScenarioHas+"\n", words.SizedText(a.Now, a.Dim, sys))
	}
	for _, n := range words.NoteTexts(a, sys) {
		fmt.Fprintln(&b, to.prose(words.Capital(words.Keyless(n))+"."))
	}
	if s := words.AgainSentence(a, sys); s != "" {
		fmt.Fprintln(&b, to.prose(s))
	}
	if a.Most != nil {
		fmt.Fprintln(&b, to.prose(words.MostSentence(a, sys)))
	}
	nextTable(&b, a, sys, to)
	formBlock(&b, a, sys, to)
	strandTable(&b, a, sys, to)
	evidenceTable(&b, a, sys, to)
	curveTable(&b, a, sys, to)
	_, err := io.WriteString(w, b.String())
	return err
}

// nextTable lists the limits in the order in which they bind, and apart from them
// those that no speed that was tried reaches.
func nextTable(b *strings.Builder, a *whatif.Answer, sys model.System, to Screen) {
	var free []string
	head := "\n" + words.HeadBinds
	for _, x := range a.Next {
		what := words.Keyless(legible.Line(words.ConstraintText(x.Constraint, a.Of)))
		if x.Metric != "" {
			what += fmt.Sprintf(words.BindsAtMost, words.BoundMost(x.Bound))
		}
		from := fmt.Sprintf(words.BindsAbove, words.SizedText(x.Value, a.Dim, sys))
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

func formBlock(b *strings.Builder, a *whatif.Answer, sys model.System, to Screen) {
	f := a.ClosedForm
	if f == nil {
		return
	}
	fmt.Fprintf(b, "\n"+words.HeadClosedForm+"\n", words.SizedText(f.Value, a.Dim, sys))
	formula, assumptions := words.FormulaText(f.Formula)
	fmt.Fprintln(b, to.indented(fmt.Sprintf(words.FormulaValid, formula, assumptions), 2))
	if len(f.Other) > 0 {
		var parts []string
		for _, o := range f.Other {
			parts = append(parts, strings.ReplaceAll(words.OtherForm(o), words.LawInForm, words.LawInText)+" "+words.SizedText(o.Value, a.Dim, sys))
		}
		lead := words.FormOfStations
		if a.Kind == whatif.Storage {
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
			tension = words.SizedText(x.Tension, model.Force, sys)
		}
		g.add(strconv.Itoa(x.Strands), words.SizedText(x.Travel, model.Length, sys), words.SizedText(x.Speed, model.Speed, sys), tension)
	}
	fmt.Fprintln(b)
	g.write(b, to)
}

// evidenceColumns are the metrics that the evidence of a question shows.
var evidenceColumns = map[string][]string{
	whatif.Storage:  {metric.Depletion, metric.DepletionNotFailed, metric.DepletionFailed, metric.DepletionInterval, metric.GoodRate},
	whatif.Speed:    {metric.GoodRate, metric.Depletion, metric.DepletionNotFailed, metric.Overfill, metric.OverfillNotFailed, metric.SpliceNotReady, metric.TransferNotReady, metric.CrewBusy},
	whatif.Residual: {metric.RunOut, metric.WasteResidual, metric.GoodRate},
	whatif.Crew:     {metric.GoodRate, metric.Waiting, metric.CrewBusy},
	whatif.Roll:     {metric.GoodRate, metric.FinishedRollRate, metric.WasteTransfer, metric.TransferNotReady, metric.CrewBusy},
}

// mostEvidence is how many of the simulated values a table shows: those nearest
// to the answer. JSON has them all.
const mostEvidence = 7

// evidenceTable shows the values that were simulated.
func evidenceTable(b *strings.Builder, a *whatif.Answer, sys model.System, to Screen) {
	if len(a.Evidence) == 0 { // a closed form that changes nothing that is simulated
		return
	}
	kept := nearestEvidence(a)
	cols := evidenceShown(a, kept)
	fmt.Fprintln(b, "\n"+words.ValuesSimulated(len(a.Evidence), len(kept)))
	g := grid{label: words.SizedName(a.Of), right: true}
	for _, c := range cols {
		g.heads = append(g.heads, words.LabelOf(c).Short)
	}
	for _, t := range kept {
		if !t.Possible {
			g.rows = append(g.rows, gridRow{label: words.SizedText(t.X, a.Dim, sys), below: to.indented(fmt.Sprintf(words.NotPossible, words.Keyless(legible.Line(t.Why))), 4)})
			continue
		}
		var cells []string
		for _, c := range cols {
			cells = append(cells, cellText(t.Metrics, c, sys))
		}
		g.add(words.SizedText(t.X, a.Dim, sys), cells...)
	}
	g.write(b, to)
}

// nearestEvidence are the simulated values that a table shows, in their order.
func nearestEvidence(a *whatif.Answer) []whatif.Trial {
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
	return kept
}

// evidenceShown are the metrics that a table of simulated values shows: those that are not
// 0 at all of them.
func evidenceShown(a *whatif.Answer, kept []whatif.Trial) []string {
	shown := evidenceColumns[a.Kind]
	if a.Group != "" {
		shown = append(slices.Clip(shown), metric.CrewBusyBy+a.Group)
	}
	var cols []string
	for _, name := range shown {
		if left(a, name) {
			continue
		}
		if a.Of == whatif.RewindStorage {
			name = strings.Replace(name, metric.Depletion, metric.Overfill, 1)
		}
		if slices.ContainsFunc(kept, func(t whatif.Trial) bool { e, ok := t.Metrics[name]; return ok && e.Mean != 0 }) {
			cols = append(cols, name)
		}
	}
	return cols
}

// curveEvery is which of the places of a curve a table shows: JSON has them all.
const curveEvery = 4

// curveTable shows the chance at capacities about the answer that were not simulated.
func curveTable(b *strings.Builder, a *whatif.Answer, sys model.System, to Screen) {
	if len(a.Curve) == 0 {
		return
	}
	fmt.Fprintf(b, "\n%s\n", words.CurveHead(a, sys))
	g := grid{label: words.SizedName(a.Of), heads: []string{words.LabelOf(a.Metric).Short, words.HeadLow, words.HeadHigh}, right: true}
	i := 0
	for _, p := range a.Curve {
		if p.Simulated {
			continue
		}
		if i%curveEvery == 0 {
			g.add(words.SizedText(p.X, a.Dim, sys), words.Chance(p.Chance.Mean), limitText(p.Chance.Low), limitText(p.Chance.High))
		}
		i++
	}
	g.write(b, to)
}

// limitText is the limit of a chance.
func limitText(x float64) string {
	if math.IsNaN(x) {
		return "–"
	}
	return words.Chance(x)
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
		return words.Estimate(e.Mean/3600) + " h"
	case e.Unit == "1" && e.Mean < 1e-5:
		return words.Chance(e.Mean)
	}
	u := words.ShownUnit(e.Unit, math.Abs(e.Mean), sys)
	return words.Short(u.From(e.Mean), 4) + " " + u.Name
}
