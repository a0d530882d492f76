package sim

import (
	"fmt"
	"math"

	"rollchange/model"
)

// How far the books of a replication may be out before the run is an error and
// not a result: so many metres, and so much of the length that went through
// for rounding, or what the events can have rounded off; likewise seconds.
const (
	leastTolerance = 1e-6
	tolerance      = 1e-12
	rounding       = 0x1p-53 // of a total, at most, each time that it grows
)

// balance finds how far the two books are out.
//
// Metres: the true lengths of all rolls that ran are what was unwound, what
// was left on cores and what went back to stock; what was unwound and not
// processed is in the unwind storage, whose content is integrated on its own;
// likewise at the rewind; finished rolls and the one being wound are what was
// wound; and good web, added up on its own, is with the scrap what was
// processed. What was moved at the end of a refill and is more than rounding is lost.
// Seconds: every one is running, ramping, slowed or stopped, and every stopped
// one is charged to a hold.
func (s *run) balance() Balance {
	var b Balance
	for i := range s.lines {
		l := &s.lines[i]
		u, w := &l.side[0], &l.side[1]
		t := &l.tally
		metres := math.Abs(t.mounted.value - u.from - t.residual.value - t.returned.value)
		content := u.M - u.owed
		if u.zero() {
			content -= u.runM
		}
		metres = max(metres, math.Abs(u.S-l.P-content), u.lost)
		if w.kind != model.None {
			metres = max(metres, math.Abs(t.finishedLength.value-w.from))
			metres = max(metres, math.Abs(l.P-w.S-(w.runM-w.M)-w.owed), w.lost)
		}
		scrap, good := l.scrap.until(l.P)
		for _, x := range scrap {
			good += x
		}
		metres = max(metres, math.Abs(l.P-l.scrap.floor-good))
		b.Metres = max(b.Metres, metres)
		b.length = max(b.length, l.P+t.residual.value+t.returned.value+u.runM+w.runM)

		seconds := math.Abs(t.running + t.ramping + t.slowed + t.stopped - s.horizon)
		held := 0.0
		for _, x := range t.stoppedBy {
			held += x
		}
		b.Seconds = max(b.Seconds, seconds, math.Abs(held-t.stopped))
	}
	return b
}

func (s *run) books() error {
	b := s.balance()
	// What the stations have run is in plain totals, which grow at each event. A line
	// without chance rounds every cycle alike, so over years their roundings add up.
	length := max(tolerance, rounding*float64(s.events)) * b.length
	if !(b.Metres <= leastTolerance+length) || !(b.Seconds <= leastTolerance+tolerance*s.horizon) {
		return fmt.Errorf("internal error: the books do not balance: out by %.3g m of %.6g m, %.3g s of %.6g s", b.Metres, b.length, b.Seconds, s.horizon)
	}
	return nil
}

// Balance is how far the two books were out in the worst replication: metres
// supplied against metres accounted for, m, and seconds of the horizon against
// seconds accounted for, s.
type Balance struct {
	Metres, Seconds float64
	length          float64 // m, that went through
}
