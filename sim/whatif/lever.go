package whatif

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"rollchange/model"
	"rollchange/model/portable"
	"rollchange/scenarios"
	"rollchange/sim/estimate"
)

// lever is what helps against a cause of depletion, or overfill: another
// operator, splices that fail less often, a faster refill. t is the line as it is.
func (q *search) lever(end string, by Cause, t *Trial, b Bound) *Lever {
	line := &q.s.Study.Alternatives[0].Line
	switch by {
	case NotReady:
		work := model.PreparingRolls
		if end == "rewind" {
			work = model.PreparingCores
		}
		return q.operators(func(g *model.Group) bool { return g.Does(work, "") }, func(now int) int { return now + 1 })
	case NotRefilled:
		fastest := line.Unwind.MaxSpeed
		if end == "rewind" {
			fastest = line.Rewind.MaxSpeed
		}
		return &Lever{end + ".max_speed", model.Speed, 1.2 * fastest, fastest, ""}
	case FailedByHand:
		key, success := "unwind.splice_success", line.Unwind.SpliceSuccess
		if end == "rewind" {
			key, success = "rewind.transfer_success", line.Rewind.TransferSuccess
		}
		return &Lever{key, model.Share, q.success(1-success, t, b), success, ""}
	}
	return nil
}

// success is the share of changes that must not fail for a target to be met, as
// far as failed changes are what stops it, to two digits of those that fail; half
// of them where that is not what stops it.
func (q *search) success(fails float64, t *Trial, b Bound) float64 {
	if t == nil || !t.Possible {
		return 1 - fails/2
	}
	all := t.Metrics[b.Metric].Mean
	part := t.Metrics[b.Metric+parts[FailedByHand]].Mean
	left := 0.9*b.share(t.Metrics) - (all - part)
	if !(left > 0) || !(part > 0) {
		return 1 - fails/2
	}
	x := fails * left / part
	place := portable.Pow(10, math.Floor(portable.Log10(x))-1)
	return 1 - math.Floor(x/place)*place
}

// operators are more of them, in place of those that there are: of the first group of
// the crew that is such a one, where it has groups.
func (q *search) operators(such func(g *model.Group) bool, more func(now int) int) *Lever {
	crew := &q.s.Study.Alternatives[0].Line.Crew
	for i := range crew.Groups {
		if g := &crew.Groups[i]; such(g) {
			return &Lever{fmt.Sprintf("crew.group[%d].operators", i), model.Number, float64(more(g.Operators)), float64(g.Operators), g.Name}
		}
	}
	return &Lever{"crew.operators", model.Number, float64(more(crew.Operators)), float64(crew.Operators), ""}
}

// over is the override that sets the key of a lever.
func (l *Lever) over(sys model.System) scenarios.Override {
	u := model.Display(l.Dim, sys)
	return scenarios.Override{Key: l.Key, Value: strings.TrimSpace(strconv.FormatFloat(u.From(l.To), 'g', 6, 64) + " " + u.Name)}
}

// try simulates a lever at x and finds what the bound's metric then is, and whether
// that meets it; nil where there is none, or the line is not possible with it. Where there
// is a search with fewer replications, they are enough for what surely does not meet it.
func (q *search) try(x float64, b Bound, l *Lever) (*Tried, error) {
	if l == nil {
		return nil, nil
	}
	if q.less != nil {
		if tried, e, err := q.less.pulled(x, b, l); err != nil || tried != nil && e.End(-1) > b.Most {
			return tried, err
		}
	}
	tried, _, err := q.pulled(x, b, l)
	return tried, err
}

// pulled is try with the replications of the search, and the figure that the bound is on.
func (q *search) pulled(x float64, b Bound, l *Lever) (*Tried, estimate.Estimate, error) {
	t, err := q.simulate(x, l.over(q.s.Study.Units))
	if err != nil || !t.Possible {
		return nil, estimate.Estimate{}, err
	}
	e, ok := b.Of(t.Metrics)
	if !ok {
		return nil, e, nil
	}
	tried := &Tried{*l, ChanceAt{x, t.Metrics[b.Metric]}, MetByEstimate}
	switch {
	case e.End(1) <= b.Most && !oneReplication(e):
		tried.Meets = Met
	case e.Mean > b.Most:
		tried.Meets = NotMet
	}
	return tried, e, nil
}
