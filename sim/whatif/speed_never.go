package whatif

import (
	"fmt"
	"math"
	"strings"

	"rollchange/model"
	"rollchange/sim/metric"
)

// belowEverything says in one line that a limit holds at no speed, and what would
// have to change.
func (q *search) belowEverything(x *Binding) (string, error) {
	t := q.trials[x.Value]
	e, _ := x.Of(t.Metrics)
	at := q.in(x.Value)
	says := fmt.Sprintf("%s at every speed tried: still %s at %s; the limit is %s", x.Words, chanceWords(e), at, shareWords(x.Most))
	if x.Rate {
		says = fmt.Sprintf("%s at every speed tried: still %.2g times the target at %s", x.Words, e.Mean/x.Most, at)
	}
	if x.Metric == metric.Waste {
		return says + "; " + q.largestWaste(t), nil
	}
	helps, err := q.try(x.Value, x.Bound, q.leverOf(x.Bound, t))
	if err != nil || helps == "" {
		return says, err
	}
	return says + "; " + helps, nil
}

// leverOf is what helps a line to hold a limit.
func (q *search) leverOf(b Bound, t *Trial) lever {
	end, whole := "unwind", metric.Depletion
	if metric.ChangesOf(b.Metric) == metric.TransferRate {
		end, whole = "rewind", metric.Overfill
	}
	switch {
	case strings.HasPrefix(b.Metric, whole):
		return q.lever(end, mainCause(t.Metrics, whole, b.Metric == whole), t, b)
	case strings.HasSuffix(b.Metric, string(byLate)):
		return q.lever(end, byLate, t, b)
	case strings.HasSuffix(b.Metric, ".not_refilled"):
		return q.lever(end, byRefill, t, b)
	case b.Metric == metric.CrewBusy:
		now := q.s.Study.Alternatives[0].Line.Crew.Operators
		return q.operators(max(now+1, int(math.Ceil(float64(now)*t.Metrics[b.Metric].Mean/b.Most))))
	}
	return lever{}
}

// largestWaste names the largest part of the waste.
func (q *search) largestWaste(t *Trial) string {
	best, at := "", 0.0
	for name, e := range t.Metrics {
		if m, _ := metric.Of(name); m.IsPart() && m.Group == metric.WebGoes && (e.Mean > at || e.Mean == at && name < best) {
			best, at = name, e.Mean
		}
	}
	return fmt.Sprintf("the largest part of it is %s, %s", wasteWords[strings.TrimPrefix(best, "waste.")], chanceWords(t.Metrics[best]))
}

// wasteWords are the parts of waste in words.
var wasteWords = map[string]string{"residual": "web left on cores", "splice": "scrap at splices", "restart": "scrap after restarts", "web_break": "scrap at web breaks",
	"stop": "scrap at stops", "transfer": "scrap at transfers", "changeover": "scrap at changeovers", "rejected": "rejected rolls"}

// speedWords is the target in words.
func speedWords(line *model.Line, limits Limits) string {
	fails := line.Unwind.Change.Stores() && line.Unwind.SpliceSuccess < 1 || line.Rewind.Change.Stores() && line.Rewind.TransferSuccess < 1
	switch {
	case !fails:
		return "every limit holds"
	case limits.ButFailed:
		return "every limit holds (depletions by changes that fail and are made by hand not counted)"
	}
	return "every limit holds (depletions by changes that fail and are made by hand counted)"
}
