package scenarios

import (
	"maps"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"rollchange/sim/effort"
)

// was is a mark as the tests write it.
func was(path, value string) string {
	if value == "" {
		return "# now: " + path + " is new"
	}
	return "# now: " + path + " was " + value
}

// edited changes keys of a text.
func edited(t *testing.T, text string, to map[string]string) string {
	t.Helper()
	s, err := Parse("test.toml", []byte(text), ".")
	require.NoError(t, err)
	var changes []Change
	for _, key := range slices.Sorted(maps.Keys(to)) {
		m, err := s.MoverOf(key)
		require.NoError(t, err, key)
		changes = append(changes, Change{m, to[key]})
	}
	out, err := s.Edited(changes, was)
	require.NoError(t, err)
	return out
}

const laidOut = `# A line.
title = "A line" # with a # in it
[line]
speed = "100 m/min"      # as on the data sheet
accel = "1 m/s2"
decel = "1 m/s2"

[unwind]
change = "manual"
roll_length = "1000 m"
# log: a note
change_time = { dist = "lognormal", mean = "4 min", sd = "1 min" } # a law
[rewind]
change = "none"

# The alternatives.
[[alternative]]
name = "by hand"
[[alternative]]
name = "two [of] them"
crew.operators = 2
unwind = { change = "zero-speed", residual_least = "1 m", residual = "1 m", load = "1 min", prepare = "1 min", dwell = { dist = "gamma", mean = "8 s", sd = "2 s" }, decel = "1 m/s2", accel = "1 m/s2", max_speed = "200 m/min", storage = { capacity = "60 m" } } # all on one line
[[alternative]]
name = "third"
[alternative.unwind]
change = "zero-speed"
load = "1 min"
prepare = "1 min"
dwell = "9 s"
decel = "1 m/s2"
accel = "1 m/s2"
max_speed = "200 m/min"
[alternative.unwind.storage]
capacity = "80 m"
`

// Only what is changed differs, line by line; the mark stands above it.
func TestEditedKeepsTheRest(t *testing.T) {
	for what, c := range map[string]struct {
		key, to   string
		gone, new []string
	}{
		"a value with a comment": {"line.speed", "120 m/min", []string{`speed = "100 m/min"      # as on the data sheet`},
			[]string{`# now: line.speed was "100 m/min"`, `speed = "120 m/min"      # as on the data sheet`}},
		"a law by its mean": {"unwind.change_time", "6 min", []string{`change_time = { dist = "lognormal", mean = "4 min", sd = "1 min" } # a law`},
			[]string{`# now: unwind.change_time was { dist = "lognormal", mean = "4 min", sd = "1 min" }`, `change_time = { dist = "lognormal", mean = "6 min", sd = "1.5 min" } # a law`}},
		"in an inline table of one":  {"alternative[two [of] them].unwind.storage.capacity", "70 m", nil, []string{`# now: alternative[1].unwind.storage.capacity was "60 m"`}},
		"in a table of one":          {"alternative[third].unwind.storage.capacity", "70 m", []string{`capacity = "80 m"`}, []string{`# now: alternative[2].unwind.storage.capacity was "80 m"`, `capacity = "70 m"`}},
		"of one that shares it":      {"alternative[third].line.speed", "110 m/min", nil, []string{`# now: alternative[2].line.speed is new`, `line.speed = "110 m/min"`}},
		"one that all but one share": {"crew.operators@1", "3", nil, []string{`# now: crew.operators is new`, `crew.operators = 3`}},
		"what stood nowhere":         {"unwind.splice_scrap", "5 m", nil, []string{`# now: unwind.splice_scrap is new`, `splice_scrap = "5 m"`}},
		"a table that is not there":  {"crew.reaction", "20 s", nil, []string{`# now: crew.reaction is new`, `crew.reaction = "20 s"`}},
	} {
		for name, text := range map[string]string{"": laidOut, " with CRLF": strings.ReplaceAll(laidOut, "\n", "\r\n"), " without an end": strings.TrimSuffix(laidOut, "\n")} {
			out := edited(t, text, map[string]string{c.key: c.to})
			assert.Equal(t, strings.Contains(text, "\r"), strings.Contains(out, "\r\n"), what+name)
			assert.NotContains(t, strings.ReplaceAll(out, "\r\n", ""), "\r")
			gone, fresh := apart(text, out)
			if strings.Contains(what, "inline") {
				require.Len(t, gone, 1, what+name)
				require.Len(t, fresh, 2, what+name)
				assert.Equal(t, strings.Replace(gone[0], "60 m", "70 m", 1), fresh[1], what+name)
				gone, fresh = nil, fresh[:1]
			}
			assert.Equal(t, c.gone, gone, what+name)
			assert.Equal(t, c.new, fresh, what+name)
		}
	}
}

