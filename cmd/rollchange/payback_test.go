package main

import (
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"github.com/xuri/excelize/v2"

	"rollchange/scenarios"
	"rollchange/sim/effort"
)

var shortRun = []string{"--replications", "3", "--horizon", "3 d", "--draws", "500"}

func payback(t *testing.T, text string, args ...string) (int, string, string) {
	t.Helper()
	return callIn(together, text, append(append([]string{"payback", "-"}, shortRun...), args...)...)
}

func TestPaybackOnEveryShippedScenario(t *testing.T) {
	effort.NotInRace(t)
	for _, x := range scenarios.Templates()[:effort.Of(1, 2, len(scenarios.Templates()))] {
		for _, args := range effort.Some([][]string{nil, {"--json"}, {"--units", "imperial", "--years", "3"}, {"--csv"}, {"--solve", "price", "--solve", "economics.life"}}, 2) {
			code, out, errs := payback(t, string(x.Text), args...)
			assert.Equal(t, exitAnswered, code, "%s %v: %s", x.Name, args, errs)
			assert.NotContains(t, out, "NaN")
			if len(args) > 0 && args[0] == "--json" {
				assert.True(t, json.Valid([]byte(out)))
			}
		}
	}
}

func TestPaybackIsTheSameForAnyWorkers(t *testing.T) {
	text := template(t, "slitter")
	_, one, _ := payback(t, text, "--json", "--workers", "1")
	_, two, _ := payback(t, text, "--json", "--workers", "4")
	assert.Equal(t, one, two)
	assert.NotEmpty(t, one)
	_, other, _ := payback(t, text, "--json", "--seed", "5")
	assert.NotEqual(t, one, other)
}

func TestPaybackPicksTheRecommendedAndTakesAName(t *testing.T) {
	text := template(t, "label_press")
	_, out, errs := payback(t, text)
	assert.Contains(t, errs, "is recommended: of 2 alternatives, in order of investment, it is the last whose step is shown to pay")
	assert.Contains(t, out, "savings of")
	_, out, _ = payback(t, text, "--alternative", "automatic unwind")
	assert.Contains(t, out, `savings of "automatic unwind"`)
	for name, want := range map[string]string{"by hand": "is what the others are compared with", "no such": `no alternative "no such"`} {
		code, _, errs := payback(t, text, "--alternative", name)
		assert.Equal(t, exitBad, code)
		assert.Contains(t, errs, want)
	}
}

func TestPaybackNamesAllThatIsWrongAtOnce(t *testing.T) {
	code, _, errs := payback(t, template(t, "label_press"), "--draws", "3", "--years", "0", "--xlsx", "a.txt", "--solve", "x=3..2")
	assert.Equal(t, exitBad, code)
	for _, want := range []string{"--draws", "--years", "--xlsx", "--solve"} {
		assert.Contains(t, errs, want)
	}
	text := template(t, "label_press")
	for _, line := range []string{"hours_per_year", "discount_rate", "life", "price"} {
		text = removed(text, line)
	}
	code, out, errs := payback(t, text)
	assert.Equal(t, exitBad, code)
	assert.Empty(t, out)
	for _, want := range []string{"economics.hours_per_year is needed", "economics.discount_rate is needed", "economics.life is needed", "economics.price is needed", `discount_rate = `, "under [economics]"} {
		assert.Contains(t, errs, want)
	}
	// What is proposed, once written, answers, and for a year that a line could run.
	text = strings.ReplaceAll(text, "[economics]", "[economics]\n"+strings.Join(proposed(errs, "economics"), "\n"))
	code, _, errs = payback(t, text)
	assert.Equal(t, exitAnswered, code, errs)
	s, err := scenarios.Parse("proposed.toml", []byte(text), ".")
	require.NoError(t, err)
	hours := s.Study.Alternatives[0].Line.Economics.HoursPerYear.Mean() / 3600
	assert.True(t, 1000 < hours && hours <= 8784, "%g planned hours a year", hours)
	for system, write := range map[string]string{"metric": `width = "330 mm" under [web]`, "imperial": `width = "13 in" under [web]`} {
		text := strings.Replace(removed(template(t, "label_press"), "width"), `units = "metric"`, `units = "`+system+`"`, 1)
		code, _, errs := payback(t, text)
		assert.Equal(t, exitBad, code)
		assert.Contains(t, errs, "web.width is needed", system)
		assert.Contains(t, errs, write, system)
	}
	one, _, _ := strings.Cut(template(t, "label_press"), "[[alternative]]")
	code, _, errs = payback(t, one)
	assert.Equal(t, exitBad, code)
	assert.Contains(t, errs, "add [[alternative]]")
}

