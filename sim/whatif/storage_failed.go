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
	if top := z.trials[z.Most]; top != nil && !holds(all, 0)(top) {
		return nil
	}
	x := or(t.curve.root(all, 0, t.X, t.X, z.Most), z.Most)
	for last := math.NaN(); ; last = x { // the records tell of the work by hand nearly as a simulation does
		u, err := z.at(x)
		if err != nil {
			return err
		}
		good := holds(all, 0)(u)
		if !good && x >= z.Most {
			return nil
		}
		root := u.curve.root(all, 0, x, t.X, x)
		if good && x-or(root, x) <= max(5*exact*x, nearly*(x-or(u.curve.root(all, -1, x, x/100, x), x))) {
			break
		}
		if !good {
			root = or(u.curve.root(all, 0, x, x, z.Most), z.Most)
		}
		if x = min(z.Most, root*(1+2*exact)); x == last {
			break
		}
	}
	f.Value = x
	var err error
	if f.Low, f.High, err = z.ends(all, x, x*(1-5*exact), z.Most, true); err != nil {
		return err
	}
	f.Flat, err = z.halfIsFlat(z.trials[x], all)
	return err
}
