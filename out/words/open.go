package words

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"rollchange/model"
	"rollchange/sim/estimate"
	"rollchange/sim/metric"
	"rollchange/sim/replicate"
)

// OpenHalf is the half width of a figure with what the records leave open, "± 0.85",
// or its limits where they do not lie alike.
func OpenHalf(e estimate.Estimate, u model.Unit) string { return openHalf(e, u, 0) }

// openHalf is OpenHalf of what cannot lie below a least value.
func openHalf(e estimate.Estimate, u model.Unit, least float64) string {
	if math.IsNaN(e.Left) {
		return "± ?"
	}
	w := e.WithRecords()
	w.Low = max(least, w.Low)
	half := u.From(w.HalfWidth)
	switch {
	case w.Why == estimate.Skewed:
		return "(" + Limits(w, u) + ")"
	case math.IsNaN(half) && w.Known():
		return "(" + Limits(w, u) + ")"
	case math.IsNaN(half):
		return "± ?"
	case half == 0:
		return "± 0"
	}
	return "± " + halfWidth(u.From(w.Mean), half)
}

// OpenNote says what the second half width of a table is.
const OpenNote = "(the second ±: with what the records leave open as well; each law is drawn anew from as many values as were observed of it)"

// OpenHead stands beside the second half width.
const OpenHead = "with the records"

// OpenChance is OpenHalf of a chance, in percent.
func OpenChance(e estimate.Estimate) string {
	w := e.WithRecords()
	switch {
	case math.IsNaN(e.Left):
		return "± ?"
	case w.Mean >= 1e-5 || w.Mean == 0:
		u := model.Display(model.Share, model.Metric)
		return OpenHalf(e, u)
	case w.Known():
		return "(" + Chance(w.Low) + "–" + Chance(w.High) + ")"
	}
	return "± ?"
}

// OpenSentences say what the good web of an alternative is known to with the records,
// which of them leave most of it open, and how many more values would make it good to
// a round share.
func OpenSentences(rs *replicate.Results, alternative int, sys model.System) []string {
	o := rs.Open
	if o == nil || alternative >= len(o.Good) {
		return nil
	}
	e := rs.Alternatives[alternative].Metrics[metric.GoodRate]
	w := e.WithRecords()
	if math.IsNaN(w.HalfWidth) || !(w.Mean > 0) {
		return nil
	}
	u := model.Display(model.Speed, sys)
	of := o.Good[alternative]
	var list []string
	s := fmt.Sprintf("With the records the good web is known to ± %s %s (%s %%), at %g %% confidence; from the simulation alone to ± %s.",
		number(u.From(w.HalfWidth), twoDigits(u.From(w.HalfWidth))), u.Name, number(100*w.HalfWidth/w.Mean, twoDigits(100*w.HalfWidth/w.Mean)), 100*rs.Run.Confidence, number(u.From(e.HalfWidth), twoDigits(u.From(e.HalfWidth))))
	list = append(list, s)
	if parts := openParts(o, of); parts != "" {
		list = append(list, parts)
	}
	if more := openMore(rs, o, of, e); more != "" {
		list = append(list, more)
	}
	return list
}

// mostParts is how many records a sentence names.
const mostParts = 3

// leastPart is the share of the variance from which on a record is named.
const leastPart = 0.05

// byPart are the records in the order of what they leave open, those that are named.
func byPart(of replicate.OpenOf) []int {
	var list []int
	for i, p := range of.Parts {
		if p >= leastPart {
			list = append(list, i)
		}
	}
	slices.SortStableFunc(list, func(a, b int) int { return cmp.Compare(of.Parts[b], of.Parts[a]) })
	return list[:min(len(list), mostParts)]
}

// openParts names the records that leave most of a figure open.
func openParts(o *replicate.Open, of replicate.OpenOf) string {
	var parts []string
	for _, i := range byPart(of) {
		r := o.Records[i]
		parts = append(parts, fmt.Sprintf("%s %.0f %% (%s)", KeyWords(r.Key), 100*of.Parts[i], counted(r.Observed, "value")))
	}
	if len(parts) == 0 {
		return ""
	}
	return "Of the variance that the records leave: " + strings.Join(parts, ", ") + "."
}

// rounds are the shares of a figure that a person would ask for.
var rounds = []float64{0.2, 0.1, 0.05, 0.02, 0.01, 0.005, 0.002, 0.001, 0.0005, 0.0002, 0.0001}

// openMore says how many more values would make a figure good to the next round share of
// it: the variance that a record leaves falls as one over its values.
func openMore(rs *replicate.Results, o *replicate.Open, of replicate.OpenOf, e estimate.Estimate) string {
	w := e.WithRecords()
	i := slices.IndexFunc(rounds, func(x float64) bool { return x*w.Mean < 0.9*w.HalfWidth })
	if i < 0 || !(of.SD > 0) {
		return ""
	}
	target := rounds[i] * w.Mean
	room := target*target - e.HalfWidth*e.HalfWidth // for the records, squared
	if !(room > 0) {
		return fmt.Sprintf("For ± %g %% of the good web the simulation needs more replications first.", 100*rounds[i])
	}
	s := fmt.Sprintf("For ± %g %% of the good web, log %s times as much of everything", 100*rounds[i], number(e.Left*e.Left/room, twoDigits(e.Left*e.Left/room)))
	for _, k := range byPart(of) { // the first that does it alone
		part := of.Parts[k] * e.Left * e.Left
		rest := e.Left*e.Left - part
		if room > rest {
			n := float64(o.Records[k].Observed)
			more := math.Ceil(n*part/(room-rest) - n - 1e-9)
			return s + fmt.Sprintf(", or %s of %s alone.", counted(int(more), "more value"), KeyWords(o.Records[k].Key))
		}
	}
	return s + "."
}

// Open are the second half widths of the figure of an alternative and of its difference
// from the first; empty where there is none.
func (r Compared) Open(alternative int) (figure, difference string) {
	if e := r.Cells[alternative].Figure; e != nil && e.Mean != 0 {
		figure = OpenHalf(*e, r.Shown)
	}
	if d := r.Cells[alternative].Difference; d != nil && d.Shown() {
		difference = openHalf(*d, r.Shown, math.Inf(-1))
		if !d.WithRecords().Shown() {
			difference += " ~"
		}
	}
	return figure, difference
}

// OpenAgainst says of the alternative that makes the most good web which records leave
// most of its difference from the first open.
func OpenAgainst(rs *replicate.Results, sys model.System) []string {
	o := rs.Open
	if o == nil || len(rs.Alternatives) < 2 {
		return nil
	}
	best := 1
	for i := 2; i < len(rs.Differences); i++ {
		if rs.Differences[i][metric.GoodRate].Mean > rs.Differences[best][metric.GoodRate].Mean {
			best = i
		}
	}
	d := rs.Differences[best][metric.GoodRate]
	w := d.WithRecords()
	if math.IsNaN(Reach(w)) || math.IsNaN(Reach(d)) || w.Mean == 0 {
		return nil
	}
	u := model.Display(model.Speed, sys)
	s := fmt.Sprintf("The difference in good web between %s and %s is known to ± %s %s with the records; from the simulation alone to ± %s.",
		Called(rs.Alternatives[best]), Called(rs.Alternatives[0]), twoDigitsOf(u.From(Reach(w))), u.Name, twoDigitsOf(u.From(Reach(d))))
	if parts := openParts(o, o.Against[best]); parts != "" {
		s += " " + parts
	}
	return []string{s}
}

func twoDigitsOf(x float64) string { return number(x, twoDigits(x)) }
