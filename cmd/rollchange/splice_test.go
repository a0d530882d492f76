package main

import (
	"encoding/json"
	"os"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

const splicedLine = `
[web]
width = "330 mm"
caliper = "0.1 mm"
register_repeat = "400 mm"
[line]
speed = "150 m/min"
accel = "0.4 m/s2"
decel = "0.4 m/s2"
[unwind]
change = "zero-speed"
roll_length = "2000 m"
load = "3 min"
decel = "0.8 m/s2"
accel = "0.8 m/s2"
max_speed = "200 m/min"
[unwind.splice]
method = "butt"
lock = "20 m"
[unwind.storage]
capacity = "60 m"
[rewind]
change = "none"
[run]
horizon = "10 h"
replications = 2
[[alternative]]
name = "out of register"
[[alternative]]
name = "in register"
unwind.splice.in_register = true
`

// A splice out of register costs its 20 m; one in register the repeat that it is in, 0.4 m,
// and one more at tail and lead: 19.2 m less a splice, in the difference of compare.
func TestWhatRegisterSavesIsCompared(t *testing.T) {
	t.Chdir(t.TempDir())
	require.NoError(t, os.WriteFile("line.toml", []byte(splicedLine), 0o644))
	code, out, errs := call(t, "", "compare", "line.toml", "--json")
	require.Equal(t, exitAnswered, code, errs)
	var j struct {
		Alternatives []struct {
			Metrics map[string]struct{ Mean float64 }
		}
		Differences []struct {
			Metrics map[string]struct{ Mean float64 }
		}
	}
	require.NoError(t, json.Unmarshal([]byte(out), &j))
	assert.InDelta(t, 20, j.Alternatives[0].Metrics["splice.web_lost"].Mean, 1e-6)
	assert.InDelta(t, 0.8, j.Alternatives[1].Metrics["splice.web_lost"].Mean, 1e-6)
	assert.InDelta(t, -19.2, j.Differences[len(j.Differences)-1].Metrics["splice.web_lost"].Mean, 1e-6)
}

// check prints the roll tables where they are asked for, and where a seam limits rolls.
func TestCheckPrintsRollTables(t *testing.T) {
	t.Chdir(t.TempDir())
	seam := "[rewind]\nchange = \"manual\"\nchange_time = \"1 min\"\nroll_length = \"500 m\"\ncore_diameter = \"76 mm\"\n"
	text := strings.Replace(splicedLine, "[rewind]\nchange = \"none\"\n", seam, 1)
	require.NoError(t, os.WriteFile("line.toml", []byte(text), 0o644))
	_, plain, _ := call(t, "", "check", "line.toml")
	assert.NotContains(t, plain, "roll by length")
	_, asked, _ := call(t, "", "check", "line.toml", "--rolls")
	assert.Contains(t, asked, "no table of parent rolls")
	assert.Equal(t, 2, strings.Count(asked, "Finished roll by length"), "one for each alternative")
	_, build, errs := call(t, "", "check", "line.toml", "--set", "rewind.build.seam_thickness=20 um", "--set", "rewind.build.ridge=5 mm")
	assert.Contains(t, build, "ridge of the seam, mm")
	assert.Contains(t, errs, "the longest roll within that is")
	_, wide, errs := call(t, "", "check", "line.toml", "--set", "rewind.build.seam_thickness=20 um", "--set", "rewind.build.ridge=50 mm")
	assert.Contains(t, wide, "ridge of the seam, mm")
	assert.NotContains(t, errs, "the longest roll within that is")
}
