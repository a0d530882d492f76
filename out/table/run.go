package table

import (
	"fmt"
	"io"
	"math"
	"strconv"
	"strings"

	"rollchange/model"
	"rollchange/out/words"
	"rollchange/sim/estimate"
	"rollchange/sim/metric"
	"rollchange/sim/replicate"
)

// row is one line of a table for people.
type row struct {
	label, value, note string
}

// section is the rows under one head.
type section struct {
	head string
	rows []row
}

// Run writes what one alternative came to as one table: what the line
// makes, where the hours and the web go, what the roll changes and the crew do.
// Rows of hours or web that are exactly 0 are left out.
func Run(w io.Writer, about words.About, rs *replicate.Results, alternative int, sys model.System, to Screen) error {
	r := rs.Alternatives[alternative]
	var b strings.Builder
	title := about.TitleOf(r.Alternative, len(rs.Alternatives) > 1)
	fmt.Fprintf(&b, "%s\n%s\n", to.title(title), to.made(about, words.Head(rs.Run)))
	none := false
	label := min(leastName+max(0, to.width()-usual), 50) // a wider screen has room for longer names
	for _, s := range runSections(r, rs.Run, rs.Open != nil, about, sys) {
		fmt.Fprintf(&b, "\n%s\n", bold(s.head, to.Color))
		for _, x := range s.rows {
			none = none || strings.HasPrefix(x.value, words.NoneIn) && x.note != ""
			if x.value == "" {
				for i, part := range strings.Split(wrap(x.label, min(to.width(), mostProse)-6), "\n") {
					fmt.Fprintln(&b, []string{"    ", "      "}[min(i, 1)]+part)
				}
				continue
			}
			line := fmt.Sprintf("  %s %s  %s", pad(words.Shorten(x.label, label), label), padLeft(x.value, 21), x.note)
			fmt.Fprintln(&b, strings.TrimRight(line, " "))
		}
	}
	if none {
		fmt.Fprintf(&b, "\n%s\n", to.prose(fmt.Sprintf(words.NoneSeenNote, 100*rs.Run.Confidence)))
	}
	if rs.Open != nil {
		fmt.Fprintf(&b, "\n%s\n", to.prose(words.OpenNote))
		for _, s := range words.OpenSentences(rs, alternative, sys) {
			fmt.Fprintf(&b, "\n%s\n", to.prose(s))
		}
	}
	if few := tooFew(r.Metrics); few != "" {
		fmt.Fprintf(&b, "\n%s\n", to.prose(few))
	}
	if rs.Run.Replications == 1 {
		fmt.Fprintln(&b, "\n"+words.OneReplication)
	}
	_, err := io.WriteString(w, b.String())
	return err
}

// tooFew says what "± ?" is, where a figure has it, and how many replications would
// give every figure an interval.
func tooFew(list ...replicate.Metrics) string {
	needed, any := 0, false
	for _, m := range list {
		for _, e := range m {
			if e.Why == estimate.TooFew {
				any = true
				needed = max(needed, e.Needed)
			}
		}
	}
	switch {
	case !any:
		return ""
	case needed == 0:
		return words.TooFewNote
	}
	return fmt.Sprintf(words.TooFewButNote, needed)
}

// leastName is how much of a name stands in a table of 80 columns.
const leastName = 33

// runSections fills the rows of the table. The totals are added up from the
// rows, not taken for granted.
func runSections(r replicate.Result, run replicate.RunInfo, withRecords bool, about words.About, sys model.System) []section {
	sections := make([]section, metric.Groups)
	for g := range sections {
		sections[g].head = words.GroupHeads[g]
	}
	add := func(g metric.Group, label, value, note string) {
		sections[g].rows = append(sections[g].rows, row{label, value, note})
	}
	show := func(e estimate.Estimate) string {
		u := words.ShownUnit(e.Unit, math.Abs(e.Mean), sys)
		return words.Figure(e, u) + " " + u.Name
	}
	open := func(e estimate.Estimate) string {
		if !withRecords {
			return ""
		}
		return words.OpenHalf(e, words.ShownUnit(e.Unit, math.Abs(e.Mean), sys))
	}
	good := r.Metrics[metric.Waste]
	good.Mean = 1 - good.Mean
	add(metric.WebGoes, words.HeadGoodWeb, show(good), open(good))
	sum := [metric.Groups]float64{metric.WebGoes: good.Mean}
	for _, name := range r.Names {
		e := r.Metrics[name]
		m, _ := metric.Of(name)
		label := words.LabelOf(name).Text
		never := e.Mean == 0 && (math.IsNaN(e.HalfWidth) || e.HalfWidth == 0)
		if m.IsPart() {
			sum[m.Group] += e.Mean
		}
		switch {
		case m.Row == metric.Whole || m.Row == metric.Within:
		case m.Group == metric.Risk:
			sections[m.Group].rows = append(sections[m.Group].rows, riskRows(name, r, run, withRecords, about)...)
		case m.Name == metric.StoppedBy:
			hold, _ := metric.HoldOf(name)
			rate := r.Metrics[metric.BeginsBy+hold]
			if never && rate.Mean == 0 {
				continue
			}
			u := words.ShownUnit(rate.Unit, math.Abs(rate.Mean), sys)
			often := words.Figure(rate, u)
			if rate.Why == estimate.Skewed {
				often = words.Limits(rate, u)
			}
			if withRecords { // the place beside it is taken
				add(m.Group, label, show(e), open(e))
				add(m.Group, "  "+words.HeadHowOften, often+" "+u.Name, words.OpenHalf(rate, u))
				continue
			}
			add(m.Group, label, show(e), fmt.Sprintf(words.HeadStopsAt, often, u.Name))
		case never && m.Row == metric.IfAny:
		case e.Mean == 0 && m.Shown == metric.ShareOfChanges:
			value, bound := words.NoneSeen(name, r, run)
			add(m.Group, label, value, bound)
		default:
			add(m.Group, label, show(e), open(e))
		}
		if label, value := levels(name, r, sys); value != "" {
			add(m.Group, label, value, "")
		}
	}
	add(metric.Hours, words.HeadTotal, percent(sum[metric.Hours]), "")
	if stops := r.Metrics[metric.StopRate]; stops.Mean > 0 {
		add(metric.Hours, words.HeadRests, show(stops), open(stops))
	}
	add(metric.WebGoes, words.HeadSupplied, percent(sum[metric.WebGoes]), "")
	var filled []section
	for _, s := range sections {
		if len(s.rows) > 0 {
			filled = append(filled, s)
		}
	}
	return filled
}

// percent is a sum of shares; 100 % to rounding is "100 %".
func percent(share float64) string {
	return strconv.FormatFloat(math.Round(1e6*share)/1e4, 'f', -1, 64) + " %"
}

// levels tells how low (high) the storage goes in the worst cycles, which its
// mean does not.
func levels(name string, r replicate.Result, sys model.System) (label, value string) {
	h, chances, label := r.Lowest, []float64{0.001, 0.05, 0.5}, words.HeadLevelsBelow
	switch name {
	case metric.UnwindLowest:
	case metric.RewindHighest:
		h, chances, label = r.Highest, []float64{0.999, 0.95, 0.5}, words.HeadLevelsAbove
	default:
		return "", ""
	}
	if h == nil || h.Total() == 0 {
		return "", ""
	}
	u := model.Display(model.Length, sys)
	var at []string
	for _, p := range chances {
		at = append(at, words.Short(u.From(h.Quantile(p)), 3))
	}
	return label, strings.Join(at, " / ") + " " + u.Name
}
