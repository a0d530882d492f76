package toml

import (
	"strconv"
	"strings"
)

// Moment is a date, a time or both, as it is written.
type Moment string

// scalar reads a value that stands in no quotes, brackets or braces.
func (r *reader) scalar() any {
	length := func(from int) int {
		if i := strings.IndexAny(r.text[from:], " \t\r\n,#]}="); i >= 0 {
			return i
		}
		return len(r.text) - from
	}
	word := r.text[r.at : r.at+length(r.at)]
	if end := r.at + len(word); isDate(word) && end+1 < len(r.text) && r.text[end] == ' ' && digit(r.text[end+1]) {
		word = r.text[r.at : end+1+length(end+1)] // a time, after a space
	}
	switch word {
	case "":
		r.fail(`"text"`, "%s stands where a value was to be", r.shown())
		return nil
	case "true", "false":
		r.at += len(word)
		return word == "true"
	}
	v, what := number(word)
	if what != "" && isMoment(word) {
		v, what = Moment(word), ""
	}
	if what != "" {
		r.fail(`"`+strings.ReplaceAll(word, `"`, "")+`"`, "%s %s", word, what)
		return nil
	}
	r.at += len(word)
	return v
}

func digit(c byte) bool  { return c >= '0' && c <= '9' }
func hex(c byte) bool    { return digit(c) || c >= 'a' && c <= 'f' || c >= 'A' && c <= 'F' }
func octal(c byte) bool  { return c >= '0' && c <= '7' }
func binary(c byte) bool { return c == '0' || c == '1' }

// allOf says that there is something, all of it of a kind.
func allOf(s string, kind func(byte) bool) bool {
	for i := range len(s) {
		if !kind(s[i]) {
			return false
		}
	}
	return s != ""
}

// figures says that a text is digits, with underscores between them at most.
func figures(s string, kind func(byte) bool) bool {
	for part := range strings.SplitSeq(s, "_") {
		if !allOf(part, kind) {
			return false
		}
	}
	return true
}

// whole says that a text is a whole number as it is written, without its sign: digits,
// of which the first is 0 only where it is all.
func whole(s string) bool { return figures(s, digit) && (s[0] != '0' || s == "0") }

// number reads a number; what is wrong where it is none.
func number(word string) (v any, what string) {
	const none = "is neither text in quotes, nor a number, true or false"
	plain := strings.ReplaceAll(word, "_", "")
	unsigned := strings.TrimPrefix(strings.TrimPrefix(word, "+"), "-")
	if len(unsigned) < len(word)-1 {
		return nil, none
	}
	if unsigned == "inf" || unsigned == "nan" {
		x, _ := strconv.ParseFloat(unsigned, 64)
		if word[0] == '-' {
			x = -x
		}
		return x, ""
	}
	kinds := map[string]func(byte) bool{"0x": hex, "0o": octal, "0b": binary}
	if kind := kinds[word[:min(2, len(word))]]; kind != nil && figures(word[2:], kind) || whole(unsigned) {
		n, err := strconv.ParseInt(plain, 0, 64)
		if err != nil {
			return nil, "is too large a whole number"
		}
		return n, ""
	}
	before, exponent, scaled := strings.Cut(strings.ToLower(unsigned), "e")
	before, after, broken := strings.Cut(before, ".")
	exponent = strings.TrimPrefix(exponent, "+")
	if len(exponent) > 1 && exponent[0] == '-' {
		exponent = exponent[1:]
	}
	switch {
	case before == "" || !whole(before), broken && !figures(after, digit), scaled && !figures(exponent, digit), !scaled && !broken:
		return nil, none
	}
	x, err := strconv.ParseFloat(plain, 64)
	if err != nil {
		return nil, "is too large a number"
	}
	return x, ""
}

// field is a number of two digits below a limit, from a place of s.
func field(s string, at, least, below int) bool {
	if len(s) < at+2 || !allOf(s[at:at+2], digit) {
		return false
	}
	n, _ := strconv.Atoi(s[at : at+2])
	return n >= least && n < below
}

// isDate says that a text is a day of the calendar, 2026-03-02.
func isDate(s string) bool {
	if len(s) != 10 || !allOf(s[:4], digit) || s[4] != '-' || s[7] != '-' || !field(s, 5, 1, 13) {
		return false
	}
	year, _ := strconv.Atoi(s[:4])
	days := [...]int{31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31}
	month, _ := strconv.Atoi(s[5:7])
	last := days[month-1]
	if month == 2 && year%4 == 0 && (year%100 != 0 || year%400 == 0) {
		last++
	}
	return field(s, 8, 1, last+1)
}

// isTime says that a text is a time of the day, 06:00 or 06:00:00.5.
func isTime(s string) bool {
	if len(s) < 5 || s[2] != ':' || !field(s, 0, 0, 24) || !field(s, 3, 0, 60) {
		return false
	}
	s = s[5:]
	if s == "" {
		return true
	}
	seconds, parts, broken := strings.Cut(s, ".")
	return len(seconds) == 3 && seconds[0] == ':' && field(seconds, 1, 0, 60) && (!broken || allOf(parts, digit))
}

// isMoment says that a text is a date, a time, or both with a zone or none.
func isMoment(s string) bool {
	if isDate(s) || isTime(s) {
		return true
	}
	if len(s) < 16 || !isDate(s[:10]) || !strings.ContainsRune("Tt ", rune(s[10])) {
		return false
	}
	s = s[11:]
	if z := s[len(s)-1]; z == 'Z' || z == 'z' {
		return isTime(s[:len(s)-1])
	}
	if i := strings.LastIndexAny(s, "+-"); i >= 0 {
		zone := s[i+1:]
		return len(zone) == 5 && zone[2] == ':' && field(zone, 0, 0, 24) && field(zone, 3, 0, 60) && isTime(s[:i])
	}
	return isTime(s)
}
