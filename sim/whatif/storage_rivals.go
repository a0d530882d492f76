package whatif

import (
	"cmp"
	"slices"

	"rollchange/model"
	"rollchange/scenarios/fit"
)

// rivalsOf is how many quantiles of a law stand for a record of it at most.
const rivalsOf = 400

// rivals are the laws that n values of d do not tell apart: those whose AIC is within 2 of
// the least, the best first. A list is fitted itself, and has none where fit takes no law
// for it. For another law a record of n stands that lies as the law says, its quantiles at
// (i - 1/2)/n, since the scenario has the law alone; of many values fewer quantiles, each
// for as many values as it stands for.
func rivals(d model.Dist, n int) []model.Dist {
	var values []fit.Value
	weight, o := 1.0, fit.Options{Draws: 1} // of the draws nothing is asked
	if d.Law == model.Empirical {
		o.Draws = 0
		for _, x := range d.Values {
			values = append(values, fit.Value{X: x})
		}
	} else {
		m := min(n, rivalsOf)
		weight = float64(n) / float64(m)
		for i := range m {
			values = append(values, fit.Value{X: d.Quantile((float64(i)+0.5)/float64(m)) - d.Least})
		}
	}
	r, err := fit.Of(values, o)
	if err != nil || len(r.Laws) == 0 || d.Law == model.Empirical && r.Why != fit.Best && r.Why != fit.Tied {
		return nil
	}
	aic := func(l fit.Fitted) float64 { return 2*float64(l.Parameters) - 2*weight*l.LogLik }
	laws := slices.Clone(r.Laws)
	slices.SortStableFunc(laws, func(a, b fit.Fitted) int { return cmp.Compare(aic(a), aic(b)) })
	var list []model.Dist
	for _, l := range laws {
		if aic(l) <= aic(laws[0])+2 {
			l.Dist.Least += d.Least
			if l.Dist.Law == model.Exponential || l.Dist.Law == model.Lognormal {
				l.Dist.A += d.Least // their mean holds the least value
			}
			list = append(list, l.Dist)
		}
	}
	return list
}