// removed is a text without the lines that give a key.
// proposed are the lines that errors propose to write in a table.
func proposed(errs, table string) []string {
	var lines []string
	for _, l := range strings.Split(errs, "\n") {
		if l, found := strings.CutPrefix(l, "  write: "); found {
			if l, found = strings.CutSuffix(l, " under ["+table+"]"); found {
				lines = append(lines, l)
			}
		}
	}
	return lines
}

func removed(text, key string) string {
	var kept []string
	for _, l := range strings.Split(text, "\n") {
		if !strings.HasPrefix(l, key+" ") {
			kept = append(kept, l)
		}
	}
	return strings.Join(kept, "\n")
}

func TestPaybackWritesAWorkbookWholeOrNotAtAll(t *testing.T) {
	dir := t.TempDir()
	path := filepath.Join(dir, "savings.xlsx")
	code, _, errs := payback(t, template(t, "laminator"), "--xlsx", path)
	require.Equal(t, exitAnswered, code, errs)
	f, err := excelize.OpenFile(path)
	require.NoError(t, err)
	assert.Equal(t, []string{"Answer", "Savings", "Cash flow", "By year", "Results", "Uncertainty", "Notes", "Rates"}, f.GetSheetList())
	require.NoError(t, f.Close())
	code, _, errs = payback(t, template(t, "laminator"), "--xlsx", filepath.Join(dir, "no", "where.xlsx"))
	assert.Equal(t, exitBad, code)
	assert.Contains(t, errs, "where.xlsx: cannot be written")
	bad := strings.Replace(template(t, "laminator"), "width =", "widht =", 1)
	other := filepath.Join(dir, "other.xlsx")
	code, _, _ = payback(t, bad, "--xlsx", other)
	assert.Equal(t, exitBad, code)
	assert.NoFileExists(t, other)
	list, err := os.ReadDir(dir)
	require.NoError(t, err)
	assert.Len(t, list, 1)
}

func TestSolveForAKeyOfTheLine(t *testing.T) {
	text := template(t, "laminator")
	code, _, errs := payback(t, text, "--solve", "unwind.roll_length")
	assert.Equal(t, exitBad, code)
	assert.Contains(t, errs, "give the range to search")
	code, out, errs := payback(t, text, "--alternative", "flying", "--solve", "unwind.roll_length=5 km..100 km")
	assert.Equal(t, exitAnswered, code, errs)
	assert.Contains(t, out, "Break-even: parent roll length of ")
	code, _, errs = payback(t, text, "--solve", "unwind.no_such=1..2")
	assert.Equal(t, exitBad, code)
	assert.Contains(t, errs, "no such key")
	if testing.Short() {
		return
	}
	code, out, errs = payback(t, text, "--solve", "unwind.splice_success=50 %..120 %", "--json")
	assert.Equal(t, exitAnswered, code, "what is no possible line is left out: %s", errs)
	assert.Contains(t, out, `"break_even"`)
}

// A key is taken as --set takes it: elements by name, and the keys of one alternative.
func TestSolveTakesNames(t *testing.T) {
	text := template(t, "laminator")
	solved := func(key string) string {
		code, out, errs := payback(t, text, "--alternative", "flying", "--draws", "100", "--solve", key)
		require.Equal(t, exitAnswered, code, errs)
		return strings.Join(strings.Fields(out[strings.LastIndex(out, "\n\n"):]), " ")
	}
	assert.Equal(t, solved("investment"), solved("alternative[flying].investment"))
	assert.Equal(t, solved("unwind.roll_length=5 km..100 km"), solved(" unwind.roll_length = 5 km..100 km"))
	assert.Contains(t, solved("alternative[flying].unwind.roll_length=5 km..100 km"), "flying: parent roll length ")
	byName := solved("stop[coater cleaning].repair=1 min..90 min")
	assert.Equal(t, solved("stop[0].repair=1 min..90 min"), byName)
	assert.Contains(t, byName, "coater cleaning: ")
	for key, says := range map[string]string{
		"stop[coater cleanin].repair=1 min..90 min":   `stop[coater cleanin].repair: no [[stop]] is called "coater cleanin"; did you mean coater cleaning?`,
		"alternative[by hand].investment":             `not of the alternative that is solved for`,
		"alternative[by magic].unwind.dwell=1 s..2 s": `no alternative "by magic"`,
	} {
		code, _, errs := payback(t, text, "--alternative", "flying", "--draws", "100", "--solve", key)
		assert.Equal(t, exitBad, code)
		assert.Contains(t, errs, says)
	}
}

