package whatif

import "math"

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
	x, bad, err := bracketUp(z.search, t.X, z.Most, holds(all, 0))
	if err != nil || math.IsNaN(x) {
		return err
	}
	if x == t.X { // by the fewer replications it holds
		bad = x / 1.01
	}
	if f.Value, bad, err = z.bisect(x, bad, holds(all, 0), exact); err != nil {
		return err
	}
	if f.Low, f.High, err = interval(z.search, all, f.Value, bad, z.Most, false); err != nil {
		return err
	}
	half, err := z.at(f.Value / 2)
	f.Flat = err == nil && z.isFlat(half, all)
	return err
}
