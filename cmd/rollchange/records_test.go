package main

import (
	"encoding/csv"
	"encoding/json"
	"math"
	"os"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"rollchange/sim/effort"
)

// recorded puts a scenario into a folder of its own, of which one law says how many
// values are behind it.
func recorded(t *testing.T) {
	t.Helper()
	inFolder(t)
	text := pressFor(t)
	said := strings.Replace(text, `mean = "24 min", sd = "10 min" }`, `mean = "24 min", sd = "10 min", observed = 60 }`, 1)
	require.NotEqual(t, text, said)
	require.NoError(t, os.WriteFile("line.toml", []byte(said), 0o644))
}

// Without the flag nothing is different; with it every figure has its half width and, in
// each form of the answer, one with the records that is no smaller.
func TestRecordsWidenEveryFigure(t *testing.T) {
	recorded(t)
	plain, open := with([]string{"compare", "line.toml", "--json"}, short...), with([]string{"compare", "line.toml", "--json", "--records"}, short...)
	type figures struct {
		Alternatives []struct {
			Metrics map[string]map[string]any
		}
		Differences []struct {
			Metrics map[string]map[string]any
		}
		Records *struct {
			Draws int
			Laws  []struct {
				Key      string
				Observed int
			}
		}
	}
	var a, b figures
	require.NoError(t, json.Unmarshal([]byte(must(t, plain...)), &a))
	require.NoError(t, json.Unmarshal([]byte(must(t, open...)), &b))
	assert.Nil(t, a.Records)
	require.NotNil(t, b.Records)
	var keys []string
	for _, x := range b.Records.Laws {
		keys = append(keys, x.Key)
	}
	assert.Contains(t, keys, "jobs.changeover")
	assert.Contains(t, keys, "unwind.change_time", "a list of values has its own")
	wider, most := 0, 0.
	for i := range b.Alternatives {
		for name, m := range b.Alternatives[i].Metrics {
			half, ok := m["half_width_records"].(float64)
			if alone, known := m["half_width"].(float64); ok && known {
				assert.GreaterOrEqual(t, half, alone*(1-1e-12), name)
				wider++
				most = math.Max(most, half/alone)
			}
			for _, k := range []string{"half_width_records", "low_records", "high_records"} {
				delete(m, k)
			}
		}
		assert.Equal(t, a.Alternatives[i].Metrics, b.Alternatives[i].Metrics, "the figures themselves are as they were")
	}
	assert.Greater(t, wider, 50)
	assert.Greater(t, most, 5.)
	assert.Contains(t, b.Differences[0].Metrics["good_rate"], "low_records")
	if testing.Short() {
		return // the other kinds of output take as long again
	}
	rows, err := csv.NewReader(strings.NewReader(must(t, with([]string{"compare", "line.toml", "--csv", "--records"}, short...)...))).ReadAll()
	require.NoError(t, err)
	assert.Equal(t, "difference_high_records", rows[0][len(rows[0])-1])
	assert.NotContains(t, must(t, with([]string{"run", "line.toml", "--csv"}, short...)...), "records")
	assert.Contains(t, must(t, with([]string{"run", "line.toml", "--csv", "--records"}, short...)...), "half_width_records")
	for _, verb := range []string{"run", "compare", "payback"}[:effort.Of(1, 1, 3)] {
		said := must(t, with([]string{verb, "line.toml", "--records"}, short...)...)
		assert.Contains(t, said, "records", verb)
		assert.Equal(t, must(t, with([]string{verb, "line.toml"}, short...)...), must(t, with([]string{verb, "line.toml", "--records=none"}, short...)...))
		assert.Equal(t, said, must(t, with([]string{verb, "line.toml", "--records", "--workers", "3"}, short...)...), "the same for any number of workers")
	}
}

