package sim

import (
	"math"

	"rollchange/model"
)

// The causes that a chance of depletion is made of.
const (
	byDwell    = iota // the dwell alone, from a storage at its run level
	byNotReady        // the station waited at rest for the next roll
	byFailed          // the change failed and was made by hand
	byRefill          // the cycle began before the storage was refilled
	riskCauses
)

var causeNames = [riskCauses]string{"dwell", "not_ready", "failed", "refill"}

// chance is a sum of chances of depletion: by cause, and in all as it would be
// under other laws of the dwell with the same mean and sd.
type chance struct {
	cause     [riskCauses]float64
	odd       float64 // the part of it that is not by failed changes, from cycles that more than the dwell decided
	oddFailed float64 // the part by failed changes that only counting tells of
	tail      [len(model.TailLaws)]float64
}

func (c *chance) all() float64 { return c.butFailed() + c.cause[byFailed] }

// butFailed is the part of it that is not by failed changes.
func (c *chance) butFailed() float64 {
	sum := 0.0
	for k, x := range c.cause {
		if k != byFailed {
			sum += x
		}
	}
	return sum
}

// laws are what the chances of a station are calculated from.
type laws struct {
	dwell, hand model.Dist
	lasts       func(x float64) float64 // chance that the dwell is at least x (s)
	tails       [len(model.TailLaws)]func(x float64) float64
	handLeast   float64 // s, work by hand that is shorter has a chance below one in a million
	memo        [2]shares
}

// shares are the survivals of the dwell at x, kept because most cycles are alike.
type shares struct {
	known bool
	x     float64
	dwell float64
	tails [len(model.TailLaws)]float64
}

func lawsOf(dwell, hand model.Dist) laws {
	w := lawsAlone(dwell, hand)
	for i, law := range model.TailLaws {
		w.tails[i] = dwell.Like(law).Tail()
	}
	return w
}

// lawsAlone are those without what the dwell would be under other laws.
func lawsAlone(dwell, hand model.Dist) laws {
	w := laws{dwell: dwell, hand: hand, lasts: dwell.Tail()}
	if hand.Given() {
		w.handLeast = hand.Quantile(1e-6)
	}
	return w
}

// at is the chance that the dwell is at least x (s). Times that differ by less
// than a nanosecond are one.
func (w *laws) at(x float64, memo int) *shares {
	m := &w.memo[memo]
	if !m.known || math.Abs(m.x-x) > 1e-9 {
		m.known, m.x, m.dwell = true, x, w.lasts(x)
		for i, tail := range w.tails {
			if m.tails[i] = m.dwell; model.TailLaws[i] != w.dwell.Law {
				m.tails[i] = tail(x)
			}
		}
	}
	return m
}

// after is the chance of lasting to x of what has lasted to e already.
func after(x, e float64) float64 {
	if e <= 0 {
		return 1
	}
	return min(1, x/e)
}
