package whatif

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"rollchange/model"
	"rollchange/scenarios"
)

func TestAxes(t *testing.T) {
	s := twoWays(t)
	for _, c := range []struct {
		spec   string
		log    bool
		dim    model.Dimension
		texts  string
		values []float64 // SI
	}{
		{"line.speed=120 m/min..240 m/min/3", false, model.Speed, "120 m/min|180 m/min|240 m/min", []float64{2, 3, 4}},
		{" line.speed = 120 m/min , 3 m/s ", false, model.Speed, "120 m/min|3 m/s", []float64{2, 3}},
		{"line.speed=180 m/min", false, model.Speed, "180 m/min", []float64{3}},
		{"unwind.storage.run_level=80 %", false, model.Share, "80 %", []float64{0.8}},
		{"line.speed=120 m/min..4 m/s/3", false, model.Speed, "120 m/min|180 m/min|240 m/min", []float64{2, 3, 4}},
		{"unwind.roll_length=1000 m..4 km/3", true, model.Length, "1000 m|2000 m|4000 m", []float64{1000, 2000, 4000}},
		{"unwind.dwell=6 s..9 s/4", false, model.Time, "6 s|7 s|8 s|9 s", []float64{6, 7, 8, 9}},
		{"unwind.dwell.mean=6 s,10 s", false, model.Time, "6 s|10 s", []float64{6, 10}},
		{"unwind.change_time.sd=1 min,2 min", false, model.Time, "1 min|2 min", []float64{60, 120}},
		{"crew.operators=1..3/9", false, model.Number, "1|2|3", []float64{1, 2, 3}},
		{"crew.operators=1..8/4", true, model.Number, "1|2|4|8", []float64{1, 2, 4, 8}},
		{"crew.operators=0..2/3", false, model.Number, "0|1|2", []float64{0, 1, 2}},
		{"unwind.storage.run_level=20 %..80 %/4", false, model.Share, "20 %|40 %|60 %|80 %", []float64{0.2, 0.4, 0.6, 0.8}},
		{"unwind.storage.run_level=20 m..30 m/3", false, model.Length, "20 m|25 m|30 m", []float64{20, 25, 30}},
		{"unwind.splice_success=90 %,100 %", false, model.Share, "90 %|100 %", []float64{0.9, 1}},
		{"stop[0].every.mean=1 h,2 h", false, model.Time, "1 h|2 h", []float64{3600, 7200}},
		{"web_breaks.exponent=0..3/4", false, model.Number, "0|1|2|3", []float64{0, 1, 2, 3}},
	} {
		a, err := ParseAxis(s, c.spec, c.log)
		require.NoError(t, err, c.spec)
		assert.Equal(t, c.texts, strings.Join(a.Texts, "|"), c.spec)
		assert.InDeltaSlice(t, c.values, a.Values, 1e-12, c.spec)
		assert.Equal(t, c.dim, a.Dim, c.spec)
		assert.Equal(t, c.log, a.Log, c.spec)
		assert.NotContains(t, a.Key, " ")
	}
}

