package scenarios

import (
	"fmt"
	"maps"
	"math"
	"os"
	"reflect"
	"runtime"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/BurntSushi/toml"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"rollchange/model"
	"rollchange/model/legible"
	"rollchange/sim/effort"
)

// cost is what it takes to do something: time of the processor, and all memory that was
// ever taken, which is more than what was held at once.
func cost(t testing.TB, do func()) (took time.Duration, bytes uint64) {
	var before, after runtime.MemStats
	runtime.ReadMemStats(&before)
	begin := effort.Processor(t)
	do()
	took = effort.Processor(t) - begin
	runtime.ReadMemStats(&after)
	return took, after.TotalAlloc - before.TotalAlloc
}

// The bounds of any refusal.
const (
	mostTime   = 2 * time.Second
	mostMemory = 200 << 20
)

func lines(n int, format string) string {
	var b strings.Builder
	for i := range n {
		fmt.Fprintf(&b, format, i)
	}
	return b.String()
}

// blowUps are texts that are small and would take much.
func blowUps() map[string]string {
	nest := func(open, end string, n int) string {
		return "x = " + strings.Repeat(open, n) + "1" + strings.Repeat(end, n) + "\n"
	}
	return map[string]string{
		"12 kB of nested inline tables":      nest("{a=", "}", 2400),
		"1 MB of nested inline tables":       nest("{a=", "}", 250_000),
		"nested arrays":                      nest("[", "]", 500_000),
		"arrays and tables":                  nest("[{a=", "}]", 100_000),
		"nested in an alternative":           "[[alternative]]\nname = \"a\"\nunwind = {storage = {capacity = " + strings.Repeat("{a=", 5000) + "1" + strings.Repeat("}", 5000) + "}}\n",
		"nested behind a comment":            "x = [ # ]]]\n" + strings.Repeat("[\n", 100_000),
		"nested behind strings":              `x = ["[", ']', """ " [""", '''[''', ` + strings.Repeat("[", 100_000),
		"60,000 empty tables":                lines(60_000, "[t%d]\n"),
		"60,000 empty tables in one":         lines(60_000, "[line.t%d]\n"),
		"tables of arrays":                   strings.Repeat("[[stop]]\n", 100_000),
		"tables of many arrays":              lines(60_000, "[[t%d]]\n"),
		"arrays of tables in arrays":         strings.Repeat("[[alternative]]\n[[alternative.stop]]\n", 25_000),
		"most tables":                        lines(19_990, "[t%d]\n"),
		"most tables, deep":                  lines(1_800, "[x%d.a.b.c.d.e.f.g.h.i]\n"),
		"most keys":                          lines(19_990, "k%d = 1\n"),
		"most keys in a table":               "[line]\n" + lines(19_990, "k%d = 1\n"),
		"most keys in line":                  "x = {" + strings.TrimSuffix(lines(19_000, "k%d=1,"), ",") + "}\n",
		"dotted keys":                        lines(30_000, "x%d.a.b.c.d.e.f.g.h = 1\n"),
		"a dotted key":                       strings.Repeat("a.", 200_000) + "b = 1\n",
		"a dotted key of quoted parts":       strings.Repeat(`"a".`, 200_000) + "b = 1\n",
		"dotted keys in nested tables":       lines(130, "x%d = "+strings.Repeat("{a.b.c.d.e.f.g.h.i.j.k=", 11)+"1"+strings.Repeat("}", 11)+"\n"),
		"dotted keys in a dotted table":      "[" + strings.Repeat("a.", 10) + "b]\n" + lines(1_600, "x%d.b.c.d.e.f.g.h.i.j.k = {a.b.c=1}\n"),
		"a dotted table":                     "[" + strings.Repeat("a.", 200_000) + "b]\n",
		"a dotted key in line":               "x = { " + strings.Repeat("a.", 200_000) + "b = 1 }\n",
		"most values":                        "x = [" + strings.Repeat("1,", 99_990) + "1]\n",
		"too many values":                    "x = [" + strings.Repeat("1,", 400_000) + "1]\n",
		"a law of wrong values":              plain + "[crew]\nreaction = { dist = \"empirical\", values = [" + strings.Repeat(`"x",`, 90_000) + `"1 s"] }` + "\n",
		"a long key":                         strings.Repeat("a", 1_000_000) + " = 1\n",
		"a long key twice":                   strings.Repeat("a", 400_000) + " = 1\n" + strings.Repeat("a", 400_000) + " = 1\n",
		"a long number":                      "x = " + strings.Repeat("1", 1_000_000) + "\n",
		"a long string":                      `title = "` + strings.Repeat(`\"`, 500_000) + "\"\n",
		"a long string of lines":             "title = \"\"\"" + strings.Repeat("\n", 1_000_000) + "\"\"\"\n",
		"an open string":                     `title = "` + strings.Repeat("a", 1_000_000),
		"an open string of lines":            `title = """` + strings.Repeat("\\\n", 500_000),
		"a long quantity":                    plain + "[crew]\nreaction = \"" + strings.Repeat("1", 900_000) + " s\"\n",
		"a long unit":                        plain + "[crew]\nreaction = \"1 " + strings.Repeat("s", 900_000) + "\"\n",
		"lines":                              strings.Repeat("\n", 1_000_000) + "x = 1\n",
		"a comment":                          strings.Repeat("#", 1_000_000),
		"alternatives":                       plain + lines(6_000, "[[alternative]]\nname = \"a%d\"\n"),
		"alternatives of one name":           plain + strings.Repeat("[[alternative]]\nname = \"a\"\n", 6_000),
		"alternatives without a name":        plain + strings.Repeat("[[alternative]]\n", 9_000),
		"alternatives with wrong keys":       plain + lines(1_800, "[[alternative]]\nname = \"a%d\"\n[alternative.unwind]\ndwell = \"x\"\nload = 5\nnothing = 1\n"),
		"stops":                              plain + lines(1_900, "[[stop]]\nname = \"s%d\"\nevery = \"1 h\"\nrepair = \"1 s\"\n"),
		"duties":                             plain + lines(1_900, "[[crew.duty]]\nname = \"s%d\"\nevery = \"1 h\"\ntakes = \"1 s\"\n"),
		"breaks":                             plain + strings.Repeat("[[crew.break]]\nat = \"1 h\"\nfor = \"1 s\"\n", 1_900),
		"sweeps":                             plain + lines(1_900, "[[sweep]]\nname = \"s%d\"\nvary = \"line.speed=1 m/s,2 m/s\"\n"),
		"stops of each alternative":          plain + lines(50, "[[alternative]]\nname = \"a%d\"\n"+strings.Repeat("[[alternative.stop]]\n", 100)),
		"zeros":                              strings.Repeat("\x00", 1_000_000),
		"brackets":                           strings.Repeat("[", 1_000_000),
		"equals signs":                       strings.Repeat("=", 1_000_000),
		"quotes":                             strings.Repeat(`"`, 1_000_000),
		"triple quotes":                      strings.Repeat(`"""`, 300_000),
		"carriage returns":                   strings.Repeat("\r", 1_000_000),
		"letters that nothing decodes twice": strings.Repeat("é\u202e\x1b", 200_000),
		"too large":                          strings.Repeat("# rubbish\n", 200_000),
	}
}

