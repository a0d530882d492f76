package match

import (
	"context"
	"math"
	"slices"

	"rollchange/model"
	"rollchange/sim"
	"rollchange/sim/metric"
	"rollchange/sim/replicate"
)

// Figure is what a row is of.
type Figure string

// The figures that records may hold; the last two are of a cause.
const (
	Good          Figure = "good"
	Waste         Figure = "waste"
	RollChanges   Figure = "roll_changes"
	FinishedRolls Figure = "finished_rolls"
	Stops         Figure = "stops"
	Stopped       Figure = "stopped"
	CauseStops    Figure = "cause_stops"
	CauseTime     Figure = "cause_time"
)

// Row is one recorded figure beside the model's, of all lines taken together.
type Row struct {
	Figure    Figure
	Hold      string  // of a cause: the hold of the model
	Unit      string  // SI: "m", "s", "1"
	Recorded  float64 // NaN: not recorded, but the other figure of its cause is
	Mean      float64 // what the model makes in such a period
	Low, High float64 // where Confidence of such periods lie
	Fitted    bool    // it judges nothing: laws were fitted to it
	Missing   bool    // the model has no such cause
}

// Agrees says that the recorded figure lies where the model's periods do.
func (r Row) Agrees() bool { return r.Recorded >= r.Low && r.Recorded <= r.High }

// Answer is how a recorded period compares.
type Answer struct {
	Alternative string
	Hours       float64 // s, planned, of each line
	Lines       int
	Periods     int     // simulated
	Confidence  float64 // of the intervals
	Speed       float64 // m/s, of the line
	Records     bool    // the periods hold what the records of the laws leave open
	Rows        []Row
}

// Row is the row of a figure that is of no cause; false where it was not recorded.
func (a *Answer) Row(f Figure) (Row, bool) {
	i := slices.IndexFunc(a.Rows, func(r Row) bool { return r.Figure == f })
	if i < 0 {
		return Row{}, false
	}
	return a.Rows[i], true
}

// Suspect is the cause whose recorded hours are farthest beyond the interval of the
// model, on the side that explains too little good web (more) or too much; false where
// none is beyond it.
func (a *Answer) Suspect(less bool) (Row, bool) {
	var worst Row
	by := 0.0
	for _, r := range a.Rows {
		if r.Figure != CauseTime || math.IsNaN(r.Recorded) {
			continue
		}
		beyond := r.Recorded - r.High
		if !less {
			beyond = r.Low - r.Recorded
		}
		if beyond > by {
			worst, by = r, beyond
		}
	}
	return worst, by > 0
}

// Periods that are simulated: so many while the period is not long, few of a long one.
const (
	usual   = 199
	few     = 39
	notLong = 100 * 86400 // s, all lines together
)

// periods is how many periods are simulated, and which of them in order bound the
// interval from below, from 1.
func periods(confidence, time float64) (n, k int) {
	n = usual
	if time > notLong {
		n = few
	}
	n = max(n, int(math.Ceil(2/(1-confidence)-1-1e-9)))
	return n, max(1, int(math.Floor(float64(n+1)*(1-confidence)/2+1e-9)))
}

