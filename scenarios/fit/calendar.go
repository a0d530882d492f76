package fit

import (
	"sort"
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

// Exposure is the time of periods by group: what rates of events are held against.
type Exposure struct {
	calendar Calendar
	periods  []Period
	of       [3][]float64 // s, by shift, weekday, month
}

// Over adds up periods, which follow one another, by group. Wall-clock times count,
// so a day at which the clock is changed has shifts of their real length.
func (c Calendar) Over(periods []Period) *Exposure {
	x := &Exposure{calendar: c, periods: periods, of: [3][]float64{make([]float64, c.shifts()), make([]float64, 7), make([]float64, 12)}}
	for _, p := range periods {
		for at := p.From; at.Before(p.To); {
			next := c.next(at)
			if next.After(p.To) {
				next = p.To
			}
			for k, i := range c.groups(at) {
				x.of[k][i] += next.Sub(at).Seconds()
			}
			at = next
		}
	}
	return x
}

// By tests whether events come as often in each shift, on each weekday and in each
// month. Events outside the periods are left out.
func (x *Exposure) By(events []time.Time, confidence float64, seed uint64) ByCalendar {
	var counts [3][]int
	for k := range counts {
		counts[k] = make([]int, len(x.of[k]))
	}
	for _, at := range events {
		i := sort.Search(len(x.periods), func(i int) bool { return x.periods[i].From.After(at) })
		if i == 0 || !at.Before(x.periods[i-1].To) {
			continue
		}
		for k, i := range x.calendar.groups(at) {
			counts[k][i]++
		}
	}
	even := func(k int) Evenness { return Even(counts[k], x.of[k], confidence, seed) }
	return ByCalendar{even(0), even(1), even(2)}
}

// shifts is how many a day has.
func (c Calendar) shifts() int {
	if c.Shift <= 0 {
		return 1
	}
	return max(1, int(24*time.Hour/c.Shift))
}

// groups are the shift, weekday and month of a time. A shift that passes midnight
// belongs to the day that it is in.
func (c Calendar) groups(at time.Time) [3]int {
	shift := 0
	if c.Shift > 0 {
		since := clock(at) - c.Begins
		if since < 0 {
			since += 24 * time.Hour
		}
		shift = int(since/c.Shift) % c.shifts()
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
	midnight := Shown(y, m, d+1, 0, at.Location())
	if c.Shift > 0 {
		for begin := c.Begins % c.Shift; begin < 24*time.Hour; begin += c.Shift {
			if t := Shown(y, m, d, begin, at.Location()); t.After(at) && t.Before(midnight) {
				return t
			}
		}
	}
	return midnight
}

// Shown is when a clock on the wall shows so much after midnight of a day. Where it is put
// forward over that, which is at midnight in some places, it is by how the clock went
// before; time.Date may take it by how it goes after, which is an hour too early.
func Shown(y int, m time.Month, d int, after time.Duration, place *time.Location) time.Time {
	wanted := time.Date(y, m, d, 0, 0, int(after/time.Second), int(after%time.Second), time.UTC)
	t := time.Date(y, m, d, 0, 0, int(after/time.Second), int(after%time.Second), place)
	_, offset := t.Zone()
	if early := wanted.Sub(t.UTC().Add(time.Duration(offset) * time.Second)); early > 0 {
		return t.Add(early)
	}
	return t
}
