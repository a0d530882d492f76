package out

import (
	"bytes"
	"fmt"
	"io"
	"math"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"rollchange/model"
	"rollchange/sim"
)

func written(t *testing.T, write func(w io.Writer) error) string {
	t.Helper()
	var b bytes.Buffer
	if err := write(&b); err != nil {
		t.Fatal(err)
	}
	return b.String()
}

func runText(t *testing.T, rs *sim.Results, i int, sys model.System) string {
	t.Helper()
	return written(t, func(w io.Writer) error { return RunTable(w, about, rs, i, sys, false) })
}

func compareText(t *testing.T, rs *sim.Results, sys model.System) string {
	t.Helper()
	return written(t, func(w io.Writer) error { return CompareTable(w, about, rs, sys, false) })
}

func TestTablesGolden(t *testing.T) {
	golden(t, "run_hand.txt", []byte(runText(t, invented(), 0, model.Metric)))
	golden(t, "run_auto_imperial.txt", []byte(runText(t, invented(), 1, model.Imperial)))
	golden(t, "run_once.txt", []byte(runText(t, once(), 1, model.Metric)))
	golden(t, "compare.txt", []byte(compareText(t, invented(), model.Metric)))
	golden(t, "compare_once.txt", []byte(compareText(t, once(), model.Metric)))
}

// firstShare is the share that a row of a table begins with.
var firstShare = regexp.MustCompile(`^  \S.*? (-?[0-9.]+)(?: ± \S+)? %`)

// The rows of hours and of web that are shown add up to 100 %, to their digits.
func TestRowsAddUp(t *testing.T) {
	for i := range 2 {
		group, sum := "", map[string]float64{}
		for _, line := range strings.Split(runText(t, invented(), i, model.Metric), "\n") {
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
	rs := invented()
	e := rs.Alternatives[0].Metrics["time.running"]
	e.Mean -= 0.1
	rs.Alternatives[0].Metrics["time.running"] = e
	if s := runText(t, rs, 0, model.Metric); !regexp.MustCompile(`total +90 %`).MatchString(s) {
		t.Errorf("hours that lack a tenth do not show it:\n%s", s)
	}
}

func TestTableWidths(t *testing.T) {
	within := func(what, s string, most int) {
		t.Helper()
		for _, line := range strings.Split(s, "\n") {
			if columns(line) > most {
				t.Errorf("%s: %d columns, more than %d: %q", what, columns(line), most, line)
			}
		}
	}
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
		for n := 1; n <= 8; n++ {
			rs := several(n, name)
			for _, sys := range []model.System{model.Metric, model.Imperial} {
				for i := range n {
					within(what, runText(t, rs, i, sys), 80)
				}
				within(what, compareText(t, rs, sys), 100)
			}
		}
	}
}

// Every alternative stands in the comparison, however many there are.
func TestCompareShowsAll(t *testing.T) {
	for n := 1; n <= 8; n++ {
		s := compareText(t, several(n, func(i int) string { return fmt.Sprintf("kind-%d", i) }), model.Metric)
		for i := range n {
			if !strings.Contains(s, fmt.Sprintf("kind-%d", i)) {
				t.Errorf("%d alternatives: kind-%d is missing", n, i)
			}
		}
	}
}

// Each group has one head in a block.
func TestCompareGroupsOnce(t *testing.T) {
	s := compareText(t, invented(), model.Metric)
	for _, h := range groupHeads {
		if n := strings.Count(s, h+"\n"); n != 1 {
			t.Errorf("%q stands %d times", h, n)
		}
	}
}

// Time for a hold that only one alternative can have differs by all of it.
func TestDifferenceOfHoldOfOne(t *testing.T) {
	rs := invented()
	for name, want := range map[string]float64{"time.stopped.unwind_change": -0.2, "time.stopped.unwind_depleted": 0.009} {
		d, ok := differenceOf(rs, 1, name)
		if !ok || d.Mean != want || !d.Shown() {
			t.Errorf("%s: %v, %v; want %g", name, d, ok, want)
		}
	}
	if _, ok := differenceOf(rs, 1, "splice.failed"); ok {
		t.Error("a share of splices that cannot fail was compared")
	}
	if _, ok := differenceOf(rs, 0, "time.stopped.unwind_change"); ok {
		t.Error("the first differs from itself")
	}
}

func TestSentences(t *testing.T) {
	s := strings.Join(Sentences(invented(), model.Metric), "\n")
	for _, want := range []string{`"zero-speed, 60 m" makes 31.20 ± 0.77 m/min more good web than "by hand" (+32.1 %), at 95 % confidence.`,
		"that for unwind roll change, which falls by 20.00 ± 0.30", "that by restarts, which falls by 1.550", `No difference between "zero-speed, 60 m" and "by hand" is shown in: crew busy.`} {
		if !strings.Contains(s, want) {
			t.Errorf("no %q in\n%s", want, s)
		}
	}
	if s := Sentences(once(), model.Metric); s != nil {
		t.Errorf("one replication separates alternatives: %q", s)
	}
	if s := strings.Join(Sentences(several(3, func(i int) string { return string(rune('a' + i)) }), model.Metric), "\n"); !strings.Contains(s, `it is not shown to make more than "c"`) {
		t.Errorf("two equal alternatives are told apart:\n%s", s)
	}
	rs := invented()
	d := rs.Differences[1]["good_rate"]
	d.HalfWidth = 2 * math.Abs(d.Mean)
	d.Low, d.High = d.Mean-d.HalfWidth, d.Mean+d.HalfWidth
	rs.Differences[1]["good_rate"] = d
	if s := Sentences(rs, model.Metric); len(s) != 1 || !strings.HasPrefix(s[0], `"zero-speed, 60 m" is not shown to make more good web than "by hand"`) {
		t.Errorf("noise is called a difference: %q", s)
	}
}

// What was never seen stands with how many were looked at, and the upper end of
// its interval.
func TestNoneSeen(t *testing.T) {
	r := sim.Result{Metrics: sim.Metrics{"splice_rate": {Mean: 59.0 / 1000}, "splice.run_out": {High: 0.05}}}
	value, bound := noneSeen("splice.run_out", r, sim.RunInfo{Horizon: 110, WarmUp: 10, Replications: 10, Confidence: 0.95})
	if value != "none in 59" || bound != "below 5 %" {
		t.Errorf("%q, %q", value, bound)
	}
	if value, _ := noneSeen("transfer.failed", r, sim.RunInfo{Replications: 1}); value != "none seen" {
		t.Errorf("%q", value)
	}
}
