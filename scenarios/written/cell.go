package written

import (
	"math"
	"strings"

	"rollchange/scenarios/cells"
)

// Moment is a date and a time of day as a cell says them.
type Moment struct {
	Is     MomentKind
	Days   int64 // since 1970
	Clock  int64 // ms since midnight
	Dated  bool
	Timed  bool
	Offset int64 // ms east of Greenwich
	Zoned  bool
}

// MomentKind says whether a cell holds a moment.
type MomentKind int8

const (
	Missing   MomentKind = iota // the cell is empty
	Fine                        // it does
	NoMoment                    // what stands there is no date and time
	NoSuchDay                   // the calendar has no such day
)

// ReadMoment reads one cell, a serial number of a spreadsheet or of a machine too.
// With clocks a number may be a time of day.
func ReadMoment(v cells.Value, order DateOrder, date1904, clocks bool) Moment {
	text := strings.TrimSpace(v.Text)
	m := Moment{Is: Fine}
	wrong := func(k MomentKind) Moment { m.Is = k; return m }
	x, isNumber := v.Number, v.Is != cells.Words
	if !isNumber {
		if text == "" {
			return wrong(Missing)
		}
		if s, ok := ParseStamp(text); ok && !(s.Dotted && s.Date == NoDate && !clocks) {
			m.Clock, m.Timed, m.Offset, m.Zoned = s.Clock, s.Timed, s.Offset, s.Zoned
			if s.Date != NoDate {
				if m.Days, m.Dated = s.Days(order); !m.Dated {
					return wrong(NoSuchDay)
				}
			}
			return m
		}
		if len(text) > longestStamp {
			return wrong(NoMoment)
		}
		var rest string
		decimal := byte('.')
		if strings.Count(text, ",") == 1 && !strings.Contains(text, ".") {
			decimal = ','
		}
		if x, rest, isNumber = Number(text, decimal); !isNumber || rest != "" {
			return wrong(NoMoment)
		}
	}
	switch ms := Unix(x); {
	case ms > 0:
		m.Days, m.Clock, m.Dated, m.Timed, m.Zoned = ms/day, ms%day, true, true, true
	case Serial(x):
		epoch := int64(25569) // 1970 counted from 30 December 1899
		if date1904 {
			epoch = 24107
		}
		s := int64(math.Round(x * 86400)) // a serial number is good to a second, not to a millisecond
		m.Days, m.Clock, m.Dated, m.Timed = s/86400-epoch, s%86400*second, true, true
		if v.Is == cells.Moment && x == math.Trunc(x) && !strings.Contains(text, ":") {
			m.Timed = false // a day alone
		}
	case x >= 0 && x <= 1 && (clocks || v.Is == cells.Moment):
		m.Clock, m.Timed = int64(math.Round(x*86400))*second, true
	default:
		return wrong(NoMoment)
	}
	return m
}

// Serial says whether a number can be the day of a spreadsheet: 1954 to 2119.
func Serial(x float64) bool { return x >= 20_000 && x < 80_000 }

// Unix is what a number is in ms since 1970, when it can be one that a machine
// wrote (2001 to 2096); else 0.
func Unix(x float64) int64 {
	switch {
	case x >= 1e9 && x < 4e9:
		return int64(x * second)
	case x >= 1e12 && x < 4e12:
		return int64(x)
	}
	return 0
}