// What is no scenario is refused in 2 s and 200 MB, in few words.
func TestWhatIsNoScenarioIsRefusedQuicklyAndInLittle(t *testing.T) {
	effort.NotInRace(t)
	texts := blowUps()
	for i, what := range slices.Sorted(maps.Keys(texts)) {
		if i%effort.Of(8, 2, 1) > 0 {
			continue
		}
		text := texts[what]
		var err error
		took, bytes := cost(t, func() { _, err = Parse("test.toml", []byte(text), "."); _ = fmt.Sprint(err) })
		if assert.Error(t, err, what) {
			assert.Less(t, len(err.Error()), 100_000, what)
		}
		assert.Less(t, took, mostTime, what)
		assert.Less(t, bytes, uint64(mostMemory), what)
	}
}

// Overrides of a command line are text of the same kind.
func TestOverridesAreBoundedToo(t *testing.T) {
	if testing.Short() {
		t.Skip("long")
	}
	effort.NotInRace(t)
	for what, value := range blowUps() {
		took, bytes := cost(t, func() {
			_, err := Parse("test.toml", []byte(plain), ".", Override{Key: "run.horizon", Value: value})
			assert.Error(t, err, what)
		})
		assert.Less(t, took, mostTime, what)
		assert.Less(t, bytes, uint64(mostMemory), what)
	}
}

