package whatif

import (
	"fmt"
	"math"
)

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
	f := &Failed{Fails: z.fails, Add: t.Metrics[z.whole+string(byFailed)], Value: nan, Low: nan, High: nan, Most: z.Most}
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

// failedWords says what failed changes add: "7 in 1,000 splices fail and are made by
// hand; at this storage 3 in 1,000 do so and deplete it (2.7 to 3.4); …".
func (z *sizing) failedWords() string {
	f, changes := z.a.Failed, changesOf(z.end)
	does := map[string]string{"unwind": "deplete it", "rewind": "fill it"}[z.end]
	s := fmt.Sprintf("%s %s fail and are made by hand; with this storage %s fail and %s", perMany(f.Fails), changes, perManyOf(f.Add, f.Fails), does)
	switch {
	case f.Holds:
		return s + ": the target holds even with them"
	case math.IsNaN(f.Value):
		return s + fmt.Sprintf("; no storage up to %s meets the target if they count", z.in(f.Most))
	case f.Flat:
		return s + "; if they count, they and not the storage decide whether the target holds"
	}
	s += fmt.Sprintf("; if they count, the target needs %s", z.in(f.Value))
	switch {
	case finite(f.Low) && finite(f.High):
		s += fmt.Sprintf(" (%s to %s)", z.in(f.Low), z.in(f.High))
	case finite(f.Low):
		s += fmt.Sprintf(" (%s or more)", z.in(f.Low))
	}
	return s
}
