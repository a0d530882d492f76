package table

import (
	"encoding/csv"
	"encoding/json"
	"io"
	"maps"
	"math"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"rollchange/model"
	"rollchange/out/invented"
	"rollchange/out/machine"
	"rollchange/out/words"
	"rollchange/sim/effort"
	"rollchange/sim/replicate"
	"rollchange/sim/savings"
)

func paybackText(t *testing.T, c *savings.Case, sys model.System) string {
	t.Helper()
	return invented.Written(t, func(w io.Writer) error { return Payback(w, about, c, sys, Screen{}) })
}

func TestPaybackGolden(t *testing.T) {
	c, _ := invented.Case(t, nil)
	invented.Golden(t, "payback.txt", []byte(paybackText(t, c, model.Metric)))
	r, cases := invented.Steps(t, nil)
	invented.Golden(t, "savings.txt", []byte(invented.Written(t, func(w io.Writer) error { return Savings(w, cases, r, Screen{}) })))
	c, _ = invented.Case(t, invented.Prices(func(e *model.Economics) { e.Demand = model.Dist{} }))
	invented.Golden(t, "payback_capacity_imperial.txt", []byte(paybackText(t, c, model.Imperial)))
	c, _ = invented.Case(t, invented.Cases()["by year"])
	invented.Golden(t, "payback_by_year.txt", []byte(paybackText(t, c, model.Metric)))
}

// Every kind of case, with names of any sort, in 100 columns and without NaN.
func TestPaybackIsLegible(t *testing.T) {
	effort.NotInRace(t)
	hostile := []string{"zero-speed", "=cmd('x')", "<script>alert(1)</script>", strings.Repeat("very long name ", 8000), "\u202eאוטומטי\u202c", strings.Repeat("e\u0301", 300), "自動巻出し装置の長い名前の代替案と名前"}
	all := invented.Cases()
	for i, what := range slices.Sorted(maps.Keys(all)) {
		change := all[what]
		for k := range effort.Of(1, 1, len(hostile)) { // not every name in every case
			name := hostile[(i+k)%effort.Of(1, len(hostile), len(hostile))]
			c, _ := invented.Case(t, func(s *model.Study, rs *replicate.Results) {
				if change != nil {
					change(s, rs)
				}
				s.Alternatives[1].Name = name
				for i := range s.Alternatives {
					s.Alternatives[i].Line.Economics.Currency = "=EUR\n<b> and more of it"
				}
			})
			for _, sys := range []model.System{model.Metric, model.Imperial} {
				s := paybackText(t, c, sys) + invented.Written(t, func(w io.Writer) error {
					return Savings(w, []*savings.Case{nil, c}, savings.Ranking{Best: 1}, Screen{})
				})
				for _, line := range strings.Split(s, "\n") {
					if words.Columns(line) > 100 {
						t.Errorf("%s: %d columns: %q", what, words.Columns(line), line)
					}
				}
				for _, bad := range []string{"NaN", "Inf", "\u202e", "-0 "} {
					assert.NotContains(t, s, bad, what)
				}
			}
			j := invented.Written(t, func(w io.Writer) error { return machine.PaybackJSON(w, about, c) })
			assert.True(t, json.Valid([]byte(j)), what)
			rows, err := csv.NewReader(strings.NewReader(invented.Written(t, func(w io.Writer) error { return machine.PaybackCSV(w, c) }))).ReadAll()
			require.NoError(t, err)
			for _, r := range rows {
				for i := range 4 {
					if r[i] != "" {
						assert.NotContains(t, "=+-@", r[i][:1], what)
					}
				}
			}
		}
	}
}

// The total of the table is the mean of the draws.
func TestTheTableTellsTheMeanOverTheDraws(t *testing.T) {
	c, _ := invented.Case(t, invented.Prices(func(e *model.Economics) { e.Demand = model.Dist{Law: model.Uniform, A: 21328e3, B: 40328e3} }))
	total := c.Random.Total
	require.Greater(t, math.Abs(c.Total.Value-total.Mean), 20000.)
	assert.Regexp(t, `(?m)^  total +`+words.Money(total.Mean, words.HalfOf(total))+` `, paybackText(t, c, model.Metric))
}

// Where not all draws pay back, the chance by the end of the life is said, also when the
// years before it have the same; where all do, the years after that are left out.
func TestTheChanceOfPaybackIsToldToTheEndOfTheLife(t *testing.T) {
	of := func(c *savings.Case) string {
		var b strings.Builder
		chanceTable(&b, c, model.Metric, Screen{})
		return b.String()
	}
	years := []savings.Chance{{Year: 1}, {Year: 2, Simple: 0.5, Discounted: 0.4}, {Year: 3, Simple: 0.5, Discounted: 0.4}, {Year: 4, Simple: 0.5, Discounted: 0.4}}
	c, _ := invented.Case(t, nil)
	c.Random.ByYear = years
	assert.Regexp(t, `(?m)^  2 +50\b.*\n  4 +50\b`, of(c))
	c.Random.ByYear = years[:1:1]
	c.Random.ByYear = append(c.Random.ByYear, savings.Chance{Year: 2}, savings.Chance{Year: 3})
	assert.Regexp(t, `(?m)^  1 +none\b.*\n  3 +none\b`, of(c))
	c.Random.ByYear = []savings.Chance{{Year: 1}, {Year: 2, Simple: 1, Discounted: 1}, {Year: 3, Simple: 1, Discounted: 1}}
	assert.NotRegexp(t, `(?m)^  3 `, of(c))
}

// Planned hours of each side stand beside the savings where they are not the same.
func TestSavingsTellHoursOfTheirOwn(t *testing.T) {
	text := func(change func(*model.Study, *replicate.Results)) string {
		c, _ := invented.Case(t, change)
		return invented.Written(t, func(w io.Writer) error {
			return Savings(w, []*savings.Case{nil, c}, savings.Ranking{Best: 1}, Screen{})
		})
	}
	assert.NotContains(t, text(nil), "h a year, the first")
	own := text(func(s *model.Study, _ *replicate.Results) {
		s.Alternatives[1].Line.Economics.HoursPerYear = model.Const(5000 * 3600)
	})
	assert.Contains(t, strings.Join(strings.Fields(own), " "), "5000 h a year, the first 4000 h")
}
