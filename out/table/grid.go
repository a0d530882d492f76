package table

import (
	"fmt"
	"strings"

	"rollchange/out/words"
)

// grid is a table of a label column and right-aligned columns that is laid out
// for a width: heads wrap, then labels, and columns that still do not fit stand
// in a second block below, with the labels again.
type grid struct {
	label string   // head of the labels
	heads []string // of the columns
	rows  []gridRow
	right bool   // labels are figures, right-aligned
	lead  string // a line before the table
}

// gridRow is a row; cells may be fewer than columns. below is a line of its own
// under the row, tail stands behind the last column.
type gridRow struct {
	label string
	cells []string
	below string
	tail  string
}

// add adds a row.
func (g *grid) add(label string, cells ...string) {
	g.rows = append(g.rows, gridRow{label: label, cells: cells})
}

// leastLabel is the narrowest column of labels.
const leastLabel = 18

// longest is the widest of some words.
func longest(list []string) int {
	n := 0
	for _, s := range list {
		n = max(n, words.Columns(s))
	}
	return n
}

// layout is how a grid stands on a width: the label column, the others, the
// space before each of them, and what stands behind the last.
type layout struct {
	label, gap, tail int
	cols             []int
}

// lay lays the table out: columns as wide as their cells and the longest word of
// their head, two spaces between them or one, labels whole or wrapped, whatever
// comes first that fits.
func (g *grid) lay(width int) layout {
	labels, sum, tail := []string{g.label}, 2, 0
	for _, r := range g.rows {
		labels, tail = append(labels, r.label), max(tail, words.Columns(r.tail))
	}
	l := layout{label: min(longest(labels), width/2), gap: 2, tail: tail}
	for i, head := range g.heads {
		w := longest(unbroken(strings.Fields(head)))
		for _, r := range g.rows {
			if i < len(r.cells) {
				w = max(w, words.Columns(r.cells[i]))
			}
		}
		l.cols = append(l.cols, w)
		sum += w
	}
	sum += tail
	n := len(l.cols)
	for _, try := range []layout{{label: l.label, gap: 2}, {label: l.label, gap: 1}, {label: min(l.label, leastLabel), gap: 2}, {label: min(l.label, leastLabel), gap: 1}} {
		if room := width - sum - try.label - n*try.gap; room >= 0 {
			l.gap = try.gap
			l.label = min(l.label, try.label+room)
			break
		}
	}
	return l
}

// write writes the table.
func (g *grid) write(b *strings.Builder, to Screen) {
	if g.lead != "" {
		fmt.Fprintln(b, to.indented(g.lead, 2))
	}
	l := g.lay(to.width())
	for from := 0; from < len(l.cols) || from == 0; {
		// As many columns as fit beside the labels, wrapped if need be; one at least.
		end, used := from, 0
		for ; end < len(l.cols); end++ {
			more := l.gap + l.cols[end]
			if end == len(l.cols)-1 {
				more += l.tail
			}
			if end > from && 2+min(l.label, leastLabel)+used+more > to.width() {
				break
			}
			used += more
		}
		if from > 0 {
			fmt.Fprintln(b)
		}
		part := l
		part.label = min(l.label, max(leastLabel, to.width()-2-used))
		part.cols = append([]int(nil), l.cols...)
		room := to.width() - 2 - part.label - used
		for i := from; i < end; i++ { // what is left goes to heads
			more := max(0, min(words.Columns(g.heads[i])-part.cols[i], room))
			part.cols[i], room = part.cols[i]+more, room-more
		}
		g.block(b, part, from, end)
		if end == from {
			break
		}
		from = end
	}
}

// block writes the columns from first to before end.
func (g *grid) block(b *strings.Builder, l layout, from, end int) {
	label, cols := l.label, l.cols
	line := func(first string, cells func(i int) string, tail string) {
		place := pad
		if g.right {
			place = padLeft
		}
		s := "  " + place(first, label)
		for i := from; i < end; i++ {
			s += padLeft(cells(i), cols[i]+l.gap)
		}
		fmt.Fprintln(b, strings.TrimRight(s+tail, " "))
	}
	heads, most := make([][]string, len(cols)), 0
	for i := from; i < end; i++ {
		heads[i] = strings.Split(wrap(g.heads[i], cols[i]), "\n")
		most = max(most, len(heads[i]))
	}
	if g.label == "" && strings.TrimSpace(strings.Join(g.heads, "")) == "" {
		most = 0
	}
	named := keyLines(g.label, label)
	most = max(most, min(most, 1)*len(named))
	for k := range most {
		first := ""
		if n := k - (most - len(named)); n >= 0 {
			first = words.Shorten(named[n], label)
		}
		line(first, func(i int) string {
			if n := k - (most - len(heads[i])); n >= 0 {
				return words.Shorten(heads[i][n], cols[i])
			}
			return ""
		}, "")
	}
	for _, r := range g.rows {
		lead := r.label[:len(r.label)-len(strings.TrimLeft(r.label, " "))]
		lines := strings.Split(wrap(r.label, label-len(lead)), "\n")
		for k, first := range lines {
			first = words.Shorten(lead+first, label)
			if k < len(lines)-1 { // figures stand beside the last line of a label
				line(first, func(int) string { return "" }, "")
				continue
			}
			tail := ""
			if end == len(cols) {
				tail = r.tail
			}
			line(first, func(i int) string {
				if i < len(r.cells) {
					return r.cells[i]
				}
				return ""
			}, tail)
		}
		if r.below != "" && end == len(cols) {
			fmt.Fprintln(b, r.below)
		}
	}
}

// keyLines breaks the head of the labels into lines of a width, a key that is
// longer at its dots.
func keyLines(s string, width int) []string {
	var lines []string
	for _, line := range strings.Split(wrap(s, width), "\n") {
		for words.Columns(line) > width {
			i := strings.LastIndexByte(line[:min(len(line), width)], '.') + 1
			if i <= 0 || i == len(line) {
				break
			}
			lines, line = append(lines, line[:i]), line[i:]
		}
		lines = append(lines, line)
	}
	return lines
}
