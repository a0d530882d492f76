package match

import (
	"math"
	"slices"

	"rollchange/model"
	"rollchange/sim"
	"rollchange/sim/metric"
	"rollchange/sim/replicate"
)

// only are records of a study whose draws have one of its alternatives alone.
type only struct {
	of replicate.Records
	at int
}

func (o only) Records() []model.Record { return o.of.Records() }

func (o only) Draw(number int) ([]model.Alternative, []float64) {
	all, moved := o.of.Draw(number)
	return all[o.at : o.at+1], moved
}

// gatherer takes the figures of the rows out of samples.
type gatherer struct {
	values [][]float64 // by row
	of     []func(x *period) float64
}

// period is a simulated one.
type period struct {
	outline *replicate.Outline
	sample  *sim.Sample
}

// value is a metric of a period; 0 where it has none, and where nothing happened that it
// could be counted per.
func (p *period) value(name string) float64 {
	for i := range p.outline.Metrics {
		if p.outline.Metrics[i].Name == name {
			if v := p.outline.Value(p.sample, i); !math.IsNaN(v) {
				return v
			}
		}
	}
	return 0
}

// newGatherer gathers the figures of an answer. The outline is that of the line as it is
// written, which says what the model has not.
func newGatherer(o *replicate.Outline, a *Answer) *gatherer {
	g := &gatherer{values: make([][]float64, len(a.Rows))}
	// Of shares of the hours, all lines; of rates, which are of all lines already.
	line := a.Hours * float64(a.Lines)
	for i := range a.Rows {
		r := &a.Rows[i]
		rate := func(name string) func(x *period) float64 {
			return func(x *period) float64 { return x.value(name) * a.Hours }
		}
		share := func(name string) func(x *period) float64 {
			return func(x *period) float64 { return x.value(name) * line }
		}
		of := rate(metric.GoodRate)
		switch r.Figure {
		case Waste:
			// What was processed and is not good, and what was left on cores, which is a
			// share of both.
			of = func(x *period) float64 {
				made, left := x.value(metric.ProcessedRate), x.value(metric.WasteResidual)
				rate := made - x.value(metric.GoodRate)
				if left < 1 {
					rate += made * left / (1 - left)
				}
				return rate * a.Hours
			}
		case RollChanges:
			of = rate(metric.SpliceRate)
		case FinishedRolls:
			of = rate(metric.FinishedRollRate)
		case Stops:
			of = rate(metric.StopRate)
		case Stopped:
			of = share(metric.Stopped)
		case CauseTime, CauseStops:
			name := metric.StoppedBy + r.Hold
			r.Missing = !slices.ContainsFunc(o.Metrics, func(m replicate.MetricName) bool { return m.Name == name })
			of = share(name)
			if r.Figure == CauseStops {
				of = rate(metric.BeginsBy + r.Hold)
			}
		}
		g.of = append(g.of, of)
	}
	return g
}

// add takes a simulated period in.
func (g *gatherer) add(o *replicate.Outline, x *sim.Sample) {
	p := &period{o, x}
	for i, of := range g.of {
		g.values[i] = append(g.values[i], math.Round(of(p)*1e9)/1e9)
	}
}
