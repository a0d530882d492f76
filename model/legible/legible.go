// Package legible makes text that others wrote fit for a terminal: keys, names,
// titles, values, heads of columns, names of files, flags. None of it may move
// the cursor, change what stood there, turn the direction of what follows or
// hide letters.
//
//  1. Line makes a text fit for a table: what cannot be shown is left out.
//  2. Visible makes it fit for a message: what cannot be shown is written as an
//     escape, so that a person sees what is wrong. Short does so too, and cuts.
//  3. Writer stands before standard output and standard error and lets nothing
//     else through, whatever the first two have missed.
package legible

import (
	"fmt"
	"strings"
	"unicode"
	"unicode/utf8"
)

// Hidden says whether a rune must not reach a terminal as it is: controls (C0
// and C1, among them what begins an escape sequence), separators of lines and
// paragraphs, and what takes no room: marks of direction, zero-width letters,
// tags, fillers. A line feed and a tab are such too; text of several lines
// passes them on purpose.
//
// The classes are those of the Unicode Character Database: general categories
// Cc, Cf, Zl and Zp, the property Other_Default_Ignorable_Code_Point, and the
// variation selectors beyond the first sixteen, which letters of no script need.
func Hidden(r rune) bool {
	switch {
	case r >= ' ' && r < 0x7f:
		return false
	case r >= 0xe0100 && r <= 0xe01ef:
		return true
	}
	return unicode.In(r, unicode.Cc, unicode.Cf, unicode.Zl, unicode.Zp, unicode.Other_Default_Ignorable_Code_Point)
}

// mostMarks is how many marks may stand on one letter: no script needs more.
const mostMarks = 3

// Line makes a text fit for one line of a table: breaks and tabs become spaces,
// what is hidden goes, marks on a letter are three at most.
func Line(s string) string {
	marks := 0
	return strings.Map(func(r rune) rune {
		if unicode.In(r, unicode.Mn, unicode.Me) && !Hidden(r) {
			if marks++; marks > mostMarks {
				return -1
			}
			return r
		}
		marks = 0
		switch {
		case r == '\n' || r == '\t' || r == 0x2028 || r == 0x2029:
			return ' '
		case Hidden(r):
			return -1
		}
		return r
	}, s)
}

// Visible makes a text fit for one line of a message: what is hidden is written
// as in JSON, \n, \t or \u202e, a byte that is no UTF-8 as \x9b.
func Visible(s string) string {
	if !strings.ContainsFunc(s, func(r rune) bool { return Hidden(r) || r == utf8.RuneError }) {
		return s
	}
	var b strings.Builder
	for i := 0; i < len(s); {
		r, n := utf8.DecodeRuneInString(s[i:])
		switch {
		case r == utf8.RuneError && n == 1:
			fmt.Fprintf(&b, `\x%02x`, s[i])
		case r == '\n':
			b.WriteString(`\n`)
		case r == '\t':
			b.WriteString(`\t`)
		case Hidden(r):
			b.WriteString(escape(r))
		default:
			b.WriteRune(r)
		}
		i += n
	}
	return b.String()
}

// Most is the most of a file or of a flag that a message shows, in characters.
const Most = 80

// Short is Visible, cut to Most characters, the last of which then is "…".
func Short(s string) string {
	if len(s) > 16*Most { // what is cut off need not be looked at
		s = s[:16*Most] + "  "
	}
	s = Visible(s)
	if utf8.RuneCountInString(s) <= Most {
		return s
	}
	return string([]rune(s)[:Most-1]) + "…"
}

// Quote is Short in double quotes, which a text may not end before its time.
func Quote(s string) string {
	return `"` + strings.ReplaceAll(Short(s), `"`, `\"`) + `"`
}

// List is names in quotes, as many as fit into Most characters.
func List(names []string) string {
	text := ""
	for i, name := range names {
		q := Quote(name)
		if i > 0 {
			q = ", " + q
		}
		if utf8.RuneCountInString(text+q) > Most {
			if i == 0 {
				return string([]rune(q)[:Most-2]) + `…"`
			}
			return text + ", …"
		}
		text += q
	}
	return text
}

// escape writes a rune as JSON does, so that in JSON it means the same.
func escape(r rune) string {
	if r < 0x10000 {
		return fmt.Sprintf(`\u%04x`, r)
	}
	r -= 0x10000
	return fmt.Sprintf(`\u%04x\u%04x`, 0xd800+r>>10, 0xdc00+r&0x3ff)
}
