package scenarios

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"rollchange/model"
	"rollchange/sim/effort"
)

const plain = `
[line]
speed = "150 m/min"
accel = "0.25 m/s2"
decel = "0.5 m/s2"
[unwind]
change = "zero-speed"
roll_length = "1500 m"
residual = "6 m"
load = "60 s"
prepare = "40 s"
dwell = "8 s"
decel = "0.8 m/s2"
accel = "0.6 m/s2"
max_speed = "225 m/min"
[unwind.storage]
capacity = "60 m"
run_level = "90 %"
[rewind]
change = "none"
`

func parsed(t *testing.T, text string, over ...Override) *Scenario {
	t.Helper()
	s, err := Parse("test.toml", []byte(text), ".", over...)
	require.NoError(t, err)
	return s
}

func TestDefaults(t *testing.T) {
	s := parsed(t, plain)
	require.Len(t, s.Study.Alternatives, 1)
	a := s.Study.Alternatives[0]
	assert.Equal(t, "base", a.Name)
	assert.Equal(t, model.Metric, s.Study.Units)
	assert.Equal(t, model.Run{Horizon: 30 * 86400, Replications: 20, Seed: 1, Confidence: 0.95}, s.Study.Run)
	l := a.Line
	assert.Equal(t, 2.5, l.Process.Speed)
	assert.Equal(t, l.Process.Speed, l.Process.RatedSpeed)
	assert.Equal(t, 54.0, l.Unwind.Storage.RunLevel, "90 % of the capacity")
	assert.Equal(t, 27.0, l.Unwind.Storage.RestartLevel, "half of the run level")
	assert.Equal(t, 1.0, l.Unwind.SpliceSuccess)
	assert.Zero(t, l.Unwind.SpliceBreaks)
	assert.Equal(t, -1, l.Rewind.MaxSplices)
	assert.Equal(t, model.ByLength, l.Rewind.Trigger)
	assert.Equal(t, 1, l.Crew.Operators)
	assert.Equal(t, 1, l.Crew.Lines)
	assert.Equal(t, 8*3600.0, l.Crew.Shift)
	assert.Nil(t, l.WebBreaks)
	assert.Nil(t, l.Jobs)
}

func TestAlternativesLieOverTheBase(t *testing.T) {
	s := parsed(t, plain+`
[[stop]]
name = "jam"
every = "1 h"
repair = "1 min"
[[stop]]
name = "clean"
every = "4 h"
repair = "9 min"
[[alternative]]
name = "a"
[[alternative]]
name = "b"
investment = 250000
[alternative.web]
caliper = "0.1 mm"
[alternative.unwind]
dwell = "12 s"
roll_diameter = "600 mm"
core_diameter = "76 mm"
[alternative.unwind.storage]
strands = 10
travel = "8 m"
[[alternative.stop]]
name = "jam"
every = "2 h"
repair = "2 min"
`)
	a, b := s.Study.Alternatives[0], s.Study.Alternatives[1]
	assert.False(t, a.Investment.Given())
	assert.Equal(t, 250000.0, b.Investment.Mean())
	assert.Equal(t, 8.0, a.Line.Unwind.Dwell.Mean())
	assert.Equal(t, 12.0, b.Line.Unwind.Dwell.Mean())
	assert.False(t, a.Line.Unwind.Roll.ByDiameter)
	assert.True(t, b.Line.Unwind.Roll.ByDiameter, "a diameter replaces the base's length")
	assert.False(t, b.Line.Unwind.Roll.Length.Given())
	assert.Equal(t, 80.0, b.Line.Unwind.Storage.Capacity, "strands and travel replace the base's capacity")
	assert.Equal(t, 72.0, b.Line.Unwind.Storage.RunLevel, "a share is one of the alternative's own capacity")
	assert.Len(t, a.Line.Stops, 2)
	require.Len(t, b.Line.Stops, 1, "an array replaces the base's")
	assert.Equal(t, 7200.0, b.Line.Stops[0].Every.Mean())
	assert.Empty(t, s.Warnings)
}

// A law in an alternative replaces the base's law whole.
func TestLawsAreReplacedWhole(t *testing.T) {
	s := parsed(t, plain+`
[crew]
reaction = { dist = "lognormal", mean = "20 s", sd = "5 s" }
[[alternative]]
name = "a"
crew = { reaction = { dist = "uniform", min = "10 s", max = "20 s" } }
`)
	assert.Equal(t, model.Dist{Law: model.Uniform, A: 10, B: 20}, s.Study.Alternatives[0].Line.Crew.Reaction)
}

