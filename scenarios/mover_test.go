package scenarios

import (
	"math"
	"os"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"rollchange/sim/effort"
)

const moving = changed + `investment = 50000
crew.operators = 2
[[alternative]]
name = "1"
unwind.dwell = "8 s"
crew.operators = 2
[[alternative]]
name = "a]=b"
line.speed = "2 m/s"
`

func movingScenario(t *testing.T) *Scenario {
	t.Helper()
	s, err := Parse("test.toml", []byte(moving), ".")
	require.NoError(t, err)
	return s
}

func TestMoverOf(t *testing.T) {
	s := movingScenario(t)
	for key, want := range map[string]struct {
		value float64
		unit  string
		of    []string
	}{
		"unwind.change_time":                {4, "min", nil},
		"unwind.dwell@2":                    {8, "s", []string{"1", "a]=b"}},
		"crew.operators@2":                  {2, "", []string{"automatic", "1"}},
		"alternative[automatic].investment": {50000, "", []string{"automatic"}},
		"alternative[a]=b].line.speed":      {2, "m/s", []string{"a]=b"}},
		"alternative[1].unwind.dwell":       {8, "s", []string{"1"}},
		"unwind.splice_success":             {100, "%", nil},
	} {
		m, err := s.MoverOf(key)
		require.NoError(t, err, key)
		assert.Equal(t, want.value, m.Value, key)
		assert.Equal(t, want.unit, m.Unit.Name, key)
		assert.Equal(t, want.of, m.Of, key)
	}
	for key, why := range map[string]string{
		"line.sped": "did you mean line.speed", "line.speed": "is not the same in all alternatives: say of which, alternative[by hand].line.speed", "line.speed@3": "has no value 3", "line.speed@x": "a number after the @", "line.speed@0": "a number after the @",
		"unwind.dwell.mean": "moved as a whole", "run.seed": "nothing of the line", "title": "not a number", "unwind.change": "not a number", "rewind.dwell": "it is for zero-speed", "web_breaks.mean_length": "nothing to move",
		"stop[0].every": "there is no [[stop]]", "alternative[no].investment": "no alternative", "alternative[by hand].investment": "nothing to move", "": "write KEY=VALUE",
	} {
		_, err := s.MoverOf(key)
		assert.ErrorContains(t, err, why, key)
	}
}

// Each value of a key has a mover, whose key finds it again, whatever alternatives are called.
func TestMoversOfEachValue(t *testing.T) {
	s := movingScenario(t)
	list, err := s.ParseMovers("line.speed=1 m/s..3 m/s")
	require.NoError(t, err)
	require.Len(t, list, 2)
	assert.Equal(t, []string{"by hand", "automatic", "1"}, list[0].Of)
	for _, m := range append(list, s.OtherMovers(nil)...) {
		again, err := s.MoverOf(m.Key)
		require.NoError(t, err, m.Key)
		assert.Equal(t, m.Of, again.Of, m.Key)
		assert.Equal(t, m.Path, again.Path)
		o := ParseSet(m.Key + "=1..2")
		assert.Equal(t, m.Key, o.Key, "it can stand before a range")
	}
	_, err = s.ParseMovers("line.speed=3 m/s..1 m/s")
	assert.ErrorContains(t, err, "line.speed: the range runs backwards: 3 m/s is not below 1 m/s")
	for spec, why := range map[string]string{"line.speed=1 m/s": "write KEY=FROM..TO", "line.speed=1 m/s..fast": "line.speed: \"fast\" does not begin", "line.speed=..": "is empty", "unwind.change_time={ dist = \"x\" }..2 min": "not distributions", "line.speed=0 m/s..2 m/s": "above 0"} {
		_, err := s.ParseMovers(spec)
		assert.ErrorContains(t, err, why, spec)
	}
	list, err = s.ParseMovers("unwind.change_time")
	require.NoError(t, err)
	assert.Equal(t, []float64{2, 6}, []float64{list[0].From, list[0].To})
	list, err = s.ParseMovers("unwind.change_time=300 s..20 min")
	require.NoError(t, err)
	assert.Equal(t, []float64{4, 20}, []float64{list[0].From, list[0].To}, "the value is in reach; the unit is that of the scenario")
}

