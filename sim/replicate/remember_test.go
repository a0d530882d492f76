package replicate

import (
	"context"
	"fmt"
	"maps"
	"reflect"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"rollchange/model"
	"rollchange/sim/invented"
)

// A simulation that remembers comes to the same bits, whether or not there is
// anything to remember, and simulates what it knows no more.
func TestMemoryChangesNoResult(t *testing.T) {
	plain, err := Simulate(context.Background(), invented.Study(invented.Random(1), invented.Random(2)), Options{Workers: 1})
	require.NoError(t, err)
	for most, kept := range map[int]int{0: 0, 5: 5, 1000: 14} {
		m := NewMemory(most, nil)
		ctx := WithMemory(context.Background(), m)
		for range 2 {
			again, err := Simulate(ctx, invented.Study(invented.Random(1), invented.Random(2)), Options{Workers: 2})
			require.NoError(t, err)
			assert.Equal(t, printed(plain), printed(again))
		}
		assert.Len(t, m.kept, kept)
	}
	m := NewMemory(1000, nil)
	ctx := WithMemory(context.Background(), m)
	for _, change := range []func(*model.Study){func(*model.Study) {}, func(s *model.Study) { s.Run.Seed++ }, func(s *model.Study) { s.Run.Horizon++ }, func(s *model.Study) { s.Run.WarmUp++ }} {
		s := invented.Study(invented.Random(1))
		change(s)
		before := len(m.kept)
		_, err := Simulate(ctx, s, Options{})
		require.NoError(t, err)
		assert.Len(t, m.kept, before+7)
	}
}

// Every number and word of a line counts for whether it is the same line, but for
// what things cost.
func TestEveryFieldOfALineIsRemembered(t *testing.T) {
	line := &model.Line{WebBreaks: &model.WebBreaks{}, Jobs: &model.Jobs{}, Stops: make([]model.Stop, 1),
		Orders: &model.Orders{List: make([]model.Order, 1)}, Products: []model.Product{{Line: &model.Line{}}},
		Changeover: model.Changeover{Between: make([]model.Between, 1), When: make([]model.When, 1)}}
	line.Crew.Duties, line.Crew.Breaks = make([]model.Duty, 1), make([]model.Break, 1)
	seen, fields := map[string]string{}, 0
	print := func(where string) {
		key := fmt.Sprintf("%x", Fingerprint(*line))
		assert.Empty(t, seen[key], "%s and %s", where, seen[key])
		seen[key] = where
		fields++
	}
	var walk func(v reflect.Value, where string)
	walk = func(v reflect.Value, where string) {
		old := reflect.New(v.Type()).Elem()
		old.Set(v)
		if kind, ok := v.Addr().Interface().(*model.ChangeKind); ok {
			for _, k := range []model.ChangeKind{model.Manual, model.ZeroSpeed, model.Flying} {
				*kind = k
				print(where)
			}
			v.Set(old)
			return
		}
		switch v.Kind() {
		case reflect.Pointer:
			if !v.IsNil() { // of a product nothing is given
				walk(v.Elem(), where)
			}
			return
		case reflect.Struct:
			for i := range v.NumField() {
				if name := v.Type().Field(i).Name; name == "Economics" || name == "Begin" || name == "TapePerSplice" || name == "RegisterRepeat" || name == "Caliper" {
					continue
				}
				walk(v.Field(i), where+"."+v.Type().Field(i).Name)
			}
			return
		case reflect.Slice:
			if v.Len() > 0 {
				walk(v.Index(0), where+"[0]")
				return
			}
			v.Set(reflect.MakeSlice(v.Type(), 1, 1))
		case reflect.Float64:
			v.SetFloat(1e-300)
		case reflect.Int, reflect.Int64, reflect.Int8:
			v.SetInt(1)
		case reflect.String:
			v.SetString("x")
		case reflect.Bool:
			v.SetBool(true)
		default:
			t.Fatalf("%s: a %s", where, v.Kind())
		}
		print(where)
		v.Set(old)
	}
	walk(reflect.ValueOf(line).Elem(), "line")
	assert.Greater(t, fields, 150)
	before := Fingerprint(*line)
	line.Economics.LineCost = model.Const(9)
	line.Unwind.TapePerSplice, line.Web.RegisterRepeat, line.Web.Caliper = 1, 1, 1
	assert.Equal(t, before, Fingerprint(*line))
	line.Rewind.Roll.ByDiameter = true
	one := Fingerprint(*line)
	line.Web.Caliper = 2
	assert.NotEqual(t, one, Fingerprint(*line))
}

// Of what does not count for whether a line is the same, no figure of a replication hangs.
func TestWhatIsNotRememberedChangesNothing(t *testing.T) {
	for seed := range uint64(40) {
		line := invented.Random(seed)
		simulate := func() []string {
			r, err := Simulate(context.Background(), invented.Study(line), Options{})
			require.NoError(t, err)
			return printed(r)
		}
		before := simulate()
		line.Unwind.TapePerSplice, line.Web.RegisterRepeat = line.Unwind.TapePerSplice+1, line.Web.RegisterRepeat+1
		if !line.Unwind.Roll.ByDiameter && !line.Rewind.Roll.ByDiameter {
			line.Web.Caliper += 1e-3
		}
		require.Equal(t, before, simulate(), "seed %d", seed)
	}
}

// printed writes results so that equal means the same to the last bit.
func printed(r *Results) []string {
	var lines []string
	for _, a := range r.Alternatives {
		for _, name := range a.Names {
			lines = append(lines, fmt.Sprintf("%s %s %x", a.Alternative, name, a.Metrics[name]))
		}
		lines = append(lines, fmt.Sprintf("%v %v %v", a.Balance, a.Lowest, a.Highest))
	}
	for _, d := range r.Differences {
		for _, name := range slices.Sorted(maps.Keys(d)) {
			lines = append(lines, fmt.Sprintf("%s %x", name, d[name]))
		}
	}
	return lines
}