// apart are the lines that only one of two texts has.
func apart(a, b string) (gone, fresh []string) {
	lines := func(s string) []string {
		return strings.Split(strings.TrimSuffix(strings.ReplaceAll(s, "\r", ""), "\n"), "\n")
	}
	for _, line := range lines(a) {
		if !slices.Contains(lines(b), line) {
			gone = append(gone, line)
		}
	}
	for _, line := range lines(b) {
		if !slices.Contains(lines(a), line) {
			fresh = append(fresh, line)
		}
	}
	return gone, fresh
}

// A second change marks what was there before it, once.
func TestEditedTwice(t *testing.T) {
	once := edited(t, laidOut, map[string]string{"line.speed": "120 m/min", "unwind.change_time": "6 min"})
	twice := edited(t, once, map[string]string{"line.speed": "130 m/min"})
	assert.Contains(t, twice, "# now: line.speed was \"120 m/min\"\nspeed = \"130 m/min\"")
	assert.Equal(t, 1, strings.Count(twice, "line.speed was"))
	assert.Contains(t, twice, "# now: unwind.change_time was")
}

// Every mover of every shipped scenario can be moved to either end and written, alone and
// all together; the text says the same as the scenario that was moved (Edited reads it).
func TestEveryShippedValueCanBeWritten(t *testing.T) {
	n, one := 0, effort.Of(30, 4, 1) // of how many inputs one is written
	for nth, x := range effort.Some(Templates(), 4) {
		s, err := Parse(x.Name, x.Text, ".")
		require.NoError(t, err)
		list := s.UsualMovers()
		list = append(list, s.Prices(list)...)
		list = append(list, s.OtherMovers(list)...)
		seen := map[string]bool{}
		var all []Change
		for i, m := range list {
			require.False(t, seen[m.Key], "%s: %s twice", x.Name, m.Key)
			seen[m.Key] = true
			if (i+nth)%one != 0 {
				continue
			}
			for _, end := range []float64{m.From, m.To} {
				if end == m.Value {
					continue
				}
				overrides, err := m.Set(m.TextOf(end))
				require.NoError(t, err, "%s: %s", x.Name, m.Key)
				if _, err := s.Again(overrides...); err != nil {
					continue // the ends are of the key alone, not of the line
				}
				c := Change{m, m.TextOf(end)}
				out, err := s.Edited([]Change{c}, was)
				require.NoError(t, err, "%s: %s = %s", x.Name, m.Key, m.TextOf(end))
				assert.Contains(t, out, "# now: ")
				if n++; end == m.From && strings.HasPrefix(m.Path, "economics.") {
					all = append(all, c)
				}
			}
		}
		_, err = s.Edited(all, was)
		require.NoError(t, err, x.Name)
	}
	assert.Greater(t, n, effort.Of(10, 600/one, 600))
}

// A layout says where values stand, whatever a text looks like.
func TestLayout(t *testing.T) {
	text := `a = 1 # one
b."c.d" = "x # y" # two
"q" = 'it'
m = """
not = 1
[no]
""" # three
l = [ 1, # first
  { x = "]" , y = [2, 3] }, ]
[t]
# nothing
u.v = 2026-01-01 10:00:00  
[[e]]
k = '''a
' b'''
[[e]]
i = { a = {}, b = { c = "}" } }
[e.s]
z = true`
	s := layoutOf(text)
	got := map[string]string{}
	for path, v := range s.values {
		got[path] = text[v.from:v.to]
	}
	for path, want := range map[string]string{"a": "1", "b.c.d": `"x # y"`, "m": "\"\"\"\nnot = 1\n[no]\n\"\"\"", "l[0]": "1", "l[1].x": `"]"`, "l[1].y": "[2, 3]", "l[1].y[1]": "3",
		"t.u.v": "2026-01-01 10:00:00", "e[0].k": "'''a\n' b'''", "e[1].i.b.c": `"}"`, "e[1].i.a": "{}", "e[1].s.z": "true"} {
		assert.Equal(t, want, got[path], path)
	}
	assert.Equal(t, []string{"", "e[0]", "e[1]", "e[1].i", "e[1].i.a", "e[1].i.b", "e[1].s", "l[1]", "t"}, slices.Sorted(maps.Keys(s.tables)))
	assert.True(t, s.tables["e[1].i.a"].empty)
	assert.Equal(t, strings.Index(text, "[[e]]"), s.tables["t"].at, "behind the last of the table")
}

// A text cut off anywhere ends the search; what is found lies in the text.
func FuzzLayout(f *testing.F) {
	for _, x := range Templates() {
		f.Add(string(x.Text))
	}
	f.Add(laidOut)
	f.Add("a = [[{b = \"\"\"")
	f.Fuzz(func(t *testing.T, text string) {
		for _, v := range layoutOf(text).values {
			if v.from > v.to || v.to > len(text) || v.line > v.from {
				t.Errorf("%v of %d", v, len(text))
			}
		}
	})
}