// The bounds leave room: what stands at them is read.
func TestWhatIsAllowedIsRead(t *testing.T) {
	if testing.Short() {
		t.Skip("long")
	}
	effort.NotInRace(t)
	text := plain + "[crew]\nreaction = { dist = \"empirical\", values = [" + strings.Repeat(`"20 s", `, effort.Of(0, 10_000, 50_000)) + "\"30 s\"] }\n" + lines(50, "[[alternative]]\nname = \"a%d\"\n"+strings.Repeat("[[alternative.stop]]\nname = \"s%[1]d\"\nevery = \"1 h\"\nrepair = \"1 s\"\n", 1))
	s, err := Parse("test.toml", []byte(text), ".")
	require.NoError(t, err)
	assert.Len(t, s.Study.Alternatives, 50)
	deep := plain + "[[alternative]]\nname = \"a\"\ncrew = { duty = [ { name = \"x\", every = { dist = \"empirical\", values = [\"1 h\"] }, takes = \"1 min\" } ] }\n"
	_, err = Parse("test.toml", []byte(deep), ".")
	require.NoError(t, err)
	for _, x := range Templates() {
		line, what := tooMuch(strings.Repeat(string(x.Text), 3))
		assert.Empty(t, what, "%s three times over, line %d", x.Name, line)
	}
}

// tooMuch does not take for brackets what stands in strings and comments.
func TestBracketsInTextDoNotCount(t *testing.T) {
	many := strings.Repeat("[{.=", 5000)
	for _, text := range []string{"# " + many + "\nx = 1", `x = "` + many + `"`, "x = '" + many + "'", `x = """` + many + "\n\\\"\"" + "\n\"\"\"\"\"\ny = 1", "x = '''" + many + "\n'\n'''''\ny = 1", `x = "\"` + many + `"`, `"` + many + `" = 1`} {
		_, err := toml.Decode(text, new(map[string]any))
		require.NoError(t, err, "%.30q is TOML", text)
		_, what := tooMuch(text)
		assert.Empty(t, what, "%.30q", text)
	}
}

// Every law at every size of its parameters is read or refused at once, and what
// is read has finite facts.
func TestAbsurdLaws(t *testing.T) {
	effort.NotInRace(t)
	sizes := effort.Some([]string{"1e-300", "1", "2.5", "1e3", "1e18", "1e300", "1e-18", "1e-9", "1e-3", "0.1", "1e6", "1e9"}, 6)
	accepted := 0
	try := func(law string) {
		text := strings.Replace(plain, `dwell = "8 s"`, "dwell = "+law, 1)
		took, _ := cost(t, func() {
			s, err := Parse("test.toml", []byte(text), ".")
			if err != nil {
				assert.ErrorContains(t, err, "unwind.dwell", law)
				return
			}
			accepted++
			l := &s.Study.Alternatives[0].Line
			finite(t, law, l)
			for _, f := range model.FactsOf(l) {
				assert.False(t, math.IsNaN(f.Value) || math.IsInf(f.Value, 0), "%s: %s", law, f.Label)
			}
			_ = model.CautionsOf(l, model.Metric)
		})
		assert.Less(t, took, mostTime, law)
	}
	for _, a := range sizes {
		try(fmt.Sprintf(`{ dist = "exponential", mean = "%s s" }`, a))
		for _, b := range sizes {
			for _, law := range []string{"normal", "lognormal", "gamma"} {
				try(fmt.Sprintf(`{ dist = "%s", mean = "%s s", sd = "%s s" }`, law, a, b))
			}
			for _, law := range []string{"gamma", "weibull"} {
				try(fmt.Sprintf(`{ dist = "%s", shape = %s, scale = "%s s" }`, law, a, b))
			}
			try(fmt.Sprintf(`{ dist = "uniform", min = "%s s", max = "%s s" }`, a, b))
			try(fmt.Sprintf(`{ dist = "empirical", values = ["%s s", "%s s"] }`, a, b))
			try(fmt.Sprintf(`{ dist = "triangular", min = "%s s", mode = "%[1]s s", max = "%s s" }`, a, b))
		}
	}
	try(`{ dist = "uniform", min = "8 s", max = "8.000000000001 s" }`)
	try(`{ dist = "triangular", min = "8 s", mode = "8 s", max = "8.000000000000002 s" }`)
	assert.Greater(t, accepted, effort.Of(25, 100, 100))
}

