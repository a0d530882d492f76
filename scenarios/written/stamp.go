package written

import (
	"strings"
	"unicode"
	"unicode/utf8"
)

// Milliseconds.
const (
	second = 1000
	minute = 60 * second
	hour   = 60 * minute
	day    = 24 * hour
)

// Stamp is a date, a time of day or both, as it was written.
type Stamp struct {
	Date   DateForm
	A, B   int   // the day and the month as they were written; B, or Year, month, day
	Year   int   // four digits
	Clock  int64 // time of day, ms
	Timed  bool
	Dotted bool  // the time is 14.05: it may be a number
	Half   bool  // am or pm
	Offset int64 // ms east of Greenwich, when the stamp says so
	Zoned  bool
}

// DateForm is how a date was written.
type DateForm int8

const (
	NoDate    DateForm = iota
	OfYear             // 2026-12-31: A is the month, B the day
	Named              // 31 Dec 2026: A is the month, B the day
	TwoDots            // 31.12.2026: A, B as written
	TwoOthers          // 31/12/2026, 12-31-2026: A, B as written
)

// DateOrder says how a date in numbers is written.
type DateOrder int8

const (
	Undecided  DateOrder = iota
	DayFirst             // 31/12/2026
	MonthFirst           // 12/31/2026
)

// longestStamp is how long a date and a time may be, bytes.
const longestStamp = 80

// ParseStamp reads a date, a time of day or both in any of the usual ways; false
// when it is none.
func ParseStamp(s string) (Stamp, bool) {
	s = strings.TrimSpace(s)
	if s == "" || len(s) > longestStamp {
		return Stamp{}, false
	}
	p := stampReader{s: s}
	for p.at < len(p.s) {
		if !p.part() {
			return Stamp{}, false
		}
	}
	return p.whole()
}

// stampReader reads a stamp from left to right.
type stampReader struct {
	s     string
	at    int
	out   Stamp
	month int   // by its name
	loose []int // numbers beside the name of a month
	wide  []int // how many digits they have
	pm    int8  // 1 am, 2 pm
}

// part reads the next thing; false when there is none that belongs here.
func (p *stampReader) part() bool {
	r, n := utf8.DecodeRuneInString(p.s[p.at:])
	switch {
	case r == ' ' || r == ',' || r == '\u00a0' || r == '\u202f':
		p.at += n
		return true
	case r >= '0' && r <= '9':
		return p.number()
	case unicode.IsLetter(r):
		return p.word()
	case r == '.' && (p.month > 0 || p.pm > 0 || len(p.loose) > 0): // an abbreviation's
		p.at++
		return true
	case (r == '-' || r == '/' || r == '\'') && (p.month > 0 || len(p.loose) > 0) && !p.out.Timed: // 14-Mar-26
		p.at++
		return true
	case (r == '+' || r == '-') && p.out.Timed && p.out.Date != NoDate && !p.out.Zoned:
		return p.shift(r == '-')
	}
	return false
}

// digits reads a run of digits, 14 at most.
func (p *stampReader) digits() (value, wide int) {
	for p.at < len(p.s) && p.s[p.at] >= '0' && p.s[p.at] <= '9' && wide < 14 {
		value = value*10 + int(p.s[p.at]-'0')
		wide++
		p.at++
	}
	return value, wide
}

// follows says whether so is next and a digit after it.
func (p *stampReader) follows(so byte) bool {
	return p.at+1 < len(p.s) && p.s[p.at] == so && p.s[p.at+1] >= '0' && p.s[p.at+1] <= '9'
}