func TestOverridesReachEveryAlternative(t *testing.T) {
	s := parsed(t, plain+"[[alternative]]\nname = \"a\"\n[[alternative]]\nname = \"b\"\nunwind.storage = { strands = 10, travel = \"8 m\" }\n",
		Override{Key: "unwind.storage.capacity", Value: "70 m"}, Override{Key: "run.seed", Value: "7"}, Override{Key: "units", Value: "imperial"},
		Override{Key: "unwind.dwell", Value: `{ dist = "exponential", mean = "5 s" }`})
	for _, a := range s.Study.Alternatives {
		assert.Equal(t, 70.0, a.Line.Unwind.Storage.Capacity, a.Name)
		assert.Equal(t, model.Exponential, a.Line.Unwind.Dwell.Law)
	}
	assert.EqualValues(t, 7, s.Study.Run.Seed)
	assert.Equal(t, model.Imperial, s.Study.Units)
	for _, o := range []Override{{Key: "unwind.storage.capacity", Value: "70"}, {Key: "unwind.nothing", Value: "1 m"}, {Key: "stop[].every", Value: "1 h"},
		{Key: "stop[0].every", Value: "1 h"}, {Key: "run.replications", Value: "many"}} {
		_, err := Parse("test.toml", []byte(plain), ".", o)
		assert.ErrorContains(t, err, o.Key)
	}
}

// A key that no alternative's kind uses is a warning, one that some use is not.
func TestUnusedKeysWarn(t *testing.T) {
	text := plain + "[[alternative]]\nname = \"by hand\"\n[alternative.unwind]\nchange = \"manual\"\nchange_time = \"4 min\"\n"
	s := parsed(t, text)
	assert.NotEmpty(t, s.Warnings, "no alternative splices")
	for _, w := range s.Warnings {
		assert.NotZero(t, w.Line)
		assert.NotEmpty(t, w.Key)
	}
	assert.Empty(t, parsed(t, text+"[[alternative]]\nname = \"splicer\"\n").Warnings)
}

func TestSourcesAreKept(t *testing.T) {
	s := parsed(t, plain+"source = \"an old plan\"\n[crew]\nsource = \"the shift plan\"\n")
	assert.Equal(t, "an old plan", s.Sources["rewind"])
	assert.Equal(t, "the shift plan", s.Sources["crew"])
}

func TestLaws(t *testing.T) {
	for text, want := range map[string]model.Dist{
		`"9 s"`: {Law: model.Fixed, A: 9},
		`{ dist = "exponential", mean = "2 min" }`:                            {Law: model.Exponential, A: 120},
		`{ dist = "normal", mean = "9 s", sd = "1 s" }`:                       {Law: model.Normal, A: 9, B: 1},
		`{ dist = "lognormal", mean = "9 s", sd = "1 s" }`:                    {Law: model.Lognormal, A: 9, B: 1},
		`{ dist = "triangular", min = "5 s", mode = "6 s", max = "9 s" }`:     {Law: model.Triangular, A: 5, B: 6, C: 9},
		`{ dist = "gamma", shape = 2, scale = "3 s" }`:                        {Law: model.Gamma, A: 2, B: 3},
		`{ dist = "gamma", mean = "6 s", sd = "3 s" }`:                        {Law: model.Gamma, A: 4, B: 1.5}, // shape (mean/sd)², scale sd²/mean
		`{ dist = "exponential", mean = "2 min", least = "5 s" }`:             {Law: model.Exponential, A: 120, Least: 5},
		`{ dist = "lognormal", mean = "2 min", sd = "30 s", least = "5 s" }`:  {Law: model.Lognormal, A: 120, B: 30, Least: 5},
		`{ dist = "weibull", shape = 1.5, scale = "3 s", least = "0.1 min" }`: {Law: model.Weibull, A: 1.5, B: 3, Least: 6},
		`{ dist = "gamma", mean = "10 s", sd = "3 s", least = "4 s" }`:        {Law: model.Gamma, A: 4, B: 1.5, Least: 4}, // of the 6 s above it
		`{ dist = "exponential", mean = "2 s", source = "a guess" }`:          {Law: model.Exponential, A: 2},
		`{ dist = "empirical", file = "bare.csv", unit = "min" }`:             {Law: model.Empirical, Values: []float64{60, 90}},
		`{ dist = "weibull", shape = 1.5, scale = "3 s" }`:                    {Law: model.Weibull, A: 1.5, B: 3},
		`{ dist = "empirical", values = ["5 s", "0.1 min"] }`:                 {Law: model.Empirical, Values: []float64{5, 6}},
		`{ dist = "empirical", file = "dwells.csv", column = "dwell" }`:       {Law: model.Empirical, Values: []float64{7, 8.5}},
	} {
		dir := t.TempDir()
		require.NoError(t, os.WriteFile(filepath.Join(dir, "dwells.csv"), []byte("roll,dwell [s]\n1,7\n2,8.5\n"), 0o644))
		require.NoError(t, os.WriteFile(filepath.Join(dir, "bare.csv"), []byte("dwell\n1\n1.5\n"), 0o644))
		s, err := Parse("test.toml", []byte(plain+"[[alternative]]\nname = \"a\"\nunwind.dwell = "+text+"\n"), dir)
		require.NoError(t, err, text)
		assert.Equal(t, want, s.Study.Alternatives[0].Line.Unwind.Dwell, text)
	}
}