// finite asserts that every number of a line is, but for what has no limit.
func finite(t *testing.T, what string, l *model.Line) {
	t.Helper()
	c := *l
	if math.IsInf(c.Rewind.Roll.Length.A, 1) {
		c.Rewind.Roll.Length.A = 0 // ends at splices only
	}
	if c.WebBreaks != nil && math.IsInf(c.WebBreaks.MeanLength, 1) {
		c.WebBreaks = nil
	}
	var walk func(path string, v reflect.Value)
	walk = func(path string, v reflect.Value) {
		switch v.Kind() {
		case reflect.Float64:
			assert.False(t, math.IsNaN(v.Float()) || math.IsInf(v.Float(), 0), "%s: %s", what, path)
		case reflect.Struct:
			for i := range v.NumField() {
				walk(path+"."+v.Type().Field(i).Name, v.Field(i))
			}
		case reflect.Pointer:
			if !v.IsNil() {
				walk(path, v.Elem())
			}
		case reflect.Slice:
			for i := range min(v.Len(), 10) {
				walk(path, v.Index(i))
			}
		}
	}
	walk("line", reflect.ValueOf(c))
}

// Each quantity alone at the ends of what a number may be: refused by its key, or
// a line whose every number and fact is finite.
func TestAbsurdQuantities(t *testing.T) {
	effort.NotInRace(t)
	accepted, refused := 0, 0
	for i := range table {
		k := &table[i]
		if k.Dim == "" || strings.Contains(k.Path, "[]") || k.kind == perRoll {
			continue
		}
		unit := k.Dim.Usual().Name
		for _, n := range effort.Some([]string{"1e308", "1e6", "1e-9", "5e-324", "-1e308", "1e200", "1e30", "1e12", "1e9", "1e-6", "1e-12", "1e-200"}, 2) {
			value := strings.TrimSpace(n + " " + unit)
			took, bytes := cost(t, func() {
				s, err := Parse("test.toml", []byte(plain), ".", Override{Key: k.Path, Value: value})
				if err != nil {
					refused++
					return
				}
				accepted++
				l := &s.Study.Alternatives[0].Line
				finite(t, k.Path+" = "+value, l)
				for _, f := range model.FactsOf(l) {
					assert.Less(t, math.Abs(f.Value), 1e30, "%s = %s: %s %s", k.Path, value, f.Group, f.Label)
				}
			})
			assert.Less(t, took, mostTime)
			assert.Less(t, bytes, uint64(mostMemory))
		}
	}
	assert.Greater(t, accepted, effort.Of(10, 50, 50))
	assert.Greater(t, refused, effort.Of(80, 500, 500))
	_, err := Parse("test.toml", []byte(strings.Replace(plain, `capacity = "60 m"`, "strands = 12\ntravel = \"1e308 m\"", 1)), ".")
	assert.ErrorContains(t, err, "unwind.storage.travel: must be at most 1e9 m: no line has more")
}

// docs/files.md says the bounds that there are.
func TestBoundsAreDocumented(t *testing.T) {
	page, err := os.ReadFile("../docs/files.md")
	require.NoError(t, err)
	text := strings.Join(strings.Fields(string(page)), " ")
	for _, says := range []string{
		fmt.Sprintf("%d MB at most, %d,000 tables and keys, %d,000 values, %d alternatives, %d stops, duties, breaks, groups or sweeps, and %d brackets", largest>>20, mostNodes/1000, mostElements/1000, mostAlternatives, mostOf, mostDeep),
		fmt.Sprintf("a length above %d,000,000 km, a time above %d,000 days", int(spans[model.Length].most/1e9), int(spans[model.Time].most/86400e3)),
		fmt.Sprintf("standard deviation is more than %d times its mean or less than a millionth", widest), fmt.Sprintf("more than %.0fe10 events", mostEvents/1e10),
		fmt.Sprintf("shows %d characters of a file", legible.Most), fmt.Sprintf("less than %d s and %d MB", mostTime/time.Second, mostMemory>>20),
	} {
		assert.Contains(t, text, says)
	}
	assert.Equal(t, mostDeep, mostParts)
	assert.Equal(t, 1e-6, narrowest)
}
