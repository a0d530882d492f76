package whatif

import (
	"math"

	"rollchange/model/portable"
)

// farOff is how many times the target the chance of failed changes is at the largest
// capacity, by the changes that were recorded at the answer, that is not simulated.
const farOff = 4

// mostFailed is how many capacities are simulated at most for what failed changes need.
const mostFailed = 6

// failed tells what changes that fail and are made by hand add at the storage of
// the answer, and which storage would ride through so many of them that the target
// holds with them too.
func (z *sizing) failed(t *Trial) error {
	if z.CountFailed || !(z.fails > 0) {
		return nil
	}
	all := z.bound
	all.Metric = z.whole
	nan := math.NaN()
	f := &Failed{Fails: z.fails, Add: t.Metrics[z.whole+parts[FailedByHand]], Value: nan, Low: nan, High: nan, Most: z.Most}
	if f.Add.High > f.Fails { // no more than fail can
		f.Add.High, f.Add.HalfWidth = max(f.Fails, f.Add.Mean), nan
	}
	z.a.Failed = f
	if f.Holds = holds(all, 0)(t); f.Holds {
		return nil
	}
	if top := z.trials[z.Most]; top != nil && !holds(all, 0)(top) || top == nil && excess(t.curve.at(z.Most), all, 0) > portable.Log(farOff) {
		return nil
	}
	x := or(t.curve.root(all, 0, t.X, t.X, z.Most), z.Most)
	var u *Trial
	for looked := 1; ; looked++ { // the records tell of the work by hand nearly as a simulation does
		var err error
		if u, err = z.at(x); err != nil {
			return err
		}
		good := holds(all, 0)(u)
		if !good && x >= z.Most {
			return nil
		}
		root := or(u.curve.root(all, 0, x, t.X, z.Most), z.Most)
		if good && root > x*(1-curveReach) || looked == mostFailed {
			f.Value = min(x, root)
			break
		}
		x = min(z.Most, root*(1+2*exact))
	}
	f.Low, f.High = u.curve.root(all, -1, f.Value, x/100, z.Most), u.curve.root(all, 1, f.Value, x/100, z.Most)
	if math.IsNaN(f.High) {
		f.High = math.Inf(1)
	}
	if e := u.Metrics[all.Metric]; oneReplication(e) {
		f.Low, f.High = nan, nan
	}
	var err error
	f.Flat, err = z.halfIsFlat(u, all)
	return err
}
