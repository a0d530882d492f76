package sim

import (
	"fmt"
	"math"

	"rollchange/model"
)

// tolerance is how far, relative to what went through, the books of a
// replication may be out before the run is an error and not a result.
const tolerance = 1e-6

// balance finds how far the two books are out, relative to the web supplied and
// to the horizon.
//
// Metres: the true lengths of all rolls that ran are what was unwound, what
// was left on cores and what went back to stock; what was unwound and not
// processed is in the unwind storage, whose content is integrated on its own;
// likewise at the rewind; finished rolls and the one being wound are what was
// wound; and what was processed is the speed of the process over time.
// Seconds: every one is running, ramping, slowed or stopped, and every stopped
// one is charged to a hold.
func (s *run) balance() Balance {
	var b Balance
	for i := range s.lines {
		l := &s.lines[i]
		u, w := &l.side[0], &l.side[1]
		t := &l.tally
		metres := math.Abs(t.mounted + u.S - u.rollStart - u.S - t.residual - t.returned)
		if u.zero() {
			metres = max(metres, math.Abs(u.S-l.P-(u.M-u.runM)))
		} else {
			metres = max(metres, math.Abs(u.S-l.P-u.M))
		}
		if w.kind != model.None {
			metres = max(metres, math.Abs(t.finishedLength+w.S-w.rollStart-w.S))
			metres = max(metres, math.Abs(l.P-w.S-(w.runM-w.M)))
		}
		b.Metres = max(b.Metres, metres/max(1, u.S+t.residual))

		seconds := math.Abs(t.running + t.ramping + t.slowed + t.stopped - s.horizon)
		held := 0.0
		for _, x := range t.stoppedBy {
			held += x
		}
		b.Seconds = max(b.Seconds, seconds/s.horizon, math.Abs(held-t.stopped)/s.horizon)
	}
	return b
}

func (s *run) books() error {
	b := s.balance()
	if !(b.Metres <= tolerance) || !(b.Seconds <= tolerance) {
		return fmt.Errorf("internal error: the books do not balance: metres %.3g, seconds %.3g, relative", b.Metres, b.Seconds)
	}
	return nil
}
