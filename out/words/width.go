package words

import (
	"github.com/rivo/uniseg"

	"rollchange/model/legible"
)

// Line makes text that a person typed fit for one line of a width, in columns.
func Line(s string, width int) string { return Shorten(legible.Line(s), width) }

// Columns is the width of s on a terminal: letters of some scripts take two
// columns, marks on letters none (Unicode Standard Annex 11).
func Columns(s string) int { return uniseg.StringWidth(s) }

// Shorten cuts s to a width on the screen.
func Shorten(s string, width int) string {
	if Columns(s) <= width {
		return s
	}
	kept, used, state := 0, 0, -1
	for kept < len(s) {
		cluster, _, wide, next := uniseg.FirstGraphemeClusterInString(s[kept:], state)
		if used+wide >= width {
			break
		}
		kept, used, state = kept+len(cluster), used+wide, next
	}
	return s[:kept] + "…"
}
