package records

import "time"

// placed is where a moment lies on the line of time.
type placed int8

const (
	once  placed = iota
	never        // the clock was put forward over it
	twice        // the clock was put back over it
)

// instant is the moment on the line of time, ms: since 1970 where there is a zone
// or the times say how far they are from Greenwich, else on the clock on the
// wall. Where the clock was put back, second is the later one.
func (r *reader) instant(wall int64, m *moment) (first, second int64, is placed) {
	return onLine(wall, m.Offset, m.Zoned, r.opt.Zone)
}

func onLine(wall, offset int64, zoned bool, zone *time.Location) (first, second int64, is placed) {
	if zoned {
		return wall - offset, wall - offset, once
	}
	if zone == nil {
		return wall, wall, once
	}
	// The offsets of the day before and of the day after: one of them holds at any
	// moment about a change, and both do where there is none.
	of := func(t int64) int64 {
		_, o := time.UnixMilli(t).In(zone).Zone()
		return int64(o) * 1000
	}
	a, b := of(wall-day), of(wall+day)
	one, two := wall-a, wall-b
	okOne, okTwo := of(one) == a, of(two) == b
	switch {
	case okOne && okTwo && one != two:
		return min(one, two), max(one, two), twice
	case okOne:
		return one, one, once
	case okTwo:
		return two, two, once
	}
	return wall - b, wall - b, never
}

// wallOf is the time on the clock on the wall, ms.
func wallOf(t time.Time) int64 {
	_, offset := t.Zone()
	return t.UnixMilli() + int64(offset)*1000
}

// timeOf is a moment of the line of time, as results show it.
func timeOf(t int64, zone *time.Location) time.Time {
	if zone == nil {
		return time.UnixMilli(t).UTC()
	}
	return time.UnixMilli(t).In(zone)
}
