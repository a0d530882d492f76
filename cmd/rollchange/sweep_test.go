package main

import (
	"encoding/csv"
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

var short = []string{"--replications", "2", "--horizon", "1 d"}

// pointsOf reads the JSON of a sweep.
func pointsOf(t *testing.T, text string) (at [][]float64, left []*string) {
	t.Helper()
	var got struct {
		Points []struct {
			At      []float64
			LeftOut *string `json:"left_out"`
		}
	}
	require.NoError(t, json.Unmarshal([]byte(text), &got))
	for _, p := range got.Points {
		at, left = append(at, p.At), append(left, p.LeftOut)
	}
	return at, left
}

func TestASweepOfTheFile(t *testing.T) {
	inFolder(t)
	text := template(t, "label_press") + `
[[sweep]]
name = "faster"
vary = "line.speed=2 m/s..2.5 m/s/3"
[[sweep]]
name = "people"
vary = "crew.operators=1,2"
against = "unwind.residual=4 m..16 m/3"
log = true
`
	require.NoError(t, os.WriteFile("line.toml", []byte(text), 0o644))
	at, _ := pointsOf(t, must(t, with([]string{"sweep", "line.toml", "--json"}, short...)...))
	assert.Equal(t, [][]float64{{2}, {2.25}, {2.5}}, at, "the first of the file")
	at, _ = pointsOf(t, must(t, with([]string{"sweep", "line.toml", "--json", "--sweep", "people"}, short...)...))
	assert.Equal(t, [][]float64{{1, 4}, {1, 8}, {1, 16}, {2, 4}, {2, 8}, {2, 16}}, at)
	at, _ = pointsOf(t, must(t, with([]string{"sweep", "line.toml", "--json", "--vary", "unwind.residual=2 m,3 m"}, short...)...))
	assert.Equal(t, [][]float64{{2}, {3}}, at, "the flag goes before the file")
	code, _, errs := call(t, "", "sweep", "line.toml", "--sweep", "slower")
	assert.Equal(t, exitBad, code)
	assert.Contains(t, errs, `no [[sweep]] "slower"; the scenario has ["faster" "people"]`)
}

// An element is the same by its name as by its number, also in the file.
func TestASweepTakesNames(t *testing.T) {
	inFolder(t)
	text := template(t, "label_press") + "\n[[sweep]]\nvary = \"stop[plate cleaning].repair=5 min,10 min\"\n"
	require.NoError(t, os.WriteFile("named.toml", []byte(text), 0o644))
	sweep := func(args ...string) string {
		return must(t, with(append([]string{"sweep", "named.toml", "--csv"}, args...), short...)...)
	}
	byNumber := sweep("--vary", "stop[0].repair=5 min,10 min")
	assert.Equal(t, byNumber, sweep("--vary", "stop[plate cleaning].repair=5 min,10 min"))
	assert.Equal(t, byNumber, sweep())
	assert.Equal(t, sweep("--vary", "stop[0].every.mean=5 h,10 h"), sweep("--vary", "stop[plate cleaning].every.mean=5 h,10 h"))
}

func TestASweepNamesWhatItLeavesOut(t *testing.T) {
	inFolder(t)
	args := with([]string{"sweep", "line.toml", "--vary", "unwind.storage.run_level=30 m,100 m"}, short...)
	table := must(t, args...)
	assert.Contains(t, strings.Join(strings.Fields(table), " "), "Left out, not possible: unwind.storage.run_level 100 m: unwind.storage.run_level must not be above the capacity, 40 m")
	_, left := pointsOf(t, must(t, with(args, "--json")...))
	assert.Nil(t, left[0])
	assert.Contains(t, *left[1], "must not be above the capacity")
	rows, err := csv.NewReader(strings.NewReader(must(t, with(args, "--csv")...))).ReadAll()
	require.NoError(t, err)
	assert.Equal(t, "unwind.storage.run_level", rows[0][0])
	for _, r := range rows[1:] {
		assert.Equal(t, "30", r[0])
	}
	if testing.Short() {
		return
	}
	must(t, with(args, "--plots", "pictures")...)
	pictures, err := filepath.Glob("pictures/sweep-*.svg")
	require.NoError(t, err)
	assert.NotEmpty(t, pictures)
}

// One value is a sweep too: its point is the run in which that value is set.
func TestASweepOfOneValue(t *testing.T) {
	inFolder(t)
	one := []string{"--alternative", "automatic unwind", "--json"}
	var swept struct {
		Points []struct {
			Alternatives []struct {
				Metrics map[string]struct{ Mean, SD *float64 }
			}
		}
	}
	var run struct {
		Metrics map[string]struct{ Mean, SD *float64 }
	}
	vary := with([]string{"sweep", "line.toml", "--vary", "line.speed=100 m/min"}, short...)
	require.NoError(t, json.Unmarshal([]byte(must(t, with(vary, one...)...)), &swept))
	require.NoError(t, json.Unmarshal([]byte(must(t, with([]string{"run", "line.toml", "--set", "line.speed=100 m/min"}, with(short, one...)...)...)), &run))
	require.Len(t, swept.Points, 1)
	require.NotEmpty(t, run.Metrics)
	assert.Equal(t, run.Metrics, swept.Points[0].Alternatives[0].Metrics)
	if testing.Short() {
		return
	}
	// A picture of one value shows its points, one of a second key with one value a line over the first.
	must(t, with(vary, "--plots", "one")...)
	must(t, with(vary, "--vary", "crew.operators=1,2", "--plots", "two")...)
	for file, says := range map[string]string{"one/sweep-good_rate.svg": "confidence<", "two/sweep-good_rate.svg": "; line speed 100 m/min<"} {
		text, err := os.ReadFile(file)
		require.NoError(t, err)
		assert.True(t, strings.Contains(string(text), says), file)
	}
}

func TestBadSweepsAreExit2AndTouchNothing(t *testing.T) {
	inFolder(t)
	require.NoError(t, os.WriteFile("answer", []byte("what stood there"), 0o644))
	for says, args := range map[string][]string{
		"nothing to vary":                    {},
		"did you mean line.speed?":           {"--vary", "line.sped=1 m/s,2 m/s"},
		"the range runs backwards":           {"--vary", "line.speed=3 m/s..2 m/s/3"},
		"2 values or more":                   {"--vary", "line.speed=2 m/s..3 m/s/1"},
		"2 is a bare number":                 {"--vary", "line.speed=2..3/3"},
		`"2 m" is a length`:                  {"--vary", "line.speed=2 m..3 m/3"},
		"changes the money":                  {"--vary", "economics.price=1,2"},
		"no alternative uses it":             {"--vary", "rewind.dwell=4 s,5 s", "--alternative", "automatic unwind"},
		"is varied twice":                    {"--vary", "line.speed=2 m/s,3 m/s", "--vary", "line.speed=2 m/s,3 m/s"},
		"one key or two":                     {"--vary", "line.speed=2 m/s,3 m/s", "--vary", "crew.operators=1,2", "--vary", "unwind.residual=1 m,2 m"},
		"--risk: \"0\": a risk must be abov": {"--vary", "crew.operators=1,2", "--risk", "0"},
		"--risk: \"2\": a chance for each c": {"--vary", "crew.operators=1,2", "--risk", "2"},
		"no point is possible; at un":        {"--vary", "unwind.storage.run_level=100 m,200 m", "--replications", "1"},
	} {
		code, out, errs := call(t, "", with([]string{"sweep", "line.toml", "-o", "answer"}, args...)...)
		assert.Equal(t, exitBad, code, says)
		assert.Empty(t, out)
		assert.Contains(t, errs, says)
	}
	text, err := os.ReadFile("answer")
	require.NoError(t, err)
	assert.Equal(t, "what stood there", string(text))
}

// Each point of a sweep stops on its own where it is sure enough, and is then the point
// of a run that does.
func TestEachPointOfASweepIsSureEnough(t *testing.T) {
	inFolder(t)
	args := []string{"--alternative", "automatic unwind", "--horizon", "2 d", "--replications", "10", "--precision", "0.5%"}
	code, out, errs := call(t, "", with([]string{"sweep", "line.toml", "--vary", "line.speed=80 m/min,140 m/min", "--json"}, args...)...)
	require.Equal(t, exitAnswered, code, errs)
	assert.Contains(t, errs, "% of the mean or less at each of 2 points, after ")
	var got struct {
		Run    struct{ Replications int }
		Points []struct {
			Alternatives []struct {
				Metrics map[string]struct {
					Mean float64
					Half float64 `json:"half_width"`
					N    int
				}
			}
		}
	}
	require.NoError(t, json.Unmarshal([]byte(out), &got))
	var n []int
	for k, speed := range []string{"80 m/min", "140 m/min"} {
		m := got.Points[k].Alternatives[0].Metrics["good_rate"]
		assert.LessOrEqual(t, m.Half, 0.005*m.Mean)
		n = append(n, m.N)
		_, one, _ := call(t, "", with([]string{"run", "line.toml", "--json", "--set", "line.speed=" + speed}, args...)...)
		var run struct {
			Metrics map[string]struct{ Mean float64 }
		}
		require.NoError(t, json.Unmarshal([]byte(one), &run))
		assert.Equal(t, run.Metrics["good_rate"].Mean, m.Mean)
	}
	require.NotEqual(t, n[0], n[1], "else the test shows nothing")
	assert.Equal(t, min(n[0], n[1]), got.Run.Replications)
	_, out, _ = call(t, "", with([]string{"sweep", "line.toml", "--vary", "line.speed=80 m/min,140 m/min"}, args...)...)
	assert.Contains(t, out, fmt.Sprintf("Each point: %d to %d replications of 2 d", min(n[0], n[1]), max(n[0], n[1])))
	code, out, errs = call(t, "", with([]string{"sweep", "line.toml", "--vary", "line.speed=80 m/min,140 m/min", "--most-replications", "11"}, with(args, "--precision", "0.1%")...)...)
	assert.Equal(t, exitNotMet, code)
	assert.Contains(t, errs, "at 2 of 2 points too few replications were allowed")
	assert.Contains(t, out, "Each point: 11 replications")
	for says, more := range map[string][]string{"none of the others": {"--part", "1/2"}, "did you mean good_rate?": {"--precision", "good_rat=1%"}} {
		code, out, errs = call(t, "", with([]string{"sweep", "line.toml", "--vary", "line.speed=80 m/min,140 m/min"}, with(args, more...)...)...)
		assert.Equal(t, exitBad, code)
		assert.Empty(t, out)
		assert.Contains(t, errs, says)
	}
}

func TestPrecisionIsReachedOrTheLimitIsSaid(t *testing.T) {
	inFolder(t)
	args := []string{"run", "line.toml", "--alternative", "automatic unwind", "--horizon", "2 d", "--replications", "4"}
	code, out, errs := call(t, "", with(args, "--precision", "3%")...)
	assert.Equal(t, exitAnswered, code)
	assert.Contains(t, errs, "good web (good_rate): half width ")
	assert.Contains(t, errs, "3 % was asked")
	assert.Contains(t, out, "good web")
	code, out, errs = call(t, "", with(args, "--precision", "splice.depletion=0.01%", "--most-replications", "9")...)
	assert.Equal(t, exitNotMet, code)
	assert.Contains(t, errs, "after 9 replications, the most allowed; 0.01 % was asked for, which takes about ")
	assert.Contains(t, out, "9 replications", "what was found is shown")
	code, _, errs = call(t, "", with(args, "--precision", "splice.run_out=5%", "--most-replications", "5")...)
	assert.Equal(t, exitNotMet, code)
	assert.Contains(t, errs, "never seen in \"automatic unwind\" in 5 replications")
	for says, more := range map[string][]string{"write a share": {"--precision", "0.01"}, "did you mean good_rate?": {"--precision", "good_rat=1%"}, "the least is 2": {"--precision", "1%", "--most-replications", "1"}} {
		code, out, errs = call(t, "", with(args, more...)...)
		assert.Equal(t, exitBad, code)
		assert.Empty(t, out)
		assert.Contains(t, errs, says)
	}
}