// number reads what begins with a digit: a date, a time, or a part of a date
// whose month has a name.
func (p *stampReader) number() bool {
	a, wide := p.digits()
	if wide == 8 && p.out.Date == NoDate && p.month == 0 { // 20261231
		p.out.Date, p.out.Year, p.out.A, p.out.B = OfYear, a/10000, a/100%100, a%100
		return true
	}
	for _, sep := range []byte("-/.") {
		if p.out.Date != NoDate || p.month > 0 || !p.follows(sep) {
			continue
		}
		before := p.at
		p.at++
		b, wideB := p.digits()
		if !p.follows(sep) {
			p.at = before
			break
		}
		p.at++
		c, wideC := p.digits()
		switch {
		case wide == 4 && wideB <= 2 && wideC <= 2:
			p.out.Date, p.out.Year, p.out.A, p.out.B = OfYear, a, b, c
		case wide <= 2 && wideB <= 2 && (wideC == 4 || wideC == 2):
			if sep == '.' && p.at < len(p.s) && p.s[p.at] == '.' {
				return false
			}
			p.out.Date, p.out.A, p.out.B, p.out.Year = TwoOthers, a, b, century(c, wideC)
			if sep == '.' {
				p.out.Date = TwoDots
			}
		default:
			return false
		}
		return true
	}
	if p.out.Timed || wide > 4 {
		return p.collect(a, wide)
	}
	switch {
	case p.follows(':') && wide <= 2:
		return p.clock(a, ':')
	case p.follows('.') && wide <= 2 && p.month == 0:
		p.out.Dotted = true
		return p.clock(a, '.')
	case (p.follows('h') || p.follows('H')) && wide <= 2: // 14h05
		return p.clock(a, p.s[p.at])
	case wide == 4 && p.out.Date == OfYear: // 20261231T1405
		p.out.Clock, p.out.Timed = int64(a/100)*hour+int64(a%100)*minute, true
		return a%100 < 60
	case wide <= 2 && p.halfFollows(): // 2 pm
		p.out.Clock, p.out.Timed = int64(a)*hour, true
		return true
	}
	return p.collect(a, wide)
}

// collect keeps a number that belongs to a month with a name.
func (p *stampReader) collect(a, wide int) bool {
	if wide == 6 && p.out.Date == OfYear && !p.out.Timed { // 20261231T140500
		p.out.Clock, p.out.Timed = int64(a/10000)*hour+int64(a/100%100)*minute+int64(a%100)*second, true
		return a/100%100 < 60 && a%100 < 60
	}
	if p.out.Date != NoDate || len(p.loose) == 2 || wide > 4 || wide == 3 {
		return false
	}
	p.loose, p.wide = append(p.loose, a), append(p.wide, wide)
	return true
}

// halfFollows says whether am or pm is next.
func (p *stampReader) halfFollows() bool {
	rest := strings.ToLower(strings.TrimSpace(p.s[p.at:]))
	for _, half := range []string{"am", "pm", "a.m", "p.m"} {
		if strings.HasPrefix(rest, half) {
			return true
		}
	}
	return false
}

// clock reads the rest of a time of day after its hour.
func (p *stampReader) clock(h int, sep byte) bool {
	p.at++
	m, wide := p.digits()
	if wide != 2 || m > 59 || h > 24 {
		return false
	}
	t := int64(h)*hour + int64(m)*minute
	if p.follows(sep) && (sep == ':' || sep == '.') {
		p.at++
		s, wide := p.digits()
		if wide != 2 || s > 59 {
			return false
		}
		t += int64(s) * second
		if p.follows('.') || p.follows(',') {
			p.at++
			f, wide := p.digits()
			for ; wide > 3; wide-- {
				f /= 10
			}
			for ; wide < 3; wide++ {
				f *= 10
			}
			t += int64(f)
		}
	}
	if t > day {
		return false
	}
	p.out.Clock, p.out.Timed = t, true
	return true
}

