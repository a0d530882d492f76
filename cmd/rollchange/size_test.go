package main

import (
	"encoding/json"
	"math"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"rollchange/scenarios"
	"rollchange/sim/effort"
)

// sized is a line with a zero-speed unwind; dwell is put in. Invented.
const sized = `
[line]
speed = "150 m/min"
accel = "0.25 m/s2"
decel = "0.5 m/s2"
[unwind]
change = "zero-speed"
roll_length = "2000 m"
residual = "6 m"
load = "60 s"
prepare = "40 s"
dwell = DWELL
decel = "0.8 m/s2"
accel = "0.6 m/s2"
max_speed = "225 m/min"
storage = { capacity = "70 m", reserve = "2 m" }
[rewind]
change = "none"
[crew]
operators = 2
[run]
horizon = "1 d"
replications = 2
`

type sizeAnswer struct {
	Kind, Target string
	Met          bool
	Answer       struct {
		Value, Low, High float64
		Unit             string
	}
	ClosedForm *struct{ Value float64 } `json:"closed_form"`
	LimitedBy  string                   `json:"limited_by"`
	Evidence   []struct{ Value float64 }
	Curve      []struct {
		Value, Chance, Low, High float64
		Simulated                bool
	}
}

// The smallest storage through the command against quantiles from outside:
// lognormal (mu 2.0491, sigma 0.2462) and uniform, whose quantiles need a table
// of the normal law only: z(1e-2) 2.326348, z(1e-4) 3.719016, z(1e-6) 4.753424,
// z(1e-9) 5.997807 (NIST/SEMATECH e-Handbook, 1.3.6.7.1, and its quantiles).
func TestSizeStorageEndToEnd(t *testing.T) {
	mu, sigma := math.Log(8)-0.5*math.Log(1+1./16), math.Sqrt(math.Log(1+1./16))
	for risk, z := range map[string]float64{"1e-2": 2.326348, "1e-4": 3.719016, "1e-6": 4.753424, "1e-9": 5.997807} {
		text := strings.Replace(sized, "DWELL", `{ dist = "lognormal", mean = "8 s", sd = "2 s" }`, 1)
		code, out, errs := call(t, text, "size", "storage", "-", "--risk", risk, "--json")
		require.Equal(t, exitAnswered, code, errs)
		var a sizeAnswer
		require.NoError(t, json.Unmarshal([]byte(out), &a))
		want := 6.25/1.6 + 2.5*math.Exp(mu+z*sigma) + 6.25/1.2 + 2 + 6.25
		assert.InEpsilon(t, want, a.Answer.Value, 0.001, risk)
		assert.InEpsilon(t, want, a.ClosedForm.Value, 1e-5, risk)
		assert.Equal(t, "storage", a.Kind)
		assert.Equal(t, "m", a.Answer.Unit)
		assert.NotEmpty(t, a.LimitedBy)
		assert.LessOrEqual(t, len(a.Evidence), 4, "what the records save")
		near := 0
		for _, p := range a.Curve { // of a line with no chance but the dwell, by hand
			if z := (math.Log((p.Value-6.25/1.6-6.25/1.2-2-6.25)/2.5) - mu) / sigma; math.Abs(p.Value/a.Answer.Value-1) < 0.1 {
				assert.InEpsilon(t, math.Erfc(z/math.Sqrt2)/2, p.Chance, 1e-5, "%s %g", risk, p.Value)
				near++
			}
		}
		assert.Greater(t, near, 15)
	}
}

func TestSizeEveryQuestionOnEveryShippedScenario(t *testing.T) {
	for _, x := range scenarios.Templates()[:effort.Of(1, 2, len(scenarios.Templates()))] {
		for _, args := range [][]string{{"storage", "-", "--risk", "5 %"}, {"speed", "-", "--risk", "5 %"}, {"crew", "-", "--lost", "5 %"},
			{"residual", "-", "--web-cost", "0.5", "--run-out-cost", "100"}} {
			for _, json := range []bool{false, true} {
				line := append(append([]string{"size"}, args...), "--replications", "2", "--horizon", "3 d")
				if json {
					line = append(line, "--json")
				}
				code, out, errs := callIn(together, string(x.Text), line...)
				if code == exitBad { // a question that the line cannot be asked, and is told so
					assert.Contains(t, errs, "rollchange", "%s %v", x.Name, args)
					assert.Empty(t, out)
					continue
				}
				assert.Contains(t, []int{exitAnswered, exitNotMet}, code, "%s %v: %s", x.Name, args, errs)
				assert.NotContains(t, out, "NaN", "%s %v", x.Name, args)
				assert.NotContains(t, out, "Inf", "%s %v", x.Name, args)
				assert.Contains(t, errs, "can injure", "the caution of loads and tasks")
			}
		}
	}
}