// Of simulates periods as long as the recorded one and compares. With records, those of
// the study, each period is of another draw of them, so that the interval holds a new
// period of the real line and not only of the model. It returns nil where the study has
// no records of an alternative that it has.
func Of(ctx context.Context, study *model.Study, records replicate.Records, opt replicate.Options) (*Answer, error) {
	r := &study.Recorded
	at := r.Of(study)
	if r.Hours <= 0 || at < 0 {
		return nil, nil
	}
	one := *study
	one.Alternatives = study.Alternatives[at : at+1]
	one.Run.NoControls = true // the spread of single periods is asked for
	run, err := replicate.Prepare(ctx, &one)
	if err != nil {
		return nil, err
	}
	line := &one.Alternatives[0].Line
	a := &Answer{Alternative: one.Alternatives[0].Name, Hours: r.Hours, Lines: max(1, line.Crew.Lines), Confidence: run.Confidence, Speed: line.Process.Speed}
	n, k := periods(run.Confidence, r.Hours*float64(a.Lines))
	run.Horizon, a.Periods = r.Hours+run.WarmUp, n
	a.Rows, a.Records = rowsOf(r), records != nil
	outlines := replicate.OutlinesOf(&one)
	gather := newGatherer(&outlines[0], a)
	each := func(outlines []replicate.Outline, samples []*sim.Sample) error {
		gather.add(&outlines[0], samples[0])
		return nil
	}
	if records == nil {
		err = replicate.Each(ctx, &one, run, 0, n, opt, func(_ int, x []*sim.Sample) error { return each(outlines, x) })
	} else {
		err = replicate.EachDrawn(ctx, &one, run, only{records, at}, 0, n, opt, each)
	}
	if err != nil {
		return nil, err
	}
	for i := range a.Rows {
		values := gather.values[i]
		slices.Sort(values)
		x := &a.Rows[i]
		for _, v := range values {
			x.Mean += v / float64(n)
		}
		x.Low, x.High = values[k-1], values[n-k]
		// Sums of a thousand roundings: what is the same must agree.
		x.Low, x.High = x.Low-1e-9*math.Abs(x.Low), x.High+1e-9*math.Abs(x.High)
	}
	return a, nil
}

// rowsOf are the recorded figures, causes that are one in the model taken together.
func rowsOf(r *model.Period) []Row {
	var rows []Row
	fitted := slices.ContainsFunc(r.Causes, func(c model.RecordedCause) bool { return c.Fitted })
	changes := slices.ContainsFunc(r.Causes, func(c model.RecordedCause) bool {
		return c.Fitted && c.Is == model.RecordedUnwindChange && c.Stops != nil && r.RollChanges == nil
	})
	add := func(f Figure, unit string, x *float64, fitted bool) {
		if x != nil {
			rows = append(rows, Row{Figure: f, Unit: unit, Recorded: *x, Fitted: fitted})
		}
	}
	add(Good, "m", r.Good, false)
	add(Waste, "m", r.Waste, false)
	add(RollChanges, "1", r.RollChanges, changes)
	add(FinishedRolls, "1", r.FinishedRolls, false)
	add(Stops, "1", r.Stops, fitted)
	add(Stopped, "s", r.Stopped, fitted)
	at := map[string]int{}
	for _, c := range r.Causes {
		hold := HoldOf(c.Is, c.Text)
		if hold == "" {
			continue
		}
		if c.Time == nil && c.Stops == nil {
			continue // another name of a cause, no more
		}
		i, known := at[hold]
		if !known {
			i = len(rows)
			at[hold] = i
			rows = append(rows, Row{Figure: CauseTime, Hold: hold, Unit: "s"}, Row{Figure: CauseStops, Hold: hold, Unit: "1"})
		}
		sum := func(r *Row, x *float64) {
			r.Fitted = r.Fitted || c.Fitted
			if x == nil {
				r.Recorded = math.NaN()
				return
			}
			r.Recorded += *x
		}
		sum(&rows[i], c.Time)
		sum(&rows[i+1], c.Stops)
	}
	return slices.DeleteFunc(rows, func(r Row) bool { return math.IsNaN(r.Recorded) })
}

// HoldOf is the hold of the model that a recorded cause of a name is, "" for one that the
// model has not.
func HoldOf(is model.RecordedKind, name string) string {
	switch is {
	case model.RecordedStop:
		return metric.HoldOfStop(name)
	case model.RecordedWebBreak:
		return metric.HoldWebBreak
	case model.RecordedUnwindChange:
		return metric.HoldUnwindChange
	case model.RecordedRewindChange:
		return metric.HoldRewindChange
	case model.RecordedChangeover:
		return metric.HoldChangeover
	}
	return ""
}
