package table

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"rollchange/model"
	"rollchange/out/words"
	"rollchange/sim/estimate"
	"rollchange/sim/metric"
	"rollchange/sim/replicate"
)

// section is the rows under one head.
type section struct {
	head string
	rows []row
}

// sections are those of the table of an alternative, as they are filled.
type sections struct {
	replicate.Result
	run         replicate.RunInfo
	withRecords bool
	about       words.About
	sys         model.System
	list        [metric.Groups]section
}

// sectionsOf fills the rows of the table. The totals are added up from the
// rows, not taken for granted.
func sectionsOf(rs *replicate.Results, alternative int, about words.About, sys model.System) []section {
	f := &sections{Result: rs.Alternatives[alternative], run: rs.Run, withRecords: rs.Open != nil, about: about, sys: sys}
	good := f.Metrics[metric.Waste]
	good.Mean = 1 - good.Mean
	f.estimate(metric.WebGoes, words.HeadGoodWeb, good)
	sum := [metric.Groups]float64{metric.WebGoes: good.Mean}
	for _, name := range f.Names {
		m, _ := metric.Of(name)
		if m.IsPart() {
			sum[m.Group] += f.Metrics[name].Mean
		}
		f.metric(name, m)
		if label, value := f.levels(name); value != "" {
			f.add(m.Group, label, value, "")
		}
	}
	f.add(metric.Hours, words.HeadTotal, percent(sum[metric.Hours]), "")
	if stops := f.Metrics[metric.StopRate]; stops.Mean > 0 {
		f.estimate(metric.Hours, words.HeadRests, stops)
	}
	f.add(metric.WebGoes, words.HeadSupplied, percent(sum[metric.WebGoes]), "")
	var filled []section
	for g, s := range f.list {
		if len(s.rows) > 0 {
			s.head = words.GroupHeads[g]
			filled = append(filled, s)
		}
	}
	return filled
}

func (f *sections) add(g metric.Group, label, value, note string) {
	f.list[g].rows = append(f.list[g].rows, row{label, value, note})
}

// estimate adds a row with an estimate, and beside it what the records leave open.
func (f *sections) estimate(g metric.Group, label string, e estimate.Estimate) {
	u := f.unit(e)
	f.add(g, label, words.Figure(e, u)+" "+u.Name, f.open(e, u))
}

// unit is what an estimate is shown in.
func (f *sections) unit(e estimate.Estimate) model.Unit {
	return words.ShownUnit(e.Unit, math.Abs(e.Mean), f.sys)
}

// open is the half width with what the records leave open, where it was looked for.
func (f *sections) open(e estimate.Estimate, u model.Unit) string {
	if !f.withRecords {
		return ""
	}
	return words.OpenHalf(e, u)
}

// metric adds the rows of a metric: none of hours or web that are exactly 0.
func (f *sections) metric(name string, m metric.Metric) {
	e, label := f.Metrics[name], words.LabelOf(name).Text
	switch {
	case m.Row == metric.Whole || m.Row == metric.Within:
	case m.Group == metric.Risk:
		f.list[m.Group].rows = append(f.list[m.Group].rows, f.risk(name)...)
	case m.Name == metric.StoppedBy:
		f.stops(name, m.Group, label)
	case never(e) && m.Row == metric.IfAny:
	case e.Mean == 0 && m.Shown == metric.ShareOfChanges:
		value, bound := words.NoneSeen(name, f.Result, f.run)
		f.add(m.Group, label, value, bound)
	default:
		f.estimate(m.Group, label, e)
	}
}

// never says whether something was 0 in every replication.
func never(e estimate.Estimate) bool {
	return e.Mean == 0 && (math.IsNaN(e.HalfWidth) || e.HalfWidth == 0)
}

// stops adds how long and how often a hold stopped the line.
func (f *sections) stops(name string, g metric.Group, label string) {
	e := f.Metrics[name]
	hold, _ := metric.HoldOf(name)
	rate := f.Metrics[metric.BeginsBy+hold]
	if never(e) && rate.Mean == 0 {
		return
	}
	u := f.unit(rate)
	often := words.Figure(rate, u)
	if rate.Why == estimate.Skewed {
		often = words.Limits(rate, u)
	}
	if f.withRecords { // the place beside it is taken
		f.estimate(g, label, e)
		f.add(g, "  "+words.HeadHowOften, often+" "+u.Name, f.open(rate, u))
		return
	}
	share := f.unit(e)
	f.add(g, label, words.Figure(e, share)+" "+share.Name, fmt.Sprintf(words.HeadStopsAt, often, u.Name))
}

// percent is a sum of shares; 100 % to rounding is "100 %".
func percent(share float64) string {
	return strconv.FormatFloat(math.Round(1e6*share)/1e4, 'f', -1, 64) + " %"
}

// levels tells how low (high) the storage goes in the worst cycles, which its
// mean does not.
func (f *sections) levels(name string) (label, value string) {
	h, chances, label := f.Lowest, []float64{0.001, 0.05, 0.5}, words.HeadLevelsBelow
	switch name {
	case metric.UnwindLowest:
	case metric.RewindHighest:
		h, chances, label = f.Highest, []float64{0.999, 0.95, 0.5}, words.HeadLevelsAbove
	default:
		return "", ""
	}
	if h == nil || h.Total() == 0 {
		return "", ""
	}
	u := model.Display(model.Length, f.sys)
	var at []string
	for _, p := range chances {
		at = append(at, words.Short(u.From(h.Quantile(p)), 3))
	}
	return label, strings.Join(at, " / ") + " " + u.Name
}