func TestTargetThatCannotBeMetExits1(t *testing.T) {
	text := strings.Replace(sized, "DWELL", `"8 s"`, 1)
	text = strings.Replace(text, "load =", "splice_success = \"98 %\"\nrecover = \"10 min\"\nload =", 1)
	plain := func(s string) string { return strings.Join(strings.Fields(s), " ") }
	args := []string{"size", "storage", "-", "--risk", "1e-4", "--most", "300 m"}
	code, out, _ := call(t, text, append(args, "--count", "failed")...)
	assert.Equal(t, exitNotMet, code)
	assert.Contains(t, plain(out), "Not met: unwind storage depleted by no more than 0.01 % of the splices (counting splices that fail and are made by hand). Even 300 m gives ")
	assert.Contains(t, plain(out), "mostly because of splices that fail and are made by hand")
	// What is made by hand stands beside the answer, and is not in it; its columns too.
	code, out, _ = call(t, text, args...)
	assert.Equal(t, exitAnswered, code)
	assert.Contains(t, plain(out), "20 in 1,000 splices fail and are made by hand; with this storage ")
	assert.Regexp(t, `(?m)^ +unwind storage +by failures +good web$`, out)
	code, out, _ = call(t, text, append(args, "--json")...)
	assert.Equal(t, exitAnswered, code)
	var a struct {
		On     string `json:"target_on"`
		Failed struct {
			Fails float64
			Adds  struct{ Mean float64 }
			With  *float64 `json:"value_with_them"`
		} `json:"made_by_hand"`
	}
	require.NoError(t, json.Unmarshal([]byte(out), &a))
	assert.Equal(t, "splice.depletion.not_failed", a.On)
	assert.InDelta(t, 0.02, a.Failed.Fails, 1e-12)
	assert.Greater(t, a.Failed.Adds.Mean, 0.0)
	assert.Nil(t, a.Failed.With, "10 min by hand are 1500 m")

	code, out, _ = call(t, text, "size", "speed", "-", "--waste", "0.0001 %")
	assert.Equal(t, exitNotMet, code)
	assert.Contains(t, plain(out), "Too much waste at every speed")
	assert.Regexp(t, `(?m)^  at every speed +too much waste \(0\.0001 % at most\)$`, out)
	for _, key := range []string{"splice.", "crew.", "waste."} {
		assert.NotContains(t, out, key, "words, not keys")
	}
}

// A rare target that too little was simulated for is not called "not met".
func TestTargetThatIsNotShownExits1(t *testing.T) {
	text := strings.Replace(sized, "DWELL", `"8 s"`, 1)
	text = strings.Replace(text, `prepare = "40 s"`, `prepare = { dist = "exponential", mean = "30 s" }`, 1)
	code, out, _ := call(t, text, "size", "storage", "-", "--risk", "1e-3", "--most-replications", "2")
	assert.Equal(t, exitNotMet, code)
	assert.Contains(t, out, "Not shown to be met")
	code, out, _ = call(t, text, "size", "storage", "-", "--risk", "1e-3", "--most-replications", "2", "--json")
	assert.Equal(t, exitNotMet, code)
	var a struct {
		Met   bool
		Short struct {
			Needed float64 `json:"changes_needed"`
			Enough float64 `json:"replications_needed"`
			Most   int     `json:"replications_allowed"`
		} `json:"too_little_simulated"`
	}
	require.NoError(t, json.Unmarshal([]byte(out), &a))
	assert.Greater(t, a.Short.Needed, 3000.0)
	assert.Equal(t, 2, a.Short.Most)
	code, out, _ = call(t, text, "size", "storage", "-", "--risk", "1e-3", "--most-replications", strconv.Itoa(int(a.Short.Enough)))
	assert.Equal(t, exitAnswered, code, out)
}