// A distribution is moved as a whole, one that is not moved stays to the last digit; a
// value may be written in another unit, or as another distribution.
func TestMoverReads(t *testing.T) {
	s := movingScenario(t)
	m, err := s.MoverOf("unwind.change_time")
	require.NoError(t, err)
	for text, want := range map[string]struct {
		value float64
		said  string
	}{
		"6 min": {6, `{ dist = "lognormal", mean = "6 min", sd = "1.5 min" }`}, "360 s": {6, `{ dist = "lognormal", mean = "6 min", sd = "1.5 min" }`}, "6": {6, `{ dist = "lognormal", mean = "6 min", sd = "1.5 min" }`},
		"4 min": {4, `{ dist = "lognormal", mean = "4 min", sd = "1 min" }`}, `{ dist = "exponential", mean = "5 min" }`: {5, `{ dist = "exponential", mean = "5 min" }`},
	} {
		value, said, _, err := m.Read(text)
		require.NoError(t, err, text)
		assert.InDelta(t, want.value, value, 1e-12)
		assert.Equal(t, want.said, said, text)
	}
	for text, why := range map[string]string{"": "is empty", "x": "does not begin with a number", "-4 min": "0 or above", "4 m": "is a length", `{ dist = "gamma" }`: "needs", "{": "number"} {
		_, _, _, err := m.Read(text)
		assert.ErrorContains(t, err, why, text)
		_, err = m.Set(text)
		assert.Error(t, err)
	}
	law := strings.Replace(moving, `{ dist = "lognormal", mean = "4 min", sd = "1 min" }`, `{ dist = "triangular", min = "1 min", mode = "2 min", max = "4 min", observed = 9, source = "a \"note\"" }`, 1)
	s, err = Parse("test.toml", []byte(law), ".")
	require.NoError(t, err)
	m, err = s.MoverOf("unwind.change_time")
	require.NoError(t, err)
	assert.Equal(t, 2.3333, m.Value)
	_, said, _, err := m.Read("2.3333 min")
	require.NoError(t, err)
	assert.Equal(t, `{ dist = "triangular", min = "1 min", mode = "2 min", max = "4 min", observed = 9, source = "a \"note\"" }`, said, "what is shown is what stands there")
	_, said, _, err = m.Read("7 min")
	require.NoError(t, err)
	assert.Equal(t, `{ dist = "triangular", min = "3 min", mode = "6 min", max = "12 min", observed = 9, source = "a \"note\"" }`, said)
	for _, o := range []string{"5 min", "3.21 min"} {
		list, err := m.Set(o)
		require.NoError(t, err)
		again, err := s.Again(list...)
		require.NoError(t, err)
		assert.Equal(t, 9, again.Study.Alternatives[0].Line.Unwind.ChangeTime.Observed)
	}
}

// The ends that nobody gave lie within the range of the key, whole steps from the value.
func TestEndsOfAMover(t *testing.T) {
	for _, c := range []struct {
		value, unit    string
		from, to, step float64
	}{
		{"220 m/min", "m/min", 110, 330, 2}, {"7.3 s", "s", 3.7, 10.9, 0.1}, {"0.5 m/s2", "m/s2", 0.25, 0.75, 0.01},
	} {
		key := map[string]string{"m/min": "line.speed", "s": "crew.reaction", "m/s2": "line.accel"}[c.unit]
		m := &Mover{Row: rowOf[key], raw: c.value}
		require.NoError(t, m.stand())
		m.near()
		assert.Equal(t, []float64{c.from, c.to, c.step}, []float64{m.From, m.To, m.Step}, c.value)
	}
	for key, want := range map[string][3]float64{"unwind.splice_success": {99.3, 95.8, 100}, "unwind.splice_breaks": {0.3, 0.15, 0.45}, "economics.tax_rate": {100, 90, 100}, "crew.operators": {1, 0, 4}} {
		m := &Mover{Row: rowOf[key], raw: any(strings.TrimSuffix(strings.TrimSuffix(asWritten(want[0]), " "), "") + " %")}
		if key == "crew.operators" {
			m.raw = int64(1)
		}
		require.NoError(t, m.stand(), key)
		m.near()
		assert.InDelta(t, want[1], m.From, 1e-9, key)
		assert.InDelta(t, want[2], m.To, 1e-9, key)
	}
	for span := 1e-6; span < 1e9; span *= 1.37 {
		n := span / niceStep(span)
		assert.True(t, n >= 50-1e-9 && n <= 125+1e-9, "%v: %v steps", span, n)
		assert.False(t, math.IsNaN(n))
	}
	zero := &Mover{Row: rowOf["unwind.splice_scrap"], raw: "0 m"}
	require.NoError(t, zero.stand())
	zero.near()
	assert.Equal(t, 0.0, zero.From)
	assert.Greater(t, zero.To, 0.0, "what is none may become some")
}

