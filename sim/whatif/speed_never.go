package whatif

import (
	"math"
	"slices"
	"strings"

	"rollchange/model"
	"rollchange/sim/metric"
)

// atNoSpeed tells of a limit that holds at no speed: the chance at the lowest, and
// what would have to change.
func (q *search) atNoSpeed(x *Binding) (AtNoSpeed, error) {
	t := q.trials[x.Value]
	e, _ := x.Of(t.Metrics)
	never := AtNoSpeed{Bound: x.Bound, ChanceAt: ChanceAt{x.Value, e}, Times: e.Mean / x.Most}
	if x.Metric == metric.Waste {
		never.Then = largestWaste(t)
		return never, nil
	}
	tried, err := q.try(x.Value, x.Bound, q.leverOf(x.Bound, t))
	if err == nil && tried != nil {
		never.Then = *tried
	}
	return never, err
}

// leverOf is what helps a line to hold a limit.
func (q *search) leverOf(b Bound, t *Trial) *Lever {
	end, whole := "unwind", metric.Depletion
	if metric.ChangesOf(b.Metric) == metric.TransferRate {
		end, whole = "rewind", metric.Overfill
	}
	switch {
	case strings.HasPrefix(b.Metric, whole):
		return q.lever(end, mainCause(t.Metrics, whole, b.Metric == whole), t, b)
	case strings.HasSuffix(b.Metric, parts[NotReady]):
		return q.lever(end, NotReady, t, b)
	case strings.HasSuffix(b.Metric, ".not_refilled"):
		return q.lever(end, NotRefilled, t, b)
	case b.Metric == metric.CrewBusy:
		busy := func(g *model.Group) float64 { return t.Metrics[metric.CrewBusyBy+g.Name].Mean }
		crew := &q.s.Study.Alternatives[0].Line.Crew
		busiest := func(g *model.Group) bool {
			return !slices.ContainsFunc(crew.Groups, func(x model.Group) bool { return busy(&x) > busy(g) })
		}
		return q.operators(busiest, func(now int) int { return max(now+1, int(math.Ceil(float64(now)*t.Metrics[b.Metric].Mean/b.Most))) })
	}
	return nil
}

// largestWaste finds the largest part of the waste.
func largestWaste(t *Trial) LargestWaste {
	best, at := "", 0.0
	for name, e := range t.Metrics {
		if m, _ := metric.Of(name); m.IsPart() && m.Group == metric.WebGoes && (e.Mean > at || e.Mean == at && name < best) {
			best, at = name, e.Mean
		}
	}
	return LargestWaste{best, t.Metrics[best]}
}

// someFail says whether changes that use a storage fail on a line.
func someFail(line *model.Line) bool {
	return line.Unwind.Change.Stores() && line.Unwind.SpliceSuccess < 1 || line.Rewind.Change.Stores() && line.Rewind.TransferSuccess < 1
}
