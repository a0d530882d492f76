package written

import (
	"math"
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"
)

// Span is a duration as it was written.
type Span struct {
	Form SpanForm
	X    float64 // Bare: the number; Whole: ms
	A, B float64 // Pair: what stands before and after the colon
}

// SpanForm is how a duration was written.
type SpanForm int8

const (
	NoSpan SpanForm = iota
	Bare            // 12: the unit is that of the column
	Whole           // 12 min, 1:02:03: the unit is there
	Pair            // 0:12: h:mm, or mm:ss
)

// ParseSpan reads a duration; its form is NoSpan when it is none.
func ParseSpan(s string, decimal byte) Span {
	s = strings.TrimSpace(s)
	if s == "" || len(s) > longestStamp {
		return Span{}
	}
	minus := 1.0
	if r, n := utf8.DecodeRuneInString(s); r == '-' || r == '−' {
		minus, s = -1, strings.TrimSpace(s[n:])
	}
	if strings.Contains(s, ":") {
		return colons(s, minus)
	}
	if r, ok := strings.CutPrefix(s, "PT"); ok { // ISO 8601
		s = r
	}
	total, last, read := 0.0, 0.0, false
	for rest := s; rest != ""; read = true {
		x, after, ok := Number(rest, decimal)
		if !ok || x < 0 {
			return Span{}
		}
		end := len(after)
		for i, r := range after {
			if r >= '0' && r <= '9' || r == ' ' {
				end = i
				break
			}
		}
		word := after[:end]
		rest = strings.TrimSpace(after[end:])
		unit := UnitOf(word)
		switch {
		case word == "" && !read && rest == "":
			return Span{Form: Bare, X: minus * x}
		case word == "" && read && last == hour && rest == "": // 1h05
			unit = minute
		case unit == 0:
			return Span{}
		}
		total, last = total+x*unit, unit
	}
	return Span{Form: Whole, X: minus * total}
}

// colons reads 0:12, 1:02:03 and the like, with a unit of its own or without.
func colons(s string, minus float64) Span {
	end := strings.LastIndexFunc(s, unicode.IsDigit) + 1
	unit := UnitOf(s[end:])
	if rest := strings.TrimSpace(s[end:]); rest != "" && unit == 0 || strings.Contains(rest, ":") {
		return Span{}
	}
	parts := strings.Split(s[:end], ":")
	var x [3]float64
	for i, p := range parts {
		if i > 2 || p == "" || len(p) > 9 {
			return Span{}
		}
		p = strings.TrimSpace(p)
		if i == len(parts)-1 {
			p = strings.Replace(p, ",", ".", 1)
		}
		v, err := strconv.ParseFloat(p, 64)
		if err != nil || v < 0 || strings.Trim(p, "0123456789.") != "" || i > 0 && v >= 60 || i < len(parts)-1 && strings.Contains(p, ".") {
			return Span{}
		}
		x[i] = v
	}
	switch {
	case len(parts) == 3:
		return Span{Form: Whole, X: minus * (x[0]*hour + x[1]*minute + x[2]*second)}
	case unit == hour:
		return Span{Form: Whole, X: minus * (x[0]*hour + x[1]*minute)}
	case unit == minute:
		return Span{Form: Whole, X: minus * (x[0]*minute + x[1]*second)}
	case strings.Contains(parts[1], "."): // a fraction is one of seconds
		return Span{Form: Whole, X: minus * (x[0]*minute + x[1]*second)}
	}
	return Span{Form: Pair, A: minus * x[0], B: minus * x[1]}
}

// Ms is the duration in milliseconds: unit is that of a Bare number, of a Pair
// that of what stands before the colon. False when it is none that can be.
func (s Span) Ms(unit, pairUnit float64) (int64, bool) {
	x := s.X
	switch s.Form {
	case Bare:
		x *= unit
	case Pair:
		x = s.A*pairUnit + s.B*pairUnit/60
	case NoSpan:
		return 0, false
	}
	if math.Abs(x) > 100*365*day {
		return 0, false
	}
	return int64(math.Round(x)), true
}

// UnitOf is a unit of time in ms, as it is written in one of a few languages; 0:
// it is none.
func UnitOf(word string) float64 {
	switch strings.TrimSpace(word) {
	case "'", "’", "′":
		return minute
	case `"`, "″", "''":
		return second
	}
	return units[Fold(word)]
}

var units = func() map[string]float64 {
	m := map[string]float64{}
	for unit, names := range map[float64]string{
		second: "s sec secs second seconds sek sekunde sekunden seconde secondes seg segundo segundos secondo secondi segundos sekund sekundy sekunder vterin",
		minute: "m min mins mn minute minutes minuten minut minuto minutos minuti minuut minuty minuta minuter minutter mina",
		hour:   "h hr hrs hour hours std stunde stunden heure heures hora horas ora ore u uur uren godz godzina godziny timme timmar timer time tim hod hodina hodin",
		day:    "d day days tag tage jour jours dia dias giorno giorni dag dagen dni",
	} {
		for name := range strings.FieldsSeq(names) {
			m[name] = unit
		}
	}
	delete(m, "time") // Danish for an hour, and the head of a time of day
	return m
}()
