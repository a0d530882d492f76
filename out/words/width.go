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
	kept, used := "", 0
	for g := uniseg.NewGraphemes(s); g.Next() && used+g.Width() < width; used += g.Width() {
		kept += g.Str()
	}
	return kept + "…"
}