func TestBadQuestionsGetOneClearError(t *testing.T) {
	text := strings.Replace(sized, "DWELL", `"8 s"`, 1)
	for _, c := range []struct {
		args []string
		says string
	}{
		{[]string{"size"}, "size what"},
		{[]string{"size", "storag", "-"}, "did you mean storage"},
		{[]string{"size", "storage"}, "give one scenario file"},
		{[]string{"size", "storage", "-", "--risk", "0"}, "above 0"},
		{[]string{"size", "storage", "-", "--risk", "2"}, "below 1"},
		{[]string{"size", "storage", "-", "--risk", "1 per fortnight"}, "write a chance"},
		{[]string{"size", "storage", "-", "--most", "1000"}, "--most"},
		{[]string{"size", "storage", "-", "--strands", "9..4"}, "--strands"},
		{[]string{"size", "storage", "-", "--count", "late"}, "--count"},
		{[]string{"size", "speed", "-", "--count", "late"}, "--count"},
		{[]string{"size", "storage", "-", "--most-replications", "-1"}, "--most-replications"},
		{[]string{"size", "storage", "-", "--station", "middle"}, "not unwind or rewind"},
		{[]string{"size", "storage", "-", "--station", "rewind"}, "no alternative with a storage at the rewind"},
		{[]string{"size", "speed", "-", "--busy", "120%"}, "--busy"},
		{[]string{"size", "crew", "-", "--lost", "0%"}, "--lost"},
		{[]string{"size", "crew", "-", "--group", "handlers"}, "the crew has no [[crew.group]]"},
		{[]string{"size", "residual", "-"}, "does not vary"},
		{[]string{"size", "residual", "-", "--web-cost", "-1"}, "--web-cost"},
		{[]string{"sensitivity", "-", "--by", "0"}, "--by"},
		{[]string{"sensitivity", "-", "--metric", "good_rat"}, "did you mean good_rate"},
		{[]string{"sensitivity", "-", "--inputs", "40", "--total"}, "--inputs"},
		{[]string{"run", "-", "--precision", "good_rat=1%"}, "did you mean good_rate"},
		{[]string{"run", "-", "--precision", "200%"}, "half width"},
	} {
		folder := t.TempDir()
		file := filepath.Join(folder, "out.json")
		require.NoError(t, os.WriteFile(file, []byte("kept"), 0o600))
		args := c.args
		if len(args) > 2 {
			args = append(append([]string{}, args...), "-o", file)
		}
		code, out, errs := call(t, text, args...)
		assert.Equal(t, exitBad, code, "%v: %s", args, errs)
		assert.Contains(t, errs, c.says, "%v", args)
		assert.Empty(t, out)
		kept, err := os.ReadFile(file)
		require.NoError(t, err)
		assert.Equal(t, "kept", string(kept), "%v", args)
	}
}

func TestSensitivityOnEveryShippedScenario(t *testing.T) {
	for _, x := range scenarios.Templates()[:effort.Of(1, 2, len(scenarios.Templates()))] {
		folder := t.TempDir()
		replications := strconv.Itoa(effort.Of(2, 2, 4))
		code, out, errs := callIn(together, string(x.Text), "sensitivity", "-", "--replications", replications, "--horizon", "2 d", "--plots", folder)
		assert.Equal(t, exitAnswered, code, errs)
		assert.NotContains(t, out, "NaN")
		assert.Contains(t, out, "line.", "something of the line moves something")
		assert.NotContains(t, out, "e-1", "rounding is no difference")
		pictures, _ := filepath.Glob(filepath.Join(folder, "*.svg"))
		assert.NotEmpty(t, pictures, x.Name)
		if testing.Short() {
			continue
		}
		code, out, errs = callIn(together, string(x.Text), "sensitivity", "-", "--replications", "2", "--horizon", "2 d", "--json")
		assert.Equal(t, exitAnswered, code, errs)
		assert.True(t, json.Valid([]byte(out)))
	}
}

// Savings, payback and net present value are metrics of sensitivity: of the
// named alternative against the first, or of the one that is worth most.
func TestSensitivityOfMoney(t *testing.T) {
	if testing.Short() {
		t.Skip("long")
	}
	text := template(t, "label_press")
	args := []string{"sensitivity", "-", "--replications", "2", "--horizon", "2 d", "--metric", "npv,savings,payback"}
	folder := t.TempDir()
	code, out, errs := callIn(together, text, append(args, "--alternative", "automatic unwind", "--plots", folder)...)
	require.Equal(t, exitAnswered, code, errs)
	for _, want := range []string{"Label press, short runs · automatic unwind", "net present value before tax, now ", "saved a year before tax, now ", "payback before tax, now ", "economics.price", "in both alternatives"} {
		assert.Contains(t, strings.Join(strings.Fields(out), " "), want)
	}
	pictures, _ := filepath.Glob(filepath.Join(folder, "sensitivity-*.svg"))
	assert.Len(t, pictures, 3)
	code, _, errs = callIn(together, text, append(args, "--metric", "npv")...) // the last goes
	require.Equal(t, exitAnswered, code, errs)
	assert.Contains(t, errs, "is recommended: of 2 alternatives, in order of investment, it is the last whose step is shown to pay")
	for name, want := range map[string]string{"by hand": "is what the others are compared with", "no such": `no alternative "no such"`} {
		code, out, errs := callIn(together, text, append(args, "--alternative", name)...)
		assert.Equal(t, exitBad, code)
		assert.Empty(t, out)
		assert.Contains(t, errs, want)
	}
	for _, name := range []string{"", "automatic unwind"} {
		code, out, errs = call(t, removed(text, "life"), append(args, "--alternative", name)...)
		assert.Equal(t, exitBad, code)
		assert.Empty(t, out)
		assert.Contains(t, errs, "economics.life is needed")
		assert.Contains(t, errs, "under [economics]")
	}
	one, _, _ := strings.Cut(text, "[[alternative]]")
	code, _, errs = call(t, one, args...)
	assert.Equal(t, exitBad, code)
	assert.Contains(t, errs, "add [[alternative]]")
}
