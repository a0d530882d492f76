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
	x, bad, err := z.find(all, 0, t.X, z.Most, 5*exact, loosely)
	if err != nil || math.IsNaN(x) {
		return err
	}
	f.Value = x
	if f.Low, f.High, err = z.ends(all, f.Value, bad, z.Most, true); err != nil {
		return err
	}
	f.Flat, err = z.halfIsFlat(f.Value, all)
	return err
}
