package scenarios

import (
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"rollchange/model"
)

// Whoever writes feet is shown feet: examples, and what to write for a number without a unit.
func TestErrorsAreInTheUnitsOfTheScenario(t *testing.T) {
	text := strings.Replace(plain, "[line]", "units = \"imperial\"\n[line]", 1)
	require.Contains(t, text, "imperial")
	for _, c := range []struct{ key, value, says, write string }{
		{"line.speed", `260`, "is a bare number", `speed = "260 ft/min"`},
		{"line.speed", `"fast"`, `it must be a speed such as "490 ft/min"`, `speed = "490 ft/min"`},
		{"line.speed", `"260 m/min/min"`, "unknown unit", `speed = "490 ft/min"`},
		{"line.speed", `""`, `such as "490 ft/min"`, `speed = "490 ft/min"`},
		{"line.speed", `"such as fast"`, `it must be a speed such as "490 ft/min"`, `speed = "490 ft/min"`},
		{"line.accel", `"1"`, `it must be an acceleration such as "1 ft/s2"`, `accel = "1 ft/s2"`},
		{"web.width", `24`, "is a bare number", `width = "24 in"`},
		{"web.caliper", `4`, "is a bare number", `caliper = "4 mil"`},
		{"web.grammage", `"x"`, `such as "0.016 lb/ft2"`, `grammage = "0.016 lb/ft2"`},
		{"unwind.residual", `20`, "is a bare number", `residual = "20 ft"`},
		{"unwind.change_time", `5`, "is a bare number", `change_time = "5 min"`},
	} {
		_, err := Parse("x.toml", []byte(setTo(t, text, c.key, c.value)), ".")
		var e *Errors
		require.ErrorAs(t, err, &e, c.key)
		require.Len(t, e.Problems, 1, "%s = %s: %v", c.key, c.value, err)
		assert.Contains(t, e.Problems[0].What, c.says)
		assert.Contains(t, e.Problems[0].Write, c.write, "%s = %s", c.key, c.value)
	}
	_, err := Parse("x.toml", []byte(strings.Replace(text, "accel = ", "# accel = ", 1)), ".")
	assert.ErrorContains(t, err, `write: accel = "1.6 ft/s2"`, "what is missing too")
	assert.Equal(t, `speed = "150 m/min"`, model.Speed.In(model.Metric, `speed = "150 m/min"`))
}

// setTo is a scenario in which a key is another value, in its table.
func setTo(t *testing.T, text, key, value string) string {
	t.Helper()
	table, name, _ := strings.Cut(key, ".")
	own := regexp.MustCompile(`(?m)^` + name + ` = .*\n`)
	at := strings.Index(text, "["+table+"]\n")
	if at < 0 {
		return text + "\n[" + table + "]\n" + name + " = " + value + "\n"
	}
	at += len("[" + table + "]\n")
	end := len(text)
	if next := strings.Index(text[at:], "\n["); next >= 0 {
		end = at + next + 1
	}
	return text[:at] + name + " = " + value + "\n" + own.ReplaceAllString(text[at:end], "") + text[end:]
}

// What is proposed for rolls that reach down to their core has their mean and sd, in the
// units of the scenario, and can be written.
func TestRollsThatReachTheirCoreAreToldInTheUnitsOfTheScenario(t *testing.T) {
	text := strings.Replace(plain, "[line]", "units = \"imperial\"\n[line]", 1)
	text = regexp.MustCompile(`(?m)^roll_length = .*\n`).ReplaceAllString(text, "")
	for key, value := range map[string]string{"web.caliper": `"2.2 mil"`, "unwind.core_diameter": `"6.6 in"`, "unwind.roll_diameter": `{ dist = "normal", mean = "40 in", sd = "0.7 in" }`} {
		text = setTo(t, text, key, value)
	}
	_, err := Parse("x.toml", []byte(text), ".")
	var e *Errors
	require.ErrorAs(t, err, &e)
	require.Len(t, e.Problems, 1, err)
	assert.Contains(t, e.Problems[0].What, "larger than the core, 6.60 in")
	_, law, _ := strings.Cut(e.Problems[0].Write, " = ")
	s, err := Parse("x.toml", []byte(setTo(t, text, "unwind.roll_diameter", law)), ".")
	require.NoError(t, err)
	d := s.Study.Alternatives[0].Line.Unwind.Roll.Diameter
	assert.InDelta(t, 40*0.0254, d.Mean(), 0.01*0.0254)
	assert.InDelta(t, 0.7*0.0254, d.SD(), 0.01*0.0254)
}