func TestAxesThatCannotBe(t *testing.T) {
	s := twoWays(t)
	for _, c := range []struct {
		spec, says string
		log        bool
	}{
		{"nothing", "write KEY=FROM..TO/STEPS", false},
		{"=1,2", "write KEY=FROM..TO/STEPS", false},
		{"line.sped=1 m/s..2 m/s/3", "line.sped: no such key; did you mean line.speed?", false},
		{"unwind.dwel.mean=6 s,9 s", "no such key", false},
		{"title=a,b", "is not a number or quantity", false},
		{"unwind.change=manual,none", "is not a number or quantity", false},
		{"economics.price=1,2", "changes the money", false},
		{"alternative[0].investment=1,2", "changes the money", false},
		{"run.horizon=1 d,2 d", "says how the line is simulated", false},
		{"run.seed=1,2", "says how the line is simulated", false},
		{"rewind.dwell=5 s,6 s", "no alternative uses it: it is for zero-speed", false},
		{"unwind.dwell.mode=5 s,6 s", "no alternative has a distribution with that parameter", false},
		{"line.speed.mean=1 m/s,2 m/s", "no such key", false},
		{"stop[].every=1 h,2 h", "say which: stop[0].every", false},
		{"stop[1].every=1 h,2 h", "no such element: [[stop]] has 1, counted from 0", false},
		{"stop[wahs].every=1 h,2 h", `stop[wahs].every: no [[stop]] is called "wahs"; did you mean wash?`, false},
		{"stop[knives].every=1 h,2 h", `no [[stop]] is called "knives"; there are "wash"`, false},
		{"stop[wash].evry=1 h,2 h", "no such key; did you mean stop[].every?", false},
		{"stop[wash].every=2 h,1 h", "stop[wash].every: the values must rise", false},
		{"alternative[by hand].line.speed=1 m/s,2 m/s", "is varied in every alternative", false},
		{"alternative[nobody].line.speed=1 m/s,2 m/s", `no alternative "nobody"`, false},
		{"crew.duty[0].takes=1 min,2 min", "there is no [[crew.duty]] to change", false},
		{"line.speed=4 m/s..2 m/s/3", "the range runs backwards: 4 m/s is not below 2 m/s", false},
		{"line.speed=2 m/s..2 m/s/3", "the range runs backwards", false},
		{"line.speed=2 m/s..4 m/s/1", "2 values or more", false},
		{"line.speed=2 m/s..4 m/s/0", "2 values or more", false},
		{"line.speed=2 m/s..4 m/s/-3", "2 values or more", false},
		{"line.speed=2 m/s..4 m/s/1001", "the most is 1000", false},
		{"line.speed=2 m/s..4 m/s", "give the number of values", false},
		{"line.speed=2 m/s..4 m/s/two", "give the number of values", false},
		{"line.speed=2 m/s..4 m/s/2.5", "give the number of values", false},
		{"line.speed=", "is empty", false},
		{"line.speed=2 m/s,", "empty", false},
		{"line.speed=2..4/3", "line.speed: 2 is a bare number; give it a unit", false},
		{"line.speed=2 m..4 m/3", `line.speed: "2 m" is a length; it must be a speed`, false},
		{"line.speed=2 m/s..4 s/3", `"4 s" is a time`, false},
		{"line.speed=0 m/s..4 m/s/3", `"0 m/s" must be above 0`, false},
		{"line.speed=2 m/s..1e400 m/s/3", "not a finite number", false},
		{"line.speed=4 m/s,2 m/s", "the values must rise: 2 m/s is not above 4 m/s", false},
		{"line.speed=120 m/min,2 m/s", "the values must rise", false},
		{"line.speed=2 m/s..2.0000001 m/s/3", "too near together", false},
		{"line.path=0 m..4 m/3", "cannot start at 0", true},
		{"line.path=0 m,4 m", "cannot start at 0", true},
		{"crew.operators=1.5,2", "whole number", false},
		{"crew.operators=1..1.4/3", "whole number", false},
		{"unwind.splice_success=90 %..110 %/3", "0 % to 100 %", false},
		{"unwind.storage.run_level=20 %..30 m/3", "one end is a share", false},
		{"unwind.storage.run_level=20 %,30 m", "some values are shares", false},
	} {
		_, err := ParseAxis(s, c.spec, c.log)
		if assert.ErrorContains(t, err, c.says, c.spec) {
			assert.NotContains(t, err.Error(), "\n")
		}
	}
}

// What can be varied can be simulated: each number of each shipped scenario.
func TestEveryNumberOfTheShippedScenariosCanBeVaried(t *testing.T) {
	for _, x := range scenarios.Templates() {
		s, err := scenarios.Parse(x.Name, x.Text, ".")
		require.NoError(t, err)
		for i := range s.Study.Alternatives {
			for _, in := range s.Inputs(i) {
				if strings.HasPrefix(in.Text, "{") || in.Dist.Law != model.Fixed || in.Whole {
					continue
				}
				_, err := ParseAxis(s, in.Key+"="+in.Text+","+in.Text, false)
				assert.ErrorContains(t, err, "must rise", "%s: %s", x.Name, in.Key)
			}
		}
	}
}
