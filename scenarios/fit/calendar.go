package fit

import (
	"slices"
	"time"
)

// Period is time in which events could happen, From included, To not.
type Period struct{ From, To time.Time }

// Calendar is how rates are grouped: by shift of the day, weekday and month.
type Calendar struct {
	Shift  time.Duration // length of a shift, a whole part of a day; 0: no shifts
	Begins time.Duration // of the first shift after midnight, below Shift
}

// ByCalendar is the evenness of the rate over each grouping.
type ByCalendar struct {
	Shift   Evenness // in the order of the day, the first from Begins
	Weekday Evenness // Sunday first, as time.Weekday
	Month   Evenness // January first; months of several years together
}

// By tests whether events, at times within the periods, come as often in each shift,
// on each weekday and in each month. Wall-clock times count, so a day at which the
// clock is changed has shifts of their real length. Events outside the periods are
// left out.
func (c Calendar) By(events []time.Time, periods []Period, confidence float64, seed uint64) ByCalendar {
	shifts := 1
	if c.Shift > 0 {
		shifts = max(1, int(24*time.Hour/c.Shift))
	}
	counts := [3][]int{make([]int, shifts), make([]int, 7), make([]int, 12)}
	exposure := [3][]float64{make([]float64, shifts), make([]float64, 7), make([]float64, 12)}
	for _, p := range periods {
		for at := p.From; at.Before(p.To); {
			next := c.next(at)
			if next.After(p.To) {
				next = p.To
			}
			for k, i := range c.groups(at, shifts) {
				exposure[k][i] += next.Sub(at).Seconds()
			}
			at = next
		}
	}
	for _, at := range events {
		if !slices.ContainsFunc(periods, func(p Period) bool { return !at.Before(p.From) && at.Before(p.To) }) {
			continue
		}
		for k, i := range c.groups(at, shifts) {
			counts[k][i]++
		}
	}
	even := func(k int) Evenness { return Even(counts[k], exposure[k], confidence, seed) }
	return ByCalendar{even(0), even(1), even(2)}
}

// groups are the shift, weekday and month of a time. A shift that passes midnight
// belongs to the day that it is in.
func (c Calendar) groups(at time.Time, shifts int) [3]int {
	shift := 0
	if c.Shift > 0 {
		since := clock(at) - c.Begins
		if since < 0 {
			since += 24 * time.Hour
		}
		shift = int(since/c.Shift) % shifts
	}
	return [3]int{shift, int(at.Weekday()), int(at.Month()) - 1}
}

// clock is the time since midnight that a clock shows.
func clock(at time.Time) time.Duration {
	return time.Duration(at.Hour())*time.Hour + time.Duration(at.Minute())*time.Minute + time.Duration(at.Second())*time.Second + time.Duration(at.Nanosecond())
}

// next is the first time after at when a shift or a day begins.
func (c Calendar) next(at time.Time) time.Time {
	y, m, d := at.Date()
	next := time.Date(y, m, d+1, 0, 0, 0, 0, at.Location())
	if c.Shift > 0 {
		for begin := c.Begins % c.Shift; begin < 24*time.Hour; begin += c.Shift {
			t := time.Date(y, m, d, 0, 0, int(begin/time.Second), int(begin%time.Second), at.Location())
			if t.After(at) && t.Before(next) {
				return t
			}
		}
	}
	return next
}
