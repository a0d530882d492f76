package records

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

// stamp is a date, a time of day or both, as it was written.
type stamp struct {
	date   dateForm
	a, b   int   // the day and the month as they were written; b, or y, m, d
	year   int   // four digits
	clock  int64 // time of day, ms
	timed  bool
	meta   stampMeta
	offset int64 // ms east of Greenwich, when the stamp says so
	zoned  bool
}

// dateForm is how a date was written.
type dateForm int8

const (
	noDate    dateForm = iota
	ofYear             // 2026-12-31: a is the month, b the day
	named              // 31 Dec 2026: a is the month, b the day
	twoDots            // 31.12.2026: a, b as written
	twoOthers          // 31/12/2026, 12-31-2026: a, b as written
)

// stampMeta is what else is of interest of how it was written.
type stampMeta struct {
	dotted bool // the time is 14.05: it may be a number
	half   bool // am or pm
}

// longestStamp is how long a date and a time may be, bytes.
const longestStamp = 80

// parseStamp reads a date, a time of day or both in any of the usual ways.
func parseStamp(s string) (stamp, bool) {
	s = strings.TrimSpace(s)
	if s == "" || len(s) > longestStamp {
		return stamp{}, false
	}
	p := stampReader{s: s}
	for p.at < len(p.s) {
		if !p.part() {
			return stamp{}, false
		}
	}
	return p.whole()
}

// stampReader reads a stamp from left to right.
type stampReader struct {
	s     string
	at    int
	out   stamp
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
	case (r == '-' || r == '/' || r == '\'') && (p.month > 0 || len(p.loose) > 0) && !p.out.timed: // 14-Mar-26
		p.at++
		return true
	case (r == '+' || r == '-') && p.out.timed && p.out.date != noDate && !p.out.zoned:
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
	if wide == 8 && p.out.date == noDate && p.month == 0 { // 20261231
		p.out.date, p.out.year, p.out.a, p.out.b = ofYear, a/10000, a/100%100, a%100
		return true
	}
	for _, sep := range []byte("-/.") {
		if p.out.date != noDate || p.month > 0 || !p.follows(sep) {
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
			p.out.date, p.out.year, p.out.a, p.out.b = ofYear, a, b, c
		case wide <= 2 && wideB <= 2 && (wideC == 4 || wideC == 2):
			if sep == '.' && p.at < len(p.s) && p.s[p.at] == '.' {
				return false
			}
			p.out.date, p.out.a, p.out.b, p.out.year = twoOthers, a, b, century(c, wideC)
			if sep == '.' {
				p.out.date = twoDots
			}
		default:
			return false
		}
		return true
	}
	if p.out.timed || wide > 4 {
		return p.collect(a, wide)
	}
	switch {
	case p.follows(':') && wide <= 2:
		return p.clock(a, ':')
	case p.follows('.') && wide <= 2 && p.month == 0:
		p.out.meta.dotted = true
		return p.clock(a, '.')
	case (p.follows('h') || p.follows('H')) && wide <= 2: // 14h05
		return p.clock(a, p.s[p.at])
	case wide == 4 && p.out.date == ofYear: // 20261231T1405
		p.out.clock, p.out.timed = int64(a/100)*hour+int64(a%100)*minute, true
		return a%100 < 60
	case wide <= 2 && p.halfFollows(): // 2 pm
		p.out.clock, p.out.timed = int64(a)*hour, true
		return true
	}
	return p.collect(a, wide)
}

// collect keeps a number that belongs to a month with a name.
func (p *stampReader) collect(a, wide int) bool {
	if wide == 6 && p.out.date == ofYear && !p.out.timed { // 20261231T140500
		p.out.clock, p.out.timed = int64(a/10000)*hour+int64(a/100%100)*minute+int64(a%100)*second, true
		return a/100%100 < 60 && a%100 < 60
	}
	if p.out.date != noDate || len(p.loose) == 2 || wide > 4 || wide == 3 {
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
	p.out.clock, p.out.timed = t, true
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
	p.out.offset, p.out.zoned = int64(h)*hour+int64(m)*minute, true
	if west {
		p.out.offset = -p.out.offset
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
		return p.out.timed
	case "pm", "p m":
		p.pm = 2
		return p.out.timed
	case "t":
		return p.out.date != noDate && !p.out.timed
	case "z", "utc", "gmt":
		p.out.zoned = true
		return p.out.timed
	case "h", "uhr", "klo":
		return p.out.timed
	case "at", "um", "a", "kl":
		return p.out.date != noDate || p.month > 0
	case "de", "den", "of", "st", "nd", "rd", "th", "er":
		return len(p.loose) > 0 || p.month > 0 || start == 0
	}
	if m := monthOf(w); m > 0 && p.month == 0 && p.out.date == noDate {
		p.month = m
		return true
	}
	return start == 0 && weekday(w)
}

// whole puts the parts together.
func (p *stampReader) whole() (stamp, bool) {
	o := p.out
	if p.month > 0 {
		if len(p.loose) != 2 || o.date != noDate {
			return o, false
		}
		d, y, wide := p.loose[0], p.loose[1], p.wide[1]
		if p.wide[0] == 4 { // 2026 Dec 31
			d, y, wide = y, d, 4
		}
		o.date, o.a, o.b, o.year = named, p.month, d, century(y, wide)
	} else if len(p.loose) > 0 {
		return o, false
	}
	if p.pm > 0 {
		h := o.clock / hour
		if h < 1 || h > 12 {
			return o, false
		}
		o.meta.half = true
		o.clock -= h / 12 * 12 * hour // 12 am is midnight
		if p.pm == 2 {
			o.clock += 12 * hour
		}
	}
	return o, o.timed || o.date != noDate
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

// days is the date in days since 1970; false when the calendar has no such day.
func (s *stamp) days(order DateOrder) (int64, bool) {
	m, d := s.a, s.b
	if (s.date == twoDots || s.date == twoOthers) && order != MonthFirst {
		m, d = d, m
	}
	if m < 1 || m > 12 || d < 1 || d > daysOf(s.year, m) || s.year < 1900 || s.year > 2199 {
		return 0, false
	}
	y := int64(s.year)
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
