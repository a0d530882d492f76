package observed

import (
	"fmt"
	"math"
	"reflect"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"rollchange/model"
	"rollchange/scenarios"
)

// full is a line on which every law is given.
func full() model.Line {
	return model.Line{WebBreaks: &model.WebBreaks{}, Jobs: &model.Jobs{}, Stops: []model.Stop{{Name: "jam"}}, Crew: model.Crew{Duties: []model.Duty{{Name: "patrol"}}}}
}

// Every law of a line but those of prices is visited, under a key that a scenario has.
func TestEveryLawIsVisited(t *testing.T) {
	l := full()
	l.Economics = model.Economics{}
	laws := map[uintptr]string{}
	var find func(v reflect.Value, path string)
	find = func(v reflect.Value, path string) {
		switch {
		case v.Type() == reflect.TypeFor[model.Dist]():
			laws[v.Addr().Pointer()] = path
		case v.Type() == reflect.TypeFor[model.Economics]():
		case v.Kind() == reflect.Pointer && !v.IsNil():
			find(v.Elem(), path)
		case v.Kind() == reflect.Struct && v.Type() != reflect.TypeFor[model.ChangeKind]():
			for i := range v.NumField() {
				find(v.Field(i), path+"."+v.Type().Field(i).Name)
			}
		case v.Kind() == reflect.Slice:
			for i := range v.Len() {
				find(v.Index(i), path)
			}
		}
	}
	find(reflect.ValueOf(&l), "")
	require.Greater(t, len(laws), 25)
	rows := map[string]bool{}
	for _, k := range scenarios.Keys() {
		rows[k.Path] = true
	}
	keys := map[string]bool{}
	visit(&l, func(x item) {
		assert.False(t, keys[x.key], "%s twice", x.key)
		keys[x.key] = true
		row := x.key
		for _, name := range []string{"jam", "patrol"} {
			row = strings.Replace(row, "["+name+"]", "[]", 1)
		}
		assert.True(t, rows[row], row)
		if x.law != nil {
			delete(laws, reflect.ValueOf(x.law).Pointer())
		}
	})
	assert.Empty(t, laws, "not visited")
}

const text = `[line]
speed = "100 m/min"
accel = "1 m/s2"
decel = "1 m/s2"
[unwind]
change = "zero-speed"
roll_length = "2000 m"
load = "1 min"
prepare = { dist = "normal", mean = "2 min", sd = "20 s" }
dwell = { dist = "empirical", values = ["7 s", "8 s", "10 s"] }
decel = "1 m/s2"
accel = "1 m/s2"
max_speed = "150 m/min"
recover = { dist = "gamma", mean = "3 min", sd = "1 min", observed = 12 }
splice_success_observed = 300
storage.capacity = "60 m"
[rewind]
change = "none"
[web_breaks]
mean_length = "60 km"
observed = 37
repair = { dist = "lognormal", mean = "9 min", sd = "5 min", observed = 37, source = "log" }
[[alternative]]
name = "a"
[[alternative]]
name = "b"
unwind.recover = { dist = "gamma", mean = "3 min", sd = "1 min", observed = 13 }
`

func study(t *testing.T) *model.Study {
	s, err := scenarios.Parse("test", []byte(text), ".")
	require.NoError(t, err)
	return &s.Study
}

// A record is a law that says how many values are behind it, or a list of values; two
// alternatives that share it have one, and one of another length is another.
func TestRecordsAreLawsThatSayHowManyValues(t *testing.T) {
	r := Of(study(t))
	assert.Equal(t, []model.Record{{Key: "unwind.dwell", Observed: 3}, {Key: "unwind.recover", Observed: 12}, {Key: "unwind.splice_success", Observed: 300},
		{Key: "web_breaks.mean_length", Observed: 37}, {Key: "web_breaks.repair", Observed: 37}, {Key: "unwind.recover", Observed: 13}}, r.Records())
	assert.True(t, r.Said())
	none := &model.Study{Alternatives: []model.Alternative{{Line: full()}}}
	assert.Nil(t, Of(none))
	assert.False(t, Of(none).Said())
	none.Alternatives[0].Line.Unwind.Dwell = model.Dist{Law: model.Empirical, Values: []float64{7, 8}}
	assert.False(t, Of(none).Said(), "a list of values has its own number: nobody said so")
}

// A draw is the same each time, the same for alternatives that share a record, and
// changes nothing of the study. What a record moves has mean 0 and spread 1, within 4
// standard errors of so many draws and what n values leave of a normal law.
func TestDrawMovesTheRecords(t *testing.T) {
	s := study(t)
	before := fmt.Sprintf("%+v %+v", s.Alternatives[0].Line, *s.Alternatives[0].Line.WebBreaks)
	r := Of(s)
	const draws = 1500
	n := len(r.List)
	sum, squares := make([]float64, n), make([]float64, n)
	for k := range draws {
		a, moved := r.Draw(k)
		require.Len(t, moved, n)
		assert.Equal(t, a[0].Line.WebBreaks, a[1].Line.WebBreaks)
		assert.NotEqual(t, a[0].Line.Unwind.Recover, a[1].Line.Unwind.Recover)
		assert.Less(t, a[0].Line.Unwind.SpliceSuccess, 1.)
		assert.Equal(t, s.Alternatives[0].Line.Unwind.Prepare, a[0].Line.Unwind.Prepare, "nothing is said of it")
		for i, x := range moved {
			sum[i] += x / draws
			squares[i] += x * x / draws
		}
	}
	a, moved := r.Draw(7)
	b, again := r.Draw(7)
	assert.Equal(t, a, b)
	assert.Equal(t, moved, again)
	assert.Equal(t, before, fmt.Sprintf("%+v %+v", s.Alternatives[0].Line, *s.Alternatives[0].Line.WebBreaks))
	for i, x := range r.List {
		if x.Key == "unwind.splice_success" {
			assert.Negative(t, sum[i], "never missed, so it can only be less")
			continue
		}
		assert.InDelta(t, 0, sum[i], 4/math.Sqrt(draws)+0.05, x.Key)
		assert.InDelta(t, 1, math.Sqrt(squares[i]), 0.15, x.Key)
	}
}
