package scenarios

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"rollchange/sim/effort"
)

const settable = changed + `
[[alternative]]
name = "a = [b].c"
[[stop]]
name = "plate cleaning"
every = { dist = "exponential", mean = "8 h" }
repair = "10 min"
`

func withSet(texts ...string) (*Scenario, error) {
	var over []Override
	for _, x := range texts {
		over = append(over, ParseSet(x))
	}
	return Parse("test.toml", []byte(settable), ".", over...)
}

func TestWhatIsSetStandsAsInTheFile(t *testing.T) {
	s, err := withSet("line.speed = 3 m/s", "alternative[automatic].line.speed=2 m/s", "alternative[a = [b].c].line.speed=1 m/s", "title=12",
		"stop[plate cleaning].every.mean=9 h", "stop[0].repair=5 min", "alternative[0].investment=7", "run.seed=5",
		`alternative[automatic].unwind.dwell={ dist = "gamma", shape = 4.0, scale = "3 s" }`)
	require.NoError(t, err)
	a := s.Study.Alternatives
	for i, speed := range []float64{3, 2, 1} {
		assert.Equal(t, speed, a[i].Line.Process.Speed, "what is for one goes before what is for all, in any order")
		assert.Equal(t, 9*3600.0, a[i].Line.Stops[0].Every.Mean())
		assert.Equal(t, 300.0, a[i].Line.Stops[0].Repair.Mean())
	}
	assert.Equal(t, "12", s.Study.Title, "text needs no quotes")
	assert.Equal(t, 7.0, a[0].Investment.Mean())
	assert.False(t, a[1].Investment.Given())
	assert.Equal(t, uint64(5), s.Study.Run.Seed)
	assert.Equal(t, 12.0, a[1].Line.Unwind.Dwell.Mean())
	assert.Equal(t, [2]string{"line.speed", "3 m/s"}, s.Set()[0])
	assert.Empty(t, s.Warnings)
	assert.Contains(t, s.Given(0), Given{"line.speed", "3 m/s", "--set"}, "and no longer by the note of its table")
	speed := func(list []Input) string {
		for _, x := range list {
			if x.Key == "line.speed" {
				return x.Text
			}
		}
		return "none"
	}
	assert.Equal(t, "3 m/s", speed(s.Inputs(0)), "it is an input as one of the file is")

	// What changes it later starts from it, and a sweep goes before it.
	again, err := s.Again(Override{Key: "line.speed", Factor: 0.5}, Override{Key: "stop[0].every", Factor: 2})
	require.NoError(t, err)
	assert.Equal(t, []float64{1.5, 1, 0.5}, []float64{again.Study.Alternatives[0].Line.Process.Speed, again.Study.Alternatives[1].Line.Process.Speed, again.Study.Alternatives[2].Line.Process.Speed})
	assert.Equal(t, 18*3600.0, again.Study.Alternatives[0].Line.Stops[0].Every.Mean())
	again, err = s.Again(Override{Key: "line.speed", Value: "2.5 m/s"})
	require.NoError(t, err)
	assert.Equal(t, 2.5, again.Study.Alternatives[1].Line.Process.Speed)
}

// The kind of roll change that is set says which keys are used, whatever the order.
func TestAKindCanBeSetWithItsKeys(t *testing.T) {
	s, err := withSet("alternative[automatic].unwind.change=manual", "unwind.change_time=3 min")
	require.NoError(t, err)
	assert.Equal(t, 180.0, s.Study.Alternatives[1].Line.Unwind.ChangeTime.Mean())
	s, err = withSet("alternative[by hand].unwind.dwell=3 s")
	require.NoError(t, err)
	require.Len(t, s.Warnings, 1)
	assert.Regexp(t, `^--set alternative\[by hand\].unwind.dwell=3 s: is not used: it is for zero-speed$`, s.Warnings[0].String())
}

