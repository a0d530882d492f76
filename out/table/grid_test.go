package table

import (
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"

	"rollchange/model"
)

func written(g grid, columns int) string {
	var b strings.Builder
	g.write(&b, Screen{Columns: columns})
	return b.String()
}

// A grid stands whole where there is room, then closer, then with labels
// wrapped, then in blocks; every label and figure is there at any width.
func TestGridFitsTheScreen(t *testing.T) {
	g := grid{label: "one input at a time", heads: []string{"from – to", "mean net present value"}}
	g.add("good web that can be sold a year", "20,550 – 25,230 km", "539,600 – 1,386,000")
	g.rows = append(g.rows, gridRow{label: "life", cells: []string{"9 – 11 years"}, below: "    given", tail: " [1]"})
	assert.Equal(t, strings.Join([]string{
		"  one input at a time                        from – to  mean net present value",
		"  good web that can be sold a year  20,550 – 25,230 km     539,600 – 1,386,000",
		"  life                                    9 – 11 years                         [1]", "    given", ""}, "\n"), written(g, 90))
	for columns := leastColumns; columns < 140; columns++ {
		s := written(g, columns)
		within(t, fmt.Sprint(columns), s, columns)
		for _, want := range []string{"sold", "year", "20,550 – 25,230 km", "539,600 – 1,386,000", "9 – 11 years", "[1]", "    given"} {
			assert.Contains(t, s, want, columns)
		}
	}
	wide := grid{label: "year"}
	for i := range 9 {
		wide.heads = append(wide.heads, fmt.Sprintf("a column %d", i))
	}
	wide.add("1", strings.Split("100,000,000 200,000,000 300,000,000 400,000,000 500,000,000 600,000,000 700,000,000 800,000,000 900,000,000", " ")...)
	s := written(wide, 80)
	within(t, "blocks", s, 80)
	assert.Equal(t, 2, strings.Count(s, "year"), "two blocks, each with its labels")
	assert.Equal(t, 1, strings.Count(written(wide, 200), "year"))
}

// A key that is longer than its column breaks at its dots.
func TestKeyLines(t *testing.T) {
	assert.Equal(t, []string{"unwind.storage.", "restart_level,", "line.speed"}, keyLines("unwind.storage.restart_level, line.speed", 18))
	assert.Equal(t, []string{"short"}, keyLines("short", 18))
	assert.Equal(t, []string{strings.Repeat("x", 30)}, keyLines(strings.Repeat("x", 30), 18))
}

// A long figure reaches into the room at its left, not beyond its column, and
// moves the one that is there: two figures never touch.
func TestFlushRight(t *testing.T) {
	assert.Equal(t, "  a     1   22", flushRight("  a", []string{"1", "22"}, 4, 5))
	assert.Equal(t, "  waste             1.912 ± 0.069  0.6364 (0.6318–0.6489)", flushRight("  waste", []string{"1.912 ± 0.069", "0.6364 (0.6318–0.6489)"}, 15, 21))
	assert.Equal(t, "         −1.453 (−1.508 to −1.419)", flushRight("", []string{"", "−1.453 (−1.508 to −1.419)"}, 10, 12))
	assert.Equal(t, "  a", flushRight("  a", []string{"", ""}, 4, 5))
}

// A figure is not parted from what belongs to it.
func TestWrapKeepsFiguresWhole(t *testing.T) {
	for width := 12; width < 40; width++ {
		for _, line := range strings.Split(wrap("it rises by 0.67 ± 0.02 % (and 3.2 %) at 95 %, or so", width), "\n") {
			assert.NotRegexp(t, `^[%±]|±$`, line)
		}
	}
}

// A screen that says nothing of itself has 80 columns; prose never runs wider
// than can be read.
func TestScreen(t *testing.T) {
	assert.Equal(t, 80, Screen{}.width())
	assert.Equal(t, leastColumns, Screen{Columns: 3}.width())
	assert.Equal(t, 200, Screen{Columns: 200}.width())
	within(t, "prose", Screen{Columns: 200}.prose(strings.Repeat("word ", 100)), mostProse)
	within(t, "indented", Screen{}.indented(strings.Repeat("word ", 100), 4), 80)
}

// A note stands beside its figure, a long one below it; none is lost at any width.
func TestFactsFitTheScreen(t *testing.T) {
	facts := []model.Fact{{Group: "line", Label: "stopping length at line speed", Value: 4, Dim: model.Length},
		{Group: "line", Label: "ceiling on web processed", Value: 1, Dim: model.Speed, Note: "closed form, no chance, nothing but what each roll and order must cost"},
		{Group: "unwind", Label: "margin", Value: 17, Dim: model.Length, Note: "mean dwell, undisturbed"}}
	for columns := 80; columns < 160; columns += 7 {
		var b strings.Builder
		assert.NoError(t, Facts(&b, "by hand", facts, model.Metric, Screen{Columns: columns}))
		within(t, fmt.Sprint(columns), b.String(), columns)
		flat := strings.Join(strings.Fields(b.String()), " ")
		for _, f := range facts {
			assert.Contains(t, flat, f.Label)
			if columns > 100 || f.Note != "mean dwell, undisturbed" {
				assert.Contains(t, flat, f.Note)
			}
		}
	}
}

func TestEntry(t *testing.T) {
	assert.Equal(t, "  dwell              Web at rest\n                       quantity; above 0\n", Screen{}.Entry("dwell", "Web at rest", "quantity; above 0"))
	within(t, "entry", Screen{}.Entry("a_long_name_of_a_key", strings.Repeat("meaning ", 30), strings.Repeat("more ", 40)), 80)
}