// shift reads an offset from Greenwich: +01:00, +0100, +01.
func (p *stampReader) shift(west bool) bool {
	p.at++
	h, wide := p.digits()
	m := 0
	switch {
	case wide == 4:
		h, m = h/100, h%100
	case wide != 2:
		return false
	case p.follows(':'):
		p.at++
		if m, wide = p.digits(); wide != 2 {
			return false
		}
	}
	if h > 14 || m > 59 {
		return false
	}
	p.out.Offset, p.out.Zoned = int64(h)*hour+int64(m)*minute, true
	if west {
		p.out.Offset = -p.out.Offset
	}
	return true
}

// word reads what begins with a letter.
func (p *stampReader) word() bool {
	start := p.at
	for p.at < len(p.s) {
		r, n := utf8.DecodeRuneInString(p.s[p.at:])
		if !unicode.IsLetter(r) && !unicode.Is(unicode.Mn, r) && !(r == '.' && (p.at-start == 1 && p.at+1 < len(p.s) && strings.ContainsRune("mM", rune(p.s[p.at+1])))) {
			break
		}
		p.at += n
	}
	w := Fold(p.s[start:p.at])
	switch w {
	case "am", "a m":
		p.pm = 1
		return p.out.Timed
	case "pm", "p m":
		p.pm = 2
		return p.out.Timed
	case "t":
		return p.out.Date != NoDate && !p.out.Timed
	case "z", "utc", "gmt":
		p.out.Zoned = true
		return p.out.Timed
	case "h", "uhr", "klo":
		return p.out.Timed
	case "at", "um", "a", "kl":
		return p.out.Date != NoDate || p.month > 0
	case "de", "den", "of", "st", "nd", "rd", "th", "er":
		return len(p.loose) > 0 || p.month > 0 || start == 0
	}
	if m := monthOf(w); m > 0 && p.month == 0 && p.out.Date == NoDate {
		p.month = m
		return true
	}
	return start == 0 && weekday(w)
}

// whole puts the parts together.
func (p *stampReader) whole() (Stamp, bool) {
	o := p.out
	if p.month > 0 {
		if len(p.loose) != 2 || o.Date != NoDate {
			return o, false
		}
		d, y, wide := p.loose[0], p.loose[1], p.wide[1]
		if p.wide[0] == 4 { // 2026 Dec 31
			d, y, wide = y, d, 4
		}
		o.Date, o.A, o.B, o.Year = Named, p.month, d, century(y, wide)
	} else if len(p.loose) > 0 {
		return o, false
	}
	if p.pm > 0 {
		h := o.Clock / hour
		if h < 1 || h > 12 {
			return o, false
		}
		o.Half = true
		o.Clock -= h / 12 * 12 * hour // 12 am is midnight
		if p.pm == 2 {
			o.Clock += 12 * hour
		}
	}
	return o, o.Timed || o.Date != NoDate
}

// century is a year of four digits; of two, 70 to 99 are of the last century, as
// POSIX has it.
func century(y, wide int) int {
	switch {
	case wide > 2:
		return y
	case y >= 70:
		return 1900 + y
	}
	return 2000 + y
}

// Days is the date in days since 1970; false when the calendar has no such day.
func (s *Stamp) Days(order DateOrder) (int64, bool) {
	m, d := s.A, s.B
	if (s.Date == TwoDots || s.Date == TwoOthers) && order != MonthFirst {
		m, d = d, m
	}
	if m < 1 || m > 12 || d < 1 || d > daysOf(s.Year, m) || s.Year < 1900 || s.Year > 2199 {
		return 0, false
	}
	y := int64(s.Year)
	if m <= 2 {
		y--
	}
	// Days of the proleptic Gregorian calendar, counted from 1 March.
	era := y / 400
	inEra := y - era*400
	inYear := int64((153*((m+9)%12)+2)/5 + d - 1)
	return era*146097 + inEra*365 + inEra/4 - inEra/100 + inYear - 719468, true
}

func daysOf(year, month int) int {
	switch month {
	case 2:
		if year%4 == 0 && (year%100 != 0 || year%400 == 0) {
			return 29
		}
		return 28
	case 4, 6, 9, 11:
		return 30
	}
	return 31
}
