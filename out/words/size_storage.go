package words

import (
	"fmt"
	"math"

	"rollchange/sim/whatif"
)

// storageTarget is how often a storage may be used up.
func storageTarget(a *whatif.Answer) string {
	rewind := a.Of == whatif.RewindStorage
	what := "unwind storage depleted"
	if rewind {
		what = "rewind storage full"
	}
	changes := changesText(rewind)
	if r := a.Target.Risk; r.Rate > 0 {
		what += " no more than " + r.Text
	} else {
		what += fmt.Sprintf(" by no more than %s of the %s", shareText(r.Share), changes)
	}
	return what + countingText(a.Target.Failed, changes+" that")
}

// chanceNote is a note on the chance that a target is put on; "" of another.
func chanceNote(a *whatif.Answer, n whatif.Note, in func(float64) string) string {
	changes := changesText(a.Of == whatif.RewindStorage)
	switch n := n.(type) {
	case whatif.DwellNeeds:
		return fmt.Sprintf("a long dwell alone needs %s (closed form); the rest is for %s", in(n.Form), causeText(n.Rest, a.Of))
	case whatif.DwellBeyond:
		return fmt.Sprintf("a long dwell alone needs the %s of the closed form; --most is %s", in(n.Form), in(n.Most))
	case whatif.MoreGainsLittle:
		return fmt.Sprintf("above %s, more storage cuts that by less than a tenth", in(n.X))
	case whatif.EvenMost:
		return fmt.Sprintf("even %s gives %s of the %s, mostly because of %s", in(n.X), chanceText(n.Chance), changes, causeText(n.By, a.Of))
	case whatif.NotTheStorage:
		return notTheStorageText(a, n, in)
	case whatif.Impossible:
		return fmt.Sprintf("%s is not possible: %s", in(n.X), n.Why)
	case whatif.OneReplication:
		return "one replication gives no confidence limits: whether the target holds at the upper limit is not known"
	case whatif.FarTail:
		return fmt.Sprintf("a target of %s depends on the far tail of the dwell distribution, which no data can show: the closed form below gives the storage for other distributions of the same mean and sd", shareText(n.Target))
	case whatif.ByEstimate:
		return fmt.Sprintf("by the estimate alone, without its confidence limits, %s is enough", in(n.X))
	case whatif.TookMore:
		of := ""
		if n.Changes > 0 {
			of = fmt.Sprintf(" (%s %s)", Grouped(n.Changes), changes)
		}
		return fmt.Sprintf("a target this rare took %s replications instead of %s%s", Grouped(float64(n.Replications)), Grouped(float64(n.Usual)), of)
	}
	return ""
}

// notTheStorageText says what decides in place of the storage.
func notTheStorageText(a *whatif.Answer, n whatif.NotTheStorage, in func(float64) string) string {
	at := func(i int) string { return fmt.Sprintf("%s at %s", chanceText(n.At[i].Chance), in(n.At[i].X)) }
	s := fmt.Sprintf("the limit is not the storage but %s. The chance is %s", causeText(n.By, a.Of), at(0))
	if len(n.At) == 2 {
		return s + " and " + at(1)
	}
	return fmt.Sprintf("%s, %s, and %s", s, at(1), at(2))
}

// failedText says what failed changes add: "7 in 1,000 splices fail and are made by
// hand; with this storage 3 (2.7 to 3.4) in 1,000 fail and deplete it; …".
func failedText(f whatif.Failed, rewind bool, in func(float64) string) string {
	does := map[bool]string{false: "deplete it", true: "fill it"}[rewind]
	s := fmt.Sprintf("%s %s fail and are made by hand; with this storage %s fail and %s", perManyText(f.Fails), changesText(rewind), perManyOf(f.Add, f.Fails), does)
	switch {
	case f.Holds:
		return s + ": the target holds even with them"
	case math.IsNaN(f.Value):
		return s + fmt.Sprintf("; no storage up to %s meets the target if they count", in(f.Most))
	case f.Flat:
		return s + "; if they count, they and not the storage decide whether the target holds"
	}
	s += fmt.Sprintf("; if they count, the target needs %s", in(f.Value))
	switch {
	case Finite(f.Low) && Finite(f.High):
		s += fmt.Sprintf(" (%s to %s)", in(f.Low), in(f.High))
	case Finite(f.Low):
		s += fmt.Sprintf(" (%s or more)", in(f.Low))
	}
	return s
}

// unshownText says how many changes it takes to show a target, and with a limit
// of a speed which.
func unshownText(n whatif.Unshown, rewind bool, in func(float64) string) string {
	of := ""
	if n.Metric != "" {
		of, rewind = BoundText(n.Bound)+": ", atRewind(n.Bound)
	}
	x, changes, target := n.Short, changesText(rewind), shareText(n.Target)
	known := ""
	if Finite(x.High) {
		known = fmt.Sprintf("; so far the chance is known to be below %s at %s", belowText(x.High), in(x.X))
	}
	s := fmt.Sprintf("a target of %s needs %s %s with none seen", target, manyText(x.Needed), changes)
	switch {
	case math.IsInf(x.Needed, 1):
		return fmt.Sprintf("%s%s %s were simulated, too few to tell whether %s is met%s", of, Grouped(x.Simulated), changes, target, known)
	case x.Seen:
		s = fmt.Sprintf("to tell whether %s is met takes about %s %s", target, manyText(x.Needed), changes)
	}
	s = fmt.Sprintf("%s%s; %s were simulated%s", of, s, Grouped(x.Simulated), known)
	if x.Enough <= whatif.MostReplications {
		s += fmt.Sprintf("; --most-replications %.0f would allow them", x.Enough)
	}
	return s
}