// What cannot be has one clear error, before anything is simulated.
func TestRecordsThatCannotBe(t *testing.T) {
	recorded(t)
	require.NoError(t, os.WriteFile("bare.toml", []byte(strings.NewReplacer(`{ dist = "empirical", values = ["175 s", "190 s", "205 s", "210 s", "220 s", "225 s", "240 s", "260 s", "310 s", "420 s"] }`, `"4 min"`,
		`{ dist = "empirical", values = `, `{ dist = "empirical", values = ["1 s"] } # `).Replace(template(t, "label_press"))), 0o644))
	for _, x := range []struct {
		args []string
		says string
	}{
		{[]string{"run", "line.toml", "--records", "--part", "1/2", "-o", "part"}, "--records: a run in parts has figures without"},
		{[]string{"run", "line.toml", "--records", "--resume", "journal"}, "--records: a run in parts has figures without"},
		{[]string{"run", "bare.toml", "--records"}, "no law of the scenario says how many values stand behind it"},
		{[]string{"size", "storage", "bare.toml", "--records"}, "--records: unwind.dwell does not say how many values stand behind it"},
		{[]string{"size", "speed", "line.toml", "--records"}, "unknown flag"},
		{[]string{"run", "line.toml", "--records=all"}, `run.records: must be one of "observed", "none"`},
		{[]string{"run", "line.toml", "--records", "--set", "run.records=none"}, "--records sets it too"},
	} {
		code, out, errs := call(t, "", x.args...)
		assert.Equal(t, exitBad, code, x.args)
		assert.Empty(t, out)
		assert.Contains(t, errs, x.says)
	}
	_, err := os.Stat("part")
	assert.ErrorIs(t, err, os.ErrNotExist)
}

// The storage with the records stands in the text and, as a number, in JSON.
func TestSizeStorageWithRecords(t *testing.T) {
	inFolder(t)
	text := strings.ReplaceAll(template(t, "label_press"), `mean = "6 s", sd = "1.2 s" }`, `mean = "6 s", sd = "1.2 s", observed = 400 }`)
	require.NoError(t, os.WriteFile("line.toml", []byte(text), 0o644))
	ask := with([]string{"size", "storage", "line.toml", "--risk", "1 %"}, short...)
	assert.NotContains(t, must(t, ask...), "observed")
	assert.Contains(t, must(t, with(ask, "--records")...), "400 dwells were observed: with 95 % confidence over what they leave open,")
	inFile := strings.Replace(template(t, "label_press"), "[run]", "[run]\nrecords = \"observed\"", 1)
	require.NoError(t, os.WriteFile("bare.toml", []byte(inFile), 0o644))
	assert.NotContains(t, must(t, with([]string{"size", "storage", "bare.toml", "--risk", "1 %"}, short...)...), "were observed", "nothing stands behind the dwell, and the file does not ask of it alone")
	var got struct {
		Answer  struct{ Value float64 }
		Records struct {
			Storage    float64 `json:"storage_m"`
			Observed   int
			Confidence float64
			Beyond     bool `json:"rarer_than_observed"`
		}
	}
	require.NoError(t, json.Unmarshal([]byte(must(t, with(ask, "--records", "--json")...)), &got))
	assert.Greater(t, got.Records.Storage, got.Answer.Value)
	assert.Less(t, got.Records.Storage, 1.1*got.Answer.Value)
	assert.Equal(t, 400, got.Records.Observed)
	assert.False(t, got.Records.Beyond)
}

// A report says what the records leave open where a law says how much was observed, and
// not where that is switched off or no law does.
func TestReportHasTheRecords(t *testing.T) {
	if testing.Short() {
		t.Skip("long")
	}
	recorded(t)
	page := func(args ...string) string {
		code, _, errs := callIn(together, "", with(with([]string{"report", "line.toml", "-o", "page.html"}, args...), short...)...)
		require.Equal(t, exitAnswered, code, errs)
		text, err := os.ReadFile("page.html")
		require.NoError(t, err)
		return string(text)
	}
	on := page()
	assert.Contains(t, on, "What the records leave open")
	assert.NotContains(t, on, "They do not cover how well the line itself is known")
	off := page("--records=none")
	assert.NotContains(t, off, "What the records leave open")
	assert.Contains(t, off, "--records=none", "the page says how it is made again")
}