func TestWhatCannotBeSetIsSaidAtOnce(t *testing.T) {
	for text, says := range map[string]string{
		"line.sped=3 m/s":                          "no such key; did you mean line.speed?",
		"line.speed=fast":                          "\"fast\" does not begin with a number",
		"line.speed=100":                           "bare number",
		"line.accel=":                              "line.accel=: ",
		"line":                                     "write KEY=VALUE",
		"=3":                                       "write KEY=VALUE",
		"unwind.storage=3 m":                       "is a table: set one key of it, such as unwind.storage.capacity",
		"stop[nix].every=3 h":                      `no [[stop]] is called "nix"; there are "plate cleaning"`,
		"stop[plate clening].every=3 h":            `no [[stop]] is called "plate clening"; did you mean plate cleaning?`,
		"stop[1].every=3 h":                        "[[stop]] has 1, counted from 0",
		"stop[].every=3 h":                         "say which: stop[0].every is the first",
		"crew.duty[0].every=3 h":                   "there is no [[crew.duty]] to change",
		"alternative[nix].line.speed=3 m/s":        `no alternative "nix"; the scenario has "by hand", "automatic", "a = [b].c"`,
		"alternative[].investment=3":               "say which: alternative[by hand].investment",
		"alternative[automatic].run.seed=3":        "belongs to the study",
		"alternative[automatic].name=x":            "cannot be set",
		"line.source=me":                           "cannot be set",
		"unwind.dwell.mode=3 s":                    "unwind.dwell is not a distribution with a mode",
		"alternative[by hand].unwind.dwell.sd=3 s": "unwind.dwell is not a distribution with a sd",
	} {
		_, err := withSet(text)
		require.Error(t, err, text)
		assert.Contains(t, err.Error(), says)
		assert.Contains(t, err.Error(), "--set "+text+": ")
		assert.NotContains(t, err.Error(), "test.toml", "the file has no fault")
	}
	_, err := withSet("line.speed=fast", "line.sped=3", "run.seed=x", "run.seed=3", "unwind.change=flying")
	var all *Errors
	require.ErrorAs(t, err, &all)
	for _, says := range []string{"--set line.speed=fast: ", "  write: --set line.speed=\"150 m/min\"", "--set line.sped=3: ", "--set run.seed=x: ", "--set run.seed=3: is set twice"} {
		assert.Contains(t, err.Error(), says)
	}
	for text, write := range map[string]string{"alternative[by hand].unwind.residual=3": "'alternative[by hand].unwind.residual=3 m'", "unwind.dwell={ dist = \"gamma\" }": "'unwind.dwell={ dist = ", "line.accel=2": "line.accel=\"2 m/s2\""} {
		_, err := withSet(text)
		require.Error(t, err)
		assert.Contains(t, err.Error(), "\n  write: --set "+write)
	}
	// A rule of the file that what was set breaks names both.
	_, err = Parse("test.toml", []byte(plain), ".", ParseSet("rewind.change=flying"))
	require.Error(t, err)
	assert.Contains(t, err.Error(), "test.toml:")
	assert.Contains(t, err.Error(), "test.toml: read with --set rewind.change=flying")
	_, err = Parse("test.toml", []byte(plain+"[lin]\n"), ".")
	require.Error(t, err)
	assert.NotContains(t, err.Error(), "read with")
}

// To set what stands there already changes nothing, in any shipped scenario.
func TestSettingWhatStandsThereChangesNothing(t *testing.T) {
	tried := 0
	for _, x := range Templates()[:effort.Of(1, 2, len(Templates()))] {
		s, err := Parse(x.Name, x.Text, ".")
		require.NoError(t, err)
		for i, a := range s.Study.Alternatives {
			for _, g := range s.Given(i) {
				key := g.Key
				if strings.Contains(g.Text, ", ") || g.Text == "empirical" || strings.HasPrefix(key, "sweep[") { // a distribution in words
					continue
				}
				if own, ok := strings.CutPrefix(key, "alternative."); ok {
					key = own
				}
				if tried++; tried%effort.Of(4, 1, 1) > 0 {
					continue
				}
				if a.Name != "base" {
					key = "alternative[" + a.Name + "]." + key
				}
				again, err := Parse(x.Name, x.Text, ".", ParseSet(key+"="+g.Text))
				if assert.NoError(t, err, key) {
					assert.Equal(t, s.Study, again.Study, key)
					assert.Equal(t, s.Warnings, again.Warnings, key)
				}
			}
		}
	}
	assert.Greater(t, tried, 100)
}
