package whatif

import (
	"context"
	"fmt"
	"math"
	"slices"

	"rollchange/model"
	"rollchange/model/portable"
	"rollchange/scenarios"
	"rollchange/scenarios/fit"
	"rollchange/sim/replicate"
)

// RecordsNeed is the storage that holds the risk whatever the records leave open of it, but
// for one in so many: those of the dwell where a long dwell decides the answer, else those
// of all laws of the line.
type RecordsNeed struct {
	Value      float64   // m; NaN: not known
	Observed   int       // dwells behind the law; 0: the scenario does not say
	Confidence float64   // that Value is enough
	Target     float64   // share of the changes that the law of the dwell is asked for
	Decides    bool      // a long dwell decides the answer
	Law        model.Law // that Value is by
	Listed     bool      // the dwells stand as a list, which Law was fitted to

	Rival      model.Law // a law that as many dwells do not tell from Law and that needs more; "": none
	RivalValue float64   // m, by that

	Draws int // of all records, each simulated, where a long dwell does not decide
}

// Beyond says that the target is rarer than one in the dwells that were observed: no data
// speak of it, the family of the law does.
func (n RecordsNeed) Beyond() bool { return n.Observed > 0 && n.Target*float64(n.Observed) < 1 }

func (RecordsNeed) note() {}

// recordDraws is how often the law of the dwell is drawn anew: no simulation is needed.
const recordDraws = 1000

// DwellObserved are the dwells that stand behind the law of a station, 0 where the
// scenario does not say.
func DwellObserved(line *model.Line, rewind bool) int {
	d := line.Unwind.Dwell
	if rewind {
		d = line.Rewind.Dwell
	}
	switch {
	case !(d.SD() > 0):
		return 0
	case d.Observed == 0 && d.Law == model.Empirical:
		return len(d.Values)
	}
	return d.Observed
}

// SizeWithRecords adds to an answer of SizeStorage the storage that holds the risk with
// the confidence of the run over what the records leave open. Where waits decide, all
// records are drawn anew (openByWaits). Where the dwell decides, its law is (fit.Redraw), and
// the dwell that the target allows changes the storage as it does in the closed form. The
// limit is that of the studentised bootstrap, on logarithms l of the dwell above its least
// value,
//
//	upper: l - s t(1 - confidence)    t = (l' - l)/s' of the laws drawn, s = l(10 %) - l(90 %)
//
// (Davison and Hinkley, Bootstrap Methods and their Application, 1997, 5.2). The logarithms
// of exponential, lognormal and Weibull laws move and stretch with their parameters, so t
// does not hang on them and the limit is exact for those. The same is asked of the laws that
// as many dwells do not tell from it (rivals).
// An answer without a value stays as it is.
func SizeWithRecords(ctx context.Context, s *scenarios.Scenario, q StorageQuestion, a *Answer, records replicate.Records, opt Options) error {
	line, run := &s.Study.Alternatives[0].Line, s.Study.Run
	n := DwellObserved(line, q.Rewind)
	cycle, end := model.UnwindCycle(line), "unwind"
	store := &line.Unwind.Storage
	if q.Rewind {
		cycle, end, store = model.RewindCycle(line), "rewind", &line.Rewind.Storage
	}
	if !a.Met || a.ClosedForm == nil || math.IsNaN(a.Value) {
		return nil
	}
	need := RecordsNeed{Value: math.NaN(), Observed: n, Confidence: run.Confidence, Target: a.ClosedForm.Share, Decides: a.LimitedBy.By == LongDwell, Listed: cycle.Dwell.Law == model.Empirical}
	if !need.Decides {
		var err error
		if need.Value, need.Draws, err = openByWaits(ctx, s, q, a, records, opt); err != nil {
			return err
		}
	} else if need.Target > 0 && n > 0 {
		at := model.UpperQuantile(cycle.Dwell, need.Target)
		by := func(d model.Dist) float64 {
			upper := upperDwell(d, n, need.Target, run.Confidence, run.Seed, end)
			return a.Value + max(0, (cycle.LeastRoom(upper)-cycle.LeastRoom(at))*store.Capacity/cycle.Room)
		}
		if !need.Listed {
			need.Law, need.Value = cycle.Dwell.Law, by(cycle.Dwell)
		}
		for _, d := range rivals(cycle.Dwell, n) {
			switch value := by(d); {
			case need.Law == "": // of a list, the law that fits it best
				need.Law, need.Value = d.Law, value
			case d.Law != need.Law && value > max(need.Value, need.RivalValue):
				need.Rival, need.RivalValue = d.Law, value
			}
		}
	}
	a.Notes = append(a.Notes, need)
	return nil
}

// upperDwell is the dwell that the target allows at most, s, with so much confidence.
func upperDwell(d model.Dist, observed int, target, confidence float64, seed uint64, name string) float64 {
	at, spread := inLogs(d, target)
	var drawn []float64
	for k := range recordDraws {
		if again, ok := fit.Redraw(d, observed, seed, fmt.Sprintf("dwell of the %s %d", name, k)); ok {
			if l, s := inLogs(again, target); s > 0 {
				drawn = append(drawn, (l-at)/s)
			}
		}
	}
	if len(drawn) < recordDraws/2 {
		return math.Inf(1)
	}
	slices.Sort(drawn)
	return d.Least + portable.Exp(at-spread*drawn[int((1-confidence)*float64(len(drawn)-1))])
}

// inLogs is the logarithm of the dwell above its least value that a share is longer than,
// and a measure of the spread of these logarithms.
func inLogs(d model.Dist, share float64) (at, spread float64) {
	l := func(p float64) float64 {
		return portable.Log(max(math.SmallestNonzeroFloat64, model.UpperQuantile(d, p)-d.Least))
	}
	return l(share), l(0.1) - l(0.9)
}
