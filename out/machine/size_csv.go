package machine

import (
	"encoding/csv"
	"io"
	"maps"
	"math"
	"slices"
	"strconv"

	"rollchange/out/words"
	"rollchange/sim/estimate"
	"rollchange/sim/metric"
	"rollchange/sim/whatif"
)

// AnswersCSV writes the answers to a sizing question, one row a figure, SI units,
// full precision, empty where a figure is not known. A figure has the name that it
// has in JSON; at is the value of what is sized that it is told of.
func AnswersCSV(w io.Writer, answers []*whatif.Answer) error {
	c := csv.NewWriter(w)
	_ = c.Write([]string{"question", "of", "alternative", "met", "figure", "name", "at", "unit", "value", "low", "high"})
	for _, a := range answers {
		(&answerRows{c, a, siUnit(a.Dim)}).write()
	}
	c.Flush()
	return c.Error()
}

// answerRows are the rows of one answer.
type answerRows struct {
	*csv.Writer
	a    *whatif.Answer
	unit string // of what is sized
}

func (r *answerRows) row(figure, name string, at float64, unit string, value, low, high float64) {
	a := r.a
	_ = r.Write([]string{a.Kind, words.SizedName(a.Of), cell(a.Alternative), strconv.FormatBool(a.Met), figure, cell(name), full(at), unit, full(value), full(low), full(high)})
}

// sized is a figure that is a value of what is sized.
func (r *answerRows) sized(figure, name string, value, low, high float64) {
	r.row(figure, name, math.NaN(), r.unit, value, low, high)
}

// alone is one without an interval.
func (r *answerRows) alone(figure, name, unit string, value float64) {
	r.row(figure, name, math.NaN(), unit, value, math.NaN(), math.NaN())
}

// metric is a metric with so much of what is sized.
func (r *answerRows) metric(figure, name string, at float64, e estimate.Estimate) {
	r.row(figure, name, at, e.Unit, e.Mean, e.Low, e.High)
}

func (r *answerRows) write() {
	a := r.a
	r.sized("answer", "", a.Value, a.Low, a.High)
	r.alone("now", "", r.unit, a.Now)
	if need := needJSON(a); need != nil && need.Storage != nil {
		r.alone("records", "", r.unit, *need.Storage)
	}
	if f := a.ClosedForm; f != nil {
		r.alone("closed_form", "", r.unit, f.Value)
		for _, o := range f.Other {
			r.alone("closed_form", words.OtherForm(o), r.unit, o.Value)
		}
	}
	if f := a.Failed; f != nil {
		r.metric("made_by_hand", "adds", a.Value, f.Add)
		r.sized("made_by_hand", "value_with_them", f.Value, f.Low, f.High)
	}
	if x := a.Short; x != nil {
		r.alone("too_little_simulated", "changes_needed", "1", x.Needed)
		r.alone("too_little_simulated", "replications_needed", "1", x.Enough)
	}
	r.limits()
	r.roll()
	for _, s := range a.Strands {
		n := strconv.Itoa(s.Strands)
		r.alone("carriage_travel", n, "m", s.Travel)
		r.alone("carriage_speed", n, "m/s", s.Speed)
		r.alone("tension_added", n, "N", s.Tension)
	}
	for _, p := range a.Curve {
		if !p.Simulated {
			r.metric("calculated", a.Metric, p.X, p.Chance)
		}
	}
	for i := range a.Evidence {
		t := &a.Evidence[i]
		for _, name := range slices.Sorted(maps.Keys(t.Metrics)) {
			r.metric("simulated", name, t.X, t.Metrics[name])
		}
	}
}

// limits are where each limit binds and where it holds anew, and the most output.
func (r *answerRows) limits() {
	a := r.a
	for _, b := range a.Next {
		name, figure := b.Metric, "binds"
		if name == "" {
			name = words.ConstraintText(b.Constraint, a.Of)
		}
		if b.Never {
			figure = "never_holds"
		}
		r.sized(figure, name, b.Value, b.Low, b.High)
	}
	if t := a.Most; t != nil && t.Possible {
		r.alone("greatest_output", "", r.unit, t.X)
		r.metric("greatest_output", metric.GoodRate, t.X, t.Metrics[metric.GoodRate])
	}
	again := "target_missed_again"
	if a.Kind == whatif.Speed {
		again = "every_limit_holds_again"
	}
	for _, x := range a.Again {
		r.alone(again, "", r.unit, x)
	}
}