// One target for all that is solved; one that says nothing is refused with what would be
// right, before any work.
func TestSolveForATarget(t *testing.T) {
	text := template(t, "laminator")
	for target, want := range map[string]string{"pay 2": `write "npv 100000", "payback 2 years", "discounted payback 3 years" or "irr 15 %"`, "irr 0.15": "a rate of return is in %", "npv 5 USD": "not EUR"} {
		code, _, errs := payback(t, text, "--solve", "price", "--for", target)
		assert.Equal(t, exitBad, code)
		assert.Contains(t, errs, want)
	}
	code, _, errs := payback(t, text, "--for", "payback 2 years")
	assert.Equal(t, exitBad, code)
	assert.Contains(t, errs, "give --solve KEY")
	code, _, errs = payback(t, text, "--solve", "investment_by_year")
	assert.Equal(t, exitBad, code)
	assert.Contains(t, errs, "investment_by_year is not a single amount")

	code, out, errs := payback(t, text, "--alternative", "flying", "--for", "payback 2 years", "--solve", "investment", "--solve", "crew_cost", "--solve", "unwind.roll_length=5 km..60 km", "--json")
	require.Equal(t, exitAnswered, code, errs)
	var j struct {
		Solved []struct {
			Key    string
			Value  *float64
			Always bool
			Target struct {
				Of    string
				Value float64
			}
		} `json:"break_even"`
	}
	require.NoError(t, json.Unmarshal([]byte(out), &j))
	require.Len(t, j.Solved, 3)
	for _, s := range j.Solved {
		assert.Equal(t, "simple_payback", s.Target.Of)
		assert.Equal(t, 2., s.Target.Value)
	}
	require.NotNil(t, j.Solved[0].Value)
	// With that investment the payback is two years.
	code, out, errs = payback(t, text, "--alternative", "flying", "--set", fmt.Sprintf("alternative[flying].investment=%.3f", *j.Solved[0].Value), "--json")
	require.Equal(t, exitAnswered, code, errs)
	var k struct {
		Simple struct{ Value float64 } `json:"simple_payback"`
	}
	require.NoError(t, json.Unmarshal([]byte(out), &k))
	assert.InDelta(t, 2, k.Simple.Value, 1e-3)
}

func TestAim(t *testing.T) {
	a, err := newAim("line.speed=100 m/min..2e2 m/min")
	require.NoError(t, err)
	assert.Equal(t, aim{key: "line.speed", low: 100, high: 200, unit: "m/min"}, a)
	a, err = newAim("unwind.splice_success=80..100 %")
	require.NoError(t, err)
	assert.Equal(t, "%", a.unit)
	for _, bad := range []string{"", "=1..2", "x=1", "x=2..1", "x=1 m..2 km", "x=a..b", "x=1..1"} {
		_, err := newAim(bad)
		assert.Error(t, err, bad)
	}
}

func TestCompareTellsTheSavingsWhereTheyCanBeCalculated(t *testing.T) {
	if testing.Short() {
		t.Skip("long")
	}
	args := []string{"compare", "-", "--replications", "2", "--horizon", "2 d"}
	_, out, _ := callIn(together, template(t, "label_press"), args...)
	assert.Contains(t, out, "Savings against")
	text := removed(template(t, "label_press"), "life")
	_, out, errs := callIn(together, text, args...)
	assert.NotContains(t, out, "Savings against")
	assert.NotContains(t, errs, "economics")
	_, out, _ = callIn(together, text, append(args, "--json")...)
	assert.Contains(t, out, `"economics": null`)
	_, out, _ = callIn(together, template(t, "label_press"), append(args, "--json")...)
	assert.Contains(t, out, `"savings_per_year"`)
	assert.Contains(t, out, `"worth_most"`)

	// Prices of its own are no reason to be silent; planned hours of its own are used.
	own := func(key string) string {
		return strings.Replace(template(t, "label_press"), "name = \"automatic unwind\"\n", "name = \"automatic unwind\"\neconomics."+key+"\n", 1)
	}
	_, out, errs = callIn(together, own("price = 0.5"), args...)
	assert.Contains(t, errs, `no savings of "automatic unwind": economics.price:`)
	assert.Contains(t, out, "Savings against", "those of the other stand")
	code, out, errs := callIn(together, own("price = 0.5"), "payback", "-", "--replications", "2", "--horizon", "2 d")
	assert.Equal(t, exitBad, code)
	assert.Empty(t, out)
	assert.Contains(t, errs, "economics.price")
	_, out, errs = callIn(together, own(`hours_per_year = "6000 h"`), append([]string{"payback", "-", "--alternative", "automatic unwind"}, shortRun...)...)
	assert.NotContains(t, errs, "rollchange:")
	flat := strings.Join(strings.Fields(out), " ")
	assert.Contains(t, flat, "can make in its 4000 h")
	assert.Contains(t, flat, "in its 6000 h.")
}
