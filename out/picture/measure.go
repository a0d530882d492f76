package picture

import (
	"sort"
	"sync"

	"gonum.org/v1/plot/font"
	"gonum.org/v1/plot/text"
	"gonum.org/v1/plot/vg"

	"rollchange/out/words"
)

// measured is a text in a font.
type measured struct {
	font font.Font
	text string
}

// widths are those of texts that were measured, so many at most: a label that looks
// for its place is measured at each.
var widths struct {
	sync.Mutex
	of map[measured]vg.Length
}

const (
	mostWidths  = 10_000
	mostLetters = 200 // bytes of one that is remembered
)

// width is the width of text of a style. Letters of scripts that the type lacks count
// as wide as a viewer of SVG, which has them, draws them.
func width(s text.Style, t string) vg.Length {
	what := measured{s.Font, t}
	widths.Lock()
	w, known := widths.of[what]
	widths.Unlock()
	if known {
		return w
	}
	w = s.Width(t)
	for _, r := range t {
		if r >= 0x1100 && words.Columns(string(r)) == 2 {
			w += max(0, s.Font.Size-s.Width(string(r)))
		}
	}
	if len(t) > mostLetters {
		return w
	}
	widths.Lock()
	defer widths.Unlock()
	if len(widths.of) == 0 || len(widths.of) >= mostWidths {
		widths.of = map[measured]vg.Length{}
	}
	widths.of[what] = w
	return w
}

// fit shortens text to a width on the picture; empty when nothing useful fits.
func fit(s text.Style, t string, most vg.Length) string {
	if width(s, t) <= most {
		return t
	}
	r := []rune(t)
	short := func(n int) string { return string(r[:n]) + "…" }
	last := min(len(r)-1, 200)
	// More letters are wider but for how near the last stands to the dots, so what fits
	// is looked for from some letters above.
	over := 4 + sort.Search(max(0, last-3), func(i int) bool { return width(s, short(4+i)) > most })
	for n := min(last, over+2); n >= 4; n-- {
		if short := short(n); width(s, short) <= most {
			return short
		}
	}
	return ""
}
