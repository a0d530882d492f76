package written

import (
	"math"
	"strconv"
	"strings"
)

// Marks counts what the numbers of a column say of their decimal mark.
type Marks struct {
	Comma, Point, Either int // rows of each; Either: 1,234 or 1.234 alone
	CommaRow, PointRow   int // the first of them
}

// Note takes a number into account.
func (m *Marks) Note(text string, row int) {
	n := leading(text)
	c, p := strings.Count(n, ","), strings.Count(n, ".")
	last := strings.LastIndexAny(n, ",.")
	comma := false
	switch {
	case last < 0:
		return
	case c > 0 && p > 0:
		comma = n[last] == ','
	case c > 1:
		comma = false // 1,234,567
	case p > 1:
		comma = true
	case len(n)-last == 4 && last > 0 && last <= 3 && n[0] != '0':
		m.Either++
		return
	default:
		comma = c > 0
	}
	if comma {
		if m.Comma++; m.CommaRow == 0 {
			m.CommaRow = row
		}
	} else if m.Point++; m.PointRow == 0 {
		m.PointRow = row
	}
}

// leading is the number at the beginning of a text: a sign, digits, Marks, and
// spaces or apostrophes between thousands.
func leading(s string) string {
	end := 0
	for i, r := range s {
		switch {
		case r >= '0' && r <= '9':
			end = i + 1
		case i == 0 && (r == '-' || r == '+' || r == '−'), r == ',', r == '.':
		case (r == ' ' || r == '\'' || r == '’' || r == '\u00a0' || r == '\u202f') && end > 0 && threeDigits(s[i+len(string(r)):]):
		default:
			return s[:end]
		}
	}
	return s[:end]
}

func threeDigits(s string) bool {
	for i := range 3 {
		if i >= len(s) || s[i] < '0' || s[i] > '9' {
			return false
		}
	}
	return len(s) == 3 || s[3] < '0' || s[3] > '9'
}

// Number reads the number at the beginning of a text, and what follows it; false
// when there is none, or what parts its thousands does not.
func Number(s string, decimal byte) (x float64, rest string, ok bool) {
	n := leading(s)
	if n == "" {
		return 0, s, false
	}
	rest = strings.TrimSpace(s[len(n):])
	var b []byte
	digits, point := 0, false // since what parts thousands; whether the decimals have begun
	for i, r := range n {
		switch {
		case r == rune(decimal):
			point = true
			b = append(b, '.')
		case r >= '0' && r <= '9':
			digits++
			b = append(b, byte(r))
		case r == '+':
		case r == '-' || r == '−':
			b = append(b, '-')
		default: // what parts thousands
			if point || digits < 1 || digits > 3 || !threeDigits(n[i+len(string(r)):]) {
				return 0, rest, false
			}
			digits = 0
		}
	}
	x, err := strconv.ParseFloat(string(b), 64)
	return x, rest, err == nil && !math.IsInf(x, 0)
}
