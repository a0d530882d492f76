package whatif

import (
	"fmt"
	"math"
	"strconv"

	"rollchange/model"
	"rollchange/scenarios"
)

// lever is a change of the line that helps against what stops it from meeting a
// target.
type lever struct {
	over  []scenarios.Override
	words string // "3 operators instead of 2"
}

// lever is what helps against a cause of depletion, or overfill: another
// operator, splices that fail less often, a faster refill. t is the line as it is.
func (q *search) lever(end string, by cause, t *Trial, b Bound) lever {
	line := &q.s.Study.Alternatives[0].Line
	switch by {
	case byLate:
		return q.operators(line.Crew.Operators + 1)
	case byRefill:
		fastest := line.Unwind.MaxSpeed
		if end == "rewind" {
			fastest = line.Rewind.MaxSpeed
		}
		return q.set(end+".max_speed", "a top speed of the "+end+" of ", 1.2*fastest, fastest, model.Speed)
	case byFailed:
		key, success := "unwind.splice_success", line.Unwind.SpliceSuccess
		if end == "rewind" {
			key, success = "rewind.transfer_success", line.Rewind.TransferSuccess
		}
		return q.set(key, changesOf(end)+" that succeed in ", q.success(1-success, t, b), success, model.Share)
	}
	return lever{}
}

// success is the share of changes that must not fail for a target to be met, as
// far as failed changes are what stops it, to two digits of those that fail; half
// of them where that is not what stops it.
func (q *search) success(fails float64, t *Trial, b Bound) float64 {
	if t == nil || !t.Possible {
		return 1 - fails/2
	}
	all := t.Metrics[b.Metric].Mean
	part := t.Metrics[b.Metric+string(byFailed)].Mean
	left := 0.9*b.share(t.Metrics) - (all - part)
	if !(left > 0) || !(part > 0) {
		return 1 - fails/2
	}
	x := fails * left / part
	place := math.Pow(10, math.Floor(math.Log10(x))-1)
	return 1 - math.Floor(x/place)*place
}

func (q *search) operators(n int) lever {
	now := q.s.Study.Alternatives[0].Line.Crew.Operators
	return lever{[]scenarios.Override{{Key: "crew.operators", Value: strconv.Itoa(n)}}, fmt.Sprintf("%s instead of %d", counted(n, "operator"), now)}
}

// set changes a key from now to a value; what is the key in words, before the value.
func (q *search) set(key, what string, to, now float64, d model.Dimension) lever {
	sys := q.s.Study.Units
	u := model.Display(d, sys)
	text := strconv.FormatFloat(u.From(to), 'g', 6, 64) + " " + u.Name
	return lever{[]scenarios.Override{{Key: key, Value: text}}, fmt.Sprintf("%s%s instead of %s", what, text, strconv.FormatFloat(u.From(now), 'g', 6, 64)+" "+u.Name)}
}

// try simulates a lever at x and says what the bound's metric then is, and whether
// that meets it; "" where there is none, or the line is not possible with it.
func (q *search) try(x float64, b Bound, l lever) (string, error) {
	if l.words == "" {
		return "", nil
	}
	t, err := q.simulate(x, l.over...)
	if err != nil || !t.Possible {
		return "", err
	}
	e, ok := b.Of(t.Metrics)
	if !ok {
		return "", nil
	}
	says := fmt.Sprintf("with %s it would be %s at %s", l.words, chanceWords(t.Metrics[b.Metric]), q.in(x))
	switch {
	case e.End(1) <= b.Most && !oneReplication(e):
		says += ", which meets the target"
	case e.Mean > b.Most:
		says += ", which does not meet it either"
	default:
		says += ", which meets it by the estimate alone, not by its upper limit"
	}
	return says, nil
}

// in is a value of the key as the reader of the study writes it.
func (q *search) in(x float64) string { return inUnits(x, q.dim, q.s.Study.Units) }
