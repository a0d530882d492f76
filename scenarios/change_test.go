package scenarios

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"rollchange/model"
)

const changed = plain + `
[[alternative]]
name = "by hand"
unwind = { change = "manual", change_time = { dist = "lognormal", mean = "4 min", sd = "1 min" } }
[[alternative]]
name = "automatic"
unwind.dwell = { dist = "gamma", shape = 4.0, scale = "2 s" }
`

func TestParametersOfALawCanBeChanged(t *testing.T) {
	s, err := Parse("test.toml", []byte(changed), ".", Override{Key: "unwind.change_time.mean", Value: "6 min"}, Override{Key: "unwind.dwell.shape", Value: "9"})
	require.NoError(t, err)
	assert.Equal(t, 360.0, s.Study.Alternatives[0].Line.Unwind.ChangeTime.A)
	assert.Equal(t, model.Dist{Law: model.Gamma, A: 9, B: 2}, s.Study.Alternatives[1].Line.Unwind.Dwell)
	later := strings.Replace(changed, `scale = "2 s"`, `scale = "2 s", least = "1 s"`, 1)
	s, err = Parse("test.toml", []byte(later), ".", Override{Key: "unwind.dwell.least", Value: "3 s"}, Override{Key: "unwind.dwell", Factor: 2})
	require.NoError(t, err)
	assert.Equal(t, model.Dist{Law: model.Gamma, A: 4, B: 4, Least: 6}, s.Study.Alternatives[1].Line.Unwind.Dwell)
	assert.Equal(t, "gamma, shape 4, scale 2 s, least 1 s", asWritten(map[string]any{"dist": "gamma", "shape": 4.0, "scale": "2 s", "least": "1 s"}))
	assert.Equal(t, "empirical, 3 values", asWritten(map[string]any{"dist": "empirical", "values": []any{"1 s", "2 s", "9 s"}}))
	assert.Equal(t, "empirical, 125.5 min", asWritten(map[string]any{"dist": "empirical", "values": []any{"125.5 min"}}))
	assert.Equal(t, "gamma, mean 8 s, sd 2 s, least 1 s", asWritten(map[string]any{"dist": "gamma", "mean": "8 s", "sd": "2 s", "least": "1 s"}))
	_, err = Parse("test.toml", []byte(changed), ".", Override{Key: "unwind.dwell.mode", Value: "6 s"})
	assert.ErrorContains(t, err, "not a distribution with a mode")
}

func TestValuesCanBeScaled(t *testing.T) {
	s, err := Parse("test.toml", []byte(changed), ".", Override{Key: "unwind.change_time", Factor: 1.5}, Override{Key: "unwind.dwell", Factor: 2},
		Override{Key: "line.speed", Factor: 0.5}, Override{Key: "unwind.recover", Factor: 3})
	require.NoError(t, err)
	was, err := Parse("test.toml", []byte(changed), ".")
	require.NoError(t, err)
	assert.Equal(t, model.Dist{Law: model.Lognormal, A: 360, B: 90}, s.Study.Alternatives[0].Line.Unwind.ChangeTime)
	assert.Equal(t, model.Dist{Law: model.Gamma, A: 4, B: 4}, s.Study.Alternatives[1].Line.Unwind.Dwell)
	assert.InEpsilon(t, was.Study.Alternatives[0].Line.Process.Speed/2, s.Study.Alternatives[0].Line.Process.Speed, 1e-12)
}

// How many values stand behind a law is no part of it that is scaled: half a value would
// be an error, and a sensitivity would leave every learned law out.
func TestScaledLawsKeepWhatWasObserved(t *testing.T) {
	learned := strings.Replace(changed, `sd = "1 min"`, `sd = "1 min", observed = 37`, 1)
	s, err := Parse("test.toml", []byte(learned), ".", Override{Key: "unwind.change_time", Factor: 1.1})
	require.NoError(t, err)
	assert.Equal(t, 37, s.Study.Alternatives[0].Line.Unwind.ChangeTime.Observed)
	assert.InEpsilon(t, 264, s.Study.Alternatives[0].Line.Unwind.ChangeTime.A, 1e-12)
}

func TestNumericSaysWhyNot(t *testing.T) {
	for key, why := range map[string]string{"line.sped": "did you mean line.speed", "economics.price": "money", "run.horizon": "simulated",
		"unwind.change": "not a number", "title": "not a number", "stop[].every": "say which: stop[0].every is the first", "stop[plate cleaning].evry": "no such key", "unwind.dwell.mid": "no such key", "crew.duty[0].name": "not a number"} {
		_, err := Numeric(key)
		assert.ErrorContains(t, err, why, key)
	}
	for _, key := range []string{"line.speed", "unwind.dwell", "unwind.dwell.mean", "crew.operators", "stop[0].every.sd", "unwind.storage.run_level", "unwind.dwell.shape"} {
		_, err := Numeric(key)
		assert.NoError(t, err, key)
	}
}

func TestInputsAreWhatAnAlternativeUses(t *testing.T) {
	s, err := Parse("test.toml", []byte(changed), ".")
	require.NoError(t, err)
	has := func(list []Input, key string) bool {
		for _, i := range list {
			if i.Key == key {
				return true
			}
		}
		return false
	}
	hand, auto := s.Inputs(0), s.Inputs(1)
	assert.True(t, has(hand, "unwind.change_time"))
	assert.False(t, has(hand, "unwind.dwell"), "a manual unwind has no dwell")
	assert.True(t, has(auto, "unwind.dwell"))
	assert.True(t, has(auto, "line.speed"))
	assert.False(t, has(auto, "title"))
	assert.True(t, s.Uses("unwind.dwell.mean"))
	assert.False(t, s.Uses("rewind.dwell"))
	assert.True(t, s.Varies("unwind.dwell"))
	again, err := s.Again(Override{Key: "line.speed", Value: "1 m/s"})
	require.NoError(t, err)
	assert.Equal(t, 1.0, again.Study.Alternatives[0].Line.Process.Speed)
}
