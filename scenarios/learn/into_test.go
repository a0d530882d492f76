package learn

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"rollchange/scenarios"
	"rollchange/sim/effort"
)

// Whatever is written into a shipped scenario, each line of it that holds no value
// that was written anew is there as it was, in its order, and the rest is the laws.
func TestOtherLinesStay(t *testing.T) {
	l := shipped(t, map[string]Target{"Web break": WebBreak, "Changeover": Changeover, "Roll change": ChangeTime})
	for _, x := range effort.Some(scenarios.Templates(), 3) {
		if x.Name == "label_press_learned" { // its laws are those of this log
			continue
		}
		for _, ends := range []string{"\n", "\r\n"} {
			text := strings.ReplaceAll(string(x.Text), "\n", ends)
			old, err := scenarios.Parse(x.Name, []byte(text), ".")
			require.NoError(t, err)
			out, err := Into(old, ".", l, plain{}, How{})
			if old.Study.Alternatives[0].Line.Jobs == nil && err != nil { // a line without orders has no changeover
				assert.ErrorContains(t, err, "jobs.", x.Name)
				continue
			}
			require.NoError(t, err, x.Name)
			assert.Equal(t, strings.Count(string(out), "\n"), strings.Count(string(out), ends), x.Name)
			left := strings.Split(string(out), ends)
			gone := 0
			for _, line := range strings.Split(text, ends) {
				at := -1
				for i := range left {
					if left[i] == line {
						at = i
						break
					}
				}
				if at < 0 {
					gone++
					assert.Regexp(t, `^(change_time|mean_length|at_speed|repair|changeover|length|time) = `, line, x.Name)
					continue
				}
				left = left[at+1:]
			}
			assert.LessOrEqual(t, gone, 5)
			again, err := scenarios.Parse(x.Name, out, ".")
			require.NoError(t, err)
			twice, err := Into(again, ".", l, plain{}, How{})
			require.NoError(t, err)
			assert.Equal(t, string(out), string(twice), "written again it stays")
		}
	}
}

// A roll change at the rewind is the time of that, and where the rewind is not changed by
// hand it is refused, with what is wrong.
func TestRewindChange(t *testing.T) {
	l := shipped(t, map[string]Target{"Roll change": RewindTime})
	const text = `[line]
speed = "100 m/min"
accel = "1 m/s2"
decel = "1 m/s2"
[unwind]
change = "manual"
roll_length = "4 km"
change_time = "5 min"
[rewind]
change = "%s"
roll_length = "2 km"
change_time = "9 min" # by the clock
`
	of := func(change string) ([]byte, error) {
		old, err := scenarios.Parse("line.toml", []byte(strings.Replace(text, "%s", change, 1)), ".")
		if err != nil {
			return nil, err
		}
		return Into(old, ".", l, plain{}, How{Work: true})
	}
	out, err := of("manual")
	require.NoError(t, err)
	again, err := scenarios.Parse("line.toml", out, ".")
	require.NoError(t, err)
	line := &again.Study.Alternatives[0].Line
	for _, c := range l.Causes {
		if c.Is == RewindTime {
			assert.InEpsilon(t, c.Repair.Mean(), line.Rewind.ChangeTime.Mean(), 1e-3)
			assert.Equal(t, c.Lasts.Observed(), line.Rewind.ChangeTime.Observed)
		}
	}
	assert.Contains(t, string(out), "# by the clock")
	assert.Contains(t, string(out), "is = \"rewind.change_time\"")
	old, err := scenarios.Parse("line.toml", []byte(strings.Replace(strings.Replace(text, "%s", "none", 1), "roll_length = \"2 km\"\nchange_time = \"9 min\" # by the clock\n", "", 1)), ".")
	require.NoError(t, err)
	_, err = Into(old, ".", l, plain{}, How{Work: true})
	assert.ErrorContains(t, err, "rewind.")
}

