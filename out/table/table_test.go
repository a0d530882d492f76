package table

import (
	"fmt"
	"io"
	"math"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"

	"rollchange/model"
	"rollchange/out/invented"
	"rollchange/out/words"
	"rollchange/sim/effort"
	"rollchange/sim/estimate"
	"rollchange/sim/metric"
	"rollchange/sim/replicate"
)

func runText(t *testing.T, rs *replicate.Results, i int, sys model.System) string {
	t.Helper()
	return invented.Written(t, func(w io.Writer) error { return Run(w, about, rs, i, sys, Screen{}) })
}

func compareText(t *testing.T, rs *replicate.Results, sys model.System) string {
	t.Helper()
	return invented.Written(t, func(w io.Writer) error { return Compare(w, about, rs, sys, Screen{}) })
}

func TestTablesGolden(t *testing.T) {
	invented.Golden(t, "run_hand.txt", []byte(runText(t, invented.Results(), 0, model.Metric)))
	invented.Golden(t, "run_auto_imperial.txt", []byte(runText(t, invented.Results(), 1, model.Imperial)))
	invented.Golden(t, "run_once.txt", []byte(runText(t, invented.Once(), 1, model.Metric)))
	invented.Golden(t, "compare.txt", []byte(compareText(t, invented.Results(), model.Metric)))
	invented.Golden(t, "compare_once.txt", []byte(compareText(t, invented.Once(), model.Metric)))
}

// firstShare is the share that a row of a table begins with.
var firstShare = regexp.MustCompile(`^  \S.*? (-?[0-9.]+)(?: ± \S+)? %`)

// The rows of hours and of web that are shown add up to 100 %, to their digits.
func TestRowsAddUp(t *testing.T) {
	for i := range 2 {
		group, sum := "", map[string]float64{}
		for _, line := range strings.Split(runText(t, invented.Results(), i, model.Metric), "\n") {
			if line != "" && line[0] != ' ' {
				group = line
			}
			if m := firstShare.FindStringSubmatch(line); m != nil && !strings.Contains(line, "total") {
				x, err := strconv.ParseFloat(m[1], 64)
				if err != nil {
					t.Fatal(err)
				}
				sum[group] += x
			}
		}
		for _, g := range []string{"Where the hours go", "Where the web goes"} {
			if math.Abs(sum[g]-100) > 0.02 {
				t.Errorf("alternative %d: %s: rows add up to %g %%", i, g, sum[g])
			}
		}
	}
}

// A total is the sum of its parts and not a fixed text.
func TestTotalIsAdded(t *testing.T) {
	rs := invented.Results()
	e := rs.Alternatives[0].Metrics["time.running"]
	e.Mean -= 0.1
	rs.Alternatives[0].Metrics["time.running"] = e
	if s := runText(t, rs, 0, model.Metric); !regexp.MustCompile(`total +90 %`).MatchString(s) {
		t.Errorf("hours that lack a tenth do not show it:\n%s", s)
	}
}

// within checks that no line of a text is wider than a screen.
func within(t *testing.T, what, s string, most int) {
	t.Helper()
	for _, line := range strings.Split(s, "\n") {
		if words.Columns(line) > most {
			t.Errorf("%s: %d columns, more than %d: %q", what, words.Columns(line), most, line)
		}
	}
}

func TestTableWidths(t *testing.T) {
	names := map[string]func(i int) string{
		"plain":         func(i int) string { return fmt.Sprintf("alternative %d", i) },
		"long":          func(i int) string { return fmt.Sprint(i, strings.Repeat(" very long name", 20)) },
		"one word":      func(i int) string { return fmt.Sprint(i, strings.Repeat("x", 300)) },
		"wide letters":  func(i int) string { return fmt.Sprint(i, strings.Repeat("自動巻出", 40)) },
		"joined marks":  func(i int) string { return fmt.Sprint(i, strings.Repeat("e\u0301", 40)) },
		"right to left": func(i int) string { return fmt.Sprint(i, " \u202eאוטומטי\u202c") },
		"nothing":       func(int) string { return "" },
	}
	for what, name := range names {
		for n := 1; n <= 8; n += effort.Of(3, 1, 1) {
			rs := invented.Several(n, name)
			for _, sys := range []model.System{model.Metric, model.Imperial} {
				for i := range n {
					within(t, what, runText(t, rs, i, sys), usual)
				}
				within(t, what, compareText(t, rs, sys), usual)
			}
		}
	}
}

// A wide screen holds more alternatives side by side, a narrow one fewer.
func TestCompareUsesTheScreen(t *testing.T) {
	rs := invented.Several(4, func(i int) string { return fmt.Sprintf("kind-%d", i) })
	for _, x := range []struct{ columns, blocks int }{{0, 3}, {80, 3}, {100, 2}, {125, 1}, {300, 1}} {
		s := invented.Written(t, func(w io.Writer) error { return Compare(w, about, rs, model.Metric, Screen{Columns: x.columns}) })
		if n := strings.Count(s, "What the line makes"); n != x.blocks {
			t.Errorf("%d columns: %d blocks, want %d", x.columns, n, x.blocks)
		}
		within(t, "compare", s, Screen{Columns: x.columns}.width())
	}
}

// Every alternative stands in the comparison, however many there are.
func TestCompareShowsAll(t *testing.T) {
	for n := 1; n <= 8; n += effort.Of(3, 1, 1) {
		s := compareText(t, invented.Several(n, func(i int) string { return fmt.Sprintf("kind-%d", i) }), model.Metric)
		for i := range n {
			if !strings.Contains(s, fmt.Sprintf("kind-%d", i)) {
				t.Errorf("%d alternatives: kind-%d is missing", n, i)
			}
		}
	}
}

// Each group has one head in a block.
func TestCompareGroupsOnce(t *testing.T) {
	s := compareText(t, invented.Results(), model.Metric)
	for g, h := range words.GroupHeads {
		if n := strings.Count(s, h+"\n"); n != 1 && metric.Group(g) != metric.Products { // of lines with orders alone
			t.Errorf("%q stands %d times", h, n)
		}
	}
}

// about belongs to the fixture.
var about = words.About{Version: "0.0.0", Title: "Invented line", File: "invented.toml", SHA256: "00ff"}

// What was never seen has no years of its own: those beside it are of the hours that it is
// rarer than.
func TestYearsOfWhatWasNeverSeen(t *testing.T) {
	rs := invented.Results()
	name := metric.DepletionInterval
	rs.Alternatives[1].Names = append(rs.Alternatives[1].Names, name)
	rs.Alternatives[1].Metrics[name] = estimate.Estimate{Unit: "s", Mean: math.Inf(1), Low: 2 * 8760 * 3600, High: math.Inf(1), HalfWidth: math.NaN()}
	text := runText(t, rs, 1, model.Metric)
	assert.NotContains(t, text, "Inf")
	assert.Regexp(t, `more than 17,500 h  2 calendar years`, text)
}