// A scenario that is read again with changes is what it would be if they stood in it, and
// is left as it was.
func TestReadAgain(t *testing.T) {
	for _, x := range Templates() {
		s, err := Parse(x.Name, x.Text, ".")
		require.NoError(t, err)
		for range 2 {
			faster, err := s.Again(Override{Key: "economics.material_cost", Value: "7"}, Override{Key: "run.seed", Value: "9"})
			require.NoError(t, err)
			assert.Equal(t, uint64(9), faster.Study.Run.Seed)
			assert.Equal(t, 7.0, faster.Study.Alternatives[1].Line.Economics.MaterialCost.A)
		}
		same, err := s.Again()
		require.NoError(t, err)
		fresh, err := Parse(x.Name, x.Text, ".")
		require.NoError(t, err)
		assert.Equal(t, fresh.Study, same.Study, x.Name)
		assert.Equal(t, fresh.Study, s.Study)
		assert.Equal(t, fresh.Warnings, same.Warnings)
	}
}

// What was read without the decoder is what the decoder reads.
func TestFromText(t *testing.T) {
	for _, text := range []string{`true`, `false`, `"a b"`, `""`, `"ä"`, `"a\tb"`, `"a" # b`, `12`, `0`, `007`, `-3`, `+3`, `1_000`, `1.5`, `1e3`, `{ a = 1 }`, `[1, 2]`, `a`, ``, `"`, `"a"b"`, `99999999999`, `2026-01-01`, "\"a\nb\""} {
		quick := fromText(text)
		slow := fromText(" " + text) // goes to the decoder
		if s, ok := slow.(string); ok && s == " "+text {
			slow = text
		}
		assert.Equal(t, slow, quick, "%q", text)
	}
}

// The ends of the usual movers are values that the scenario takes, and the next step beyond
// one that was drawn in is none.
func TestMoversEndWhereTheScenarioDoes(t *testing.T) {
	drawnIn := 0
	for _, x := range effort.Some(Templates(), 2) {
		s, err := Parse(x.Name, x.Text, "")
		require.NoError(t, err)
		takes := func(m *Mover, value float64) bool {
			list, err := m.Set(m.TextOf(rounded(value, 12)))
			if err == nil {
				_, err = s.Again(list...)
			}
			return err == nil
		}
		for _, m := range s.UsualMovers() {
			assert.True(t, takes(m, m.From) && takes(m, m.To), "%s: %s from %v to %v", x.Name, m.Key, m.From, m.To)
			wide := *m
			wide.near()
			if wide.To > m.To+m.Step/2 {
				drawnIn++
				assert.False(t, takes(m, m.To+m.Step), "%s: %s goes on above %v", x.Name, m.Key, m.To)
			}
		}
	}
	assert.Greater(t, drawnIn, effort.Of(0, 3, 3))
	text, err := os.ReadFile("press_comparison.toml")
	require.NoError(t, err)
	s, err := Parse("press.toml", text, "")
	require.NoError(t, err)
	list, err := s.ParseMovers("line.speed")
	require.NoError(t, err)
	assert.Equal(t, []float64{70, 160}, []float64{list[0].From, list[0].To}, "to its rated speed")
	list, err = s.ParseMovers("line.speed=100 m/min..200 m/min")
	require.NoError(t, err)
	assert.Equal(t, []float64{100, 200}, []float64{list[0].From, list[0].To}, "as it was asked for")
}