// A stop of the scenario gets the laws of the cause of its name, and keeps the rest.
func TestStopOfItsName(t *testing.T) {
	text := string(template(t, "label_press").Text)
	text = strings.Replace(text, `name = "plate cleaning"`, `name = "knife JAM"`, 1)
	text = strings.Replace(text, `every = { dist = "exponential", mean = "100 min" }`, "every = { dist = \"empirical\", values = [\"1 h\", # a ]\n  \"2 h\"] }   # from the shift book", 1)
	old, err := scenarios.Parse("line.toml", []byte(text), ".")
	require.NoError(t, err)
	l := shipped(t, map[string]Target{"Roll change": ChangeTime, "Changeover": Changeover, "Web break": WebBreak})
	out, err := Into(old, ".", l, plain{}, How{Work: true})
	require.NoError(t, err)
	assert.NotContains(t, string(out), "Knife jam")
	assert.NotContains(t, string(out), `"2 h"] }`)
	assert.Regexp(t, `every = .*} # from the shift book\n`, string(out))
	assert.Contains(t, string(out), "[[stop]]                        # stops that have nothing to do with rolls")
	s, err := scenarios.Parse("line.toml", out, ".")
	require.NoError(t, err)
	stops := s.Study.Alternatives[0].Line.Stops
	require.Len(t, stops, 3)
	assert.Equal(t, "knife JAM", stops[0].Name)
	assert.InDelta(t, 6, stops[0].Scrap.Mean(), 1e-9, "the scrap of the scenario stays")
	for _, c := range l.Causes {
		if c.Text == "Knife jam" { // what was seen stays in the file, for what the records leave open
			assert.Equal(t, c.Lasts.Observed(), stops[0].Repair.Observed)
			assert.Equal(t, c.Between.Observed(), stops[0].Every.Observed)
			assert.Greater(t, stops[0].Repair.Observed, 5)
			assert.InEpsilon(t, c.Every.Mean(), stops[0].Every.Mean(), 2e-3)
			assert.InEpsilon(t, c.Repair.Mean(), stops[0].Repair.Mean(), 2e-3, "the log holds the work alone")
		}
		if c.Text == "Changeover" { // an order is as long as what was made between two
			assert.InEpsilon(t, old.Study.Alternatives[0].Line.Process.Speed*c.Every.Mean(), s.Study.Alternatives[0].Line.Jobs.Length.Mean(), 2e-3)
		}
		if c.Text == "Web break" {
			assert.Equal(t, c.Stops, s.Study.Alternatives[0].Line.WebBreaks.Observed)
			assert.InEpsilon(t, old.Study.Alternatives[0].Line.Process.Speed/c.Rate.Mean, s.Study.Alternatives[0].Line.WebBreaks.MeanLength, 2e-3)
		}
	}
	assert.Equal(t, []string{"plate cleaning"}, Kept(template(t, "label_press"), l))
	assert.Empty(t, Kept(s, l))
}

// A scenario with its stops in one line is refused, not spoilt.
func TestWhatCannotBeWritten(t *testing.T) {
	text := string(template(t, "slitter").Text)
	for i := strings.Index(text, "[[stop]]"); i > 0; i = strings.Index(text, "[[stop]]") {
		text = text[:i] + text[i+strings.Index(text[i:], "\n\n"):]
	}
	text = "stop = [{ name = \"x\", every = \"3 h\", repair = \"5 min\" }]\n" + text
	old, err := scenarios.Parse("line.toml", []byte(text), ".")
	require.NoError(t, err)
	_, err = Into(old, ".", shipped(t, nil), plain{}, How{})
	assert.ErrorContains(t, err, "cannot be written into it")
}

func TestMaps(t *testing.T) {
	text, to, err := ParseMap("a = b = web_breaks")
	require.NoError(t, err)
	assert.Equal(t, "a = b", text)
	assert.Equal(t, WebBreak, to)
	for _, s := range []string{"web_breaks", "x=webbreaks", "x="} {
		_, _, err := ParseMap(s)
		assert.Error(t, err, s)
	}
}

// A table that stands in one line is not written anew: what to do is said.
func TestIntoALineWithItsStopsInline(t *testing.T) {
	l := shipped(t, nil)
	s, err := scenarios.Parse("line.toml", []byte("stop = [ { name = \"jam\", every = \"3 h\", repair = \"4 min\" } ]\n"+string(strip(t))), ".")
	require.NoError(t, err)
	_, err = Into(s, ".", l, plain{}, How{})
	assert.EqualError(t, err, "the laws cannot be written into it: stop stands in it as stop = …; write it as a table of its own, [[stop]], so that its lines can be written anew")
}

// strip is a small line without stops.
func strip(t *testing.T) []byte {
	t.Helper()
	return []byte("[line]\nspeed = \"100 m/min\"\naccel = \"0.2 m/s2\"\ndecel = \"0.5 m/s2\"\n[unwind]\nchange = \"manual\"\nroll_length = \"2000 m\"\nchange_time = \"3 min\"\n[rewind]\nchange = \"none\"\n[crew]\noperators = 1\n")
}
