package model

import "strings"

// Numbers as people write them are scanned by hand: the engine for regular
// expressions and its tables are half a megabyte in a program for a browser.

// spaces are what may stand between words.
const spaces = "\t\n\f\r "

// LeadingNumber is the number that a text begins with, its decimals after any of the
// points: a sign, digits with at most one point, and a power of ten, as in
// "-2.5e3"; "" when it begins with none.
func LeadingNumber(text, points string) string {
	i := sign(text)
	whole := digits(text[i:])
	i += whole
	if i < len(text) && strings.IndexByte(points, text[i]) >= 0 {
		part := digits(text[i+1:])
		if whole+part == 0 {
			return ""
		}
		i += 1 + part
	} else if whole == 0 {
		return ""
	}
	return text[:i+power(text[i:])]
}

// LeadingDigits is the same for a number that is written with any of some marks
// among its digits, between thousands or at a point, and with at least one of them or
// a digit.
func LeadingDigits(text, marks string) string {
	i := sign(text)
	n := runOf(text[i:], "0123456789"+marks)
	if n == 0 {
		return ""
	}
	i += n
	return text[:i+power(text[i:])]
}

// sign is how many bytes of a sign a text begins with.
func sign(text string) int {
	if text != "" && (text[0] == '+' || text[0] == '-') {
		return 1
	}
	return 0
}

// digits is how many digits a text begins with.
func digits(text string) int { return runOf(text, "0123456789") }

// runOf is how many bytes of a set a text begins with.
func runOf(text, set string) int { return len(text) - len(strings.TrimLeft(text, set)) }

// power is how long the power of ten is that a text begins with: "e3", "E-12".
func power(text string) int {
	if text == "" || text[0] != 'e' && text[0] != 'E' {
		return 0
	}
	i := 1 + sign(text[1:])
	if n := digits(text[i:]); n > 0 {
		return i + n
	}
	return 0
}

// notFinite says that a text begins with "nan" or "inf", signed or not.
func notFinite(text string) bool {
	text = text[sign(text):]
	return len(text) >= 3 && (strings.EqualFold(text[:3], "nan") || strings.EqualFold(text[:3], "inf"))
}

// looseNumber is the number that a text begins with in any of the ways in which
// thousands are parted.
func looseNumber(text string) string {
	i := sign(text)
	n := runOf(text[i:], "0123456789.,")
	if n == 0 {
		return ""
	}
	for i += n; ; {
		gap := runOf(text[i:], "'’_ \u00a0\u2009\u202f")
		if gap == 0 || digits(text[i+gap:]) == 0 {
			break
		}
		i += gap
		i += runOf(text[i:], "0123456789.,")
	}
	return text[:i+power(text[i:])]
}

// grouped says that a number with one comma may have it between thousands.
func grouped(s string) bool {
	head, tail, one := strings.Cut(s[sign(s):], ",")
	n := digits(head)
	return one && n == len(head) && 1 <= n && n <= 3 && len(tail) == 3 && digits(tail) == 3
}

// splitPer parts a unit at the first "/", "per" or "p.": "m per min" is "m" and "min".
func splitPer(name string) []string {
	for i := range len(name) {
		n := 0
		switch rest := name[i:]; {
		case rest[0] == '/':
			n = 1
		case i > 0 && wordByte(name[i-1]):
		case strings.HasPrefix(rest, "p."):
			n = 2
		case strings.HasPrefix(rest, "per") && (len(rest) == 3 || !wordByte(rest[3])):
			n = 3
		}
		if n > 0 {
			return []string{strings.TrimRight(name[:i], spaces), strings.TrimLeft(name[i+n:], spaces)}
		}
	}
	return []string{name}
}

// wordByte says that a byte belongs to a word.
func wordByte(c byte) bool {
	return c == '_' || '0' <= c && c <= '9' || 'a' <= c && c <= 'z' || 'A' <= c && c <= 'Z'
}