// Money and years may be bare numbers or have their unit; both are the same.
func TestMoneyWithAndWithoutUnit(t *testing.T) {
	a := parsed(t, plain+"[economics]\nprice = 0.5\nlife = 10\ncrew_cost = { dist = \"uniform\", min = 30, max = 40 }\n")
	b := parsed(t, plain+"[economics]\nprice = \"0.5 /m2\"\nlife = \"10 years\"\ncrew_cost = { dist = \"uniform\", min = \"30 /h\", max = \"40 /h\" }\n")
	assert.Equal(t, a.Study, b.Study)
}

// An array of tables may be written in one line.
func TestArraysInOneLine(t *testing.T) {
	a := parsed(t, plain+"[crew]\nduty = [{ name = \"a\", every = \"1 h\", takes = \"1 min\" }]\n")
	b := parsed(t, plain+"[[crew.duty]]\nname = \"a\"\nevery = \"1 h\"\ntakes = \"1 min\"\n")
	assert.Equal(t, a.Study, b.Study)
}

func TestNamesAreOneLineOfText(t *testing.T) {
	for _, name := range []string{"", " ", " a", "a ", "a\\nb", "\\u200b\\u202e"} {
		_, err := Parse("test.toml", []byte(plain+"[[stop]]\nname = \""+name+"\"\nevery = \"1 h\"\nrepair = \"1 min\"\n"), ".")
		assert.ErrorContains(t, err, "stop[0].name", "%q", name)
		_, err = Parse("test.toml", []byte(plain+"[[alternative]]\nname = \""+name+"\"\n"), ".")
		assert.ErrorContains(t, err, "name", "%q", name)
	}
}

func TestOverrideOfAnElement(t *testing.T) {
	s := parsed(t, plain+"[[stop]]\nname = \"jam\"\nevery = \"1 h\"\nrepair = \"1 min\"\n", Override{Key: "stop[0].every", Value: "2 h"})
	assert.Equal(t, 7200.0, s.Study.Alternatives[0].Line.Stops[0].Every.Mean())
}

func TestLawsWithoutFiniteMomentsAreRefused(t *testing.T) {
	for _, law := range []string{
		`{ dist = "weibull", shape = 1e-9, scale = "1 s" }`,
		`{ dist = "lognormal", mean = "1e-300 s", sd = "1e300 s" }`,
		`{ dist = "gamma", mean = "1 s", sd = "1e200 s" }`,
	} {
		_, err := Parse("test.toml", []byte(plain+"[crew]\nreaction = "+law+"\n"), ".")
		assert.ErrorContains(t, err, "crew.reaction", law)
	}
}

// What is no scenario is refused in time that grows with its size only.
func TestWhatIsNoScenarioIsRefusedQuickly(t *testing.T) {
	effort.NotInRace(t)
	var many strings.Builder
	for i := range 20000 {
		fmt.Fprintf(&many, "k%d = 1\n", i)
	}
	for name, text := range map[string]string{
		"nests tables too deep: a key": strings.Repeat("a.", 200000) + "b = 1",
		"tables too deep: a key":       "x = { " + strings.Repeat("a.", 200000) + "b = 1 }",
		"at most 12 brackets":          "x = " + strings.Repeat("[", 200000) + strings.Repeat("]", 200000),
		"more":                         many.String(),
	} {
		var err error
		took, _ := cost(t, func() { _, err = Parse("test.toml", []byte(text), ".") })
		assert.ErrorContains(t, err, name)
		assert.Less(t, took, mostTime, name)
		assert.Less(t, len(err.Error()), 200000, name)
	}
}

// Two names that look the same are one name for whoever reads the answer.
func TestNamesThatLookTheSame(t *testing.T) {
	_, err := Parse("test.toml", []byte(plain+"[[alternative]]\nname = \"a\"\n[[alternative]]\nname = \"a\\u200b\"\n"), ".")
	assert.ErrorContains(t, err, `"a\u200b" is also the name of the alternative at line 21`)
}

// A byte order mark, and lines as another system ends them, change nothing.
func TestMarksOfEditors(t *testing.T) {
	a := parsed(t, plain)
	b := parsed(t, "\ufeff"+strings.ReplaceAll(plain, "\n", "\r\n"))
	assert.Equal(t, a.Study, b.Study)
	assert.True(t, strings.HasPrefix(string(b.Text), "\ufeff"), "its hash is that of the file")
	_, err := Parse("test.toml", []byte("\ufeff[web]\nx = 1\n"), ".")
	assert.ErrorContains(t, err, "test.toml:2: web.x: no such key")
}
