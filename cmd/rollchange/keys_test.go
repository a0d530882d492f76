package main

import (
	"encoding/json"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"rollchange/scenarios"
)

// The reference in the documents is what the tool prints of its own key table.
func TestReferenceOfKeysIsCurrent(t *testing.T) {
	path, err := filepath.Abs("../../docs/keys.md")
	require.NoError(t, err)
	_, table, _ := call(t, "", "keys", "--markdown")
	want := "# Scenario keys\n\nWhat `rollchange keys` prints. Quantities are text with a unit; what varies may be a distribution,\n" +
		"`{ dist = \"lognormal\", mean = \"4 min\", sd = \"80 s\" }`; the distributions follow the keys. `source = \"…\"` may stand in any\n" +
		"table and in any distribution, `observed = 37`, how many values stand behind it ([records.md](records.md)), in any distribution but those\n" +
		"of prices.\n\n" + table
	if *update {
		require.NoError(t, os.WriteFile(path, []byte(want), 0o644))
	}
	got, err := os.ReadFile(path)
	require.NoError(t, err)
	assert.Equal(t, want, string(got), "go test ./cmd/... -update writes it")
}

func TestKeysSchemaIsJSON(t *testing.T) {
	code, out, _ := call(t, "", "keys", "--schema")
	assert.Equal(t, exitAnswered, code)
	assert.True(t, json.Valid([]byte(out)))
}

func TestKeysFindsByWord(t *testing.T) {
	code, out, _ := call(t, "", "keys", "unwind.storage")
	assert.Equal(t, exitAnswered, code)
	assert.Contains(t, out, "[unwind.storage]")
	assert.Contains(t, out, "restart_level")
	assert.NotContains(t, out, "[rewind")
}

// The words of the trade lead to the keys that have another name.
func TestKeysFindsWhatTheTradeCallsThem(t *testing.T) {
	for word, want := range map[string]string{
		"festoon": "[unwind.storage]", "accumulator": "[rewind.storage]", "Accumulators": "[unwind.storage]", "turret": "[rewind]", "gsm": "grammage", "MTBF": "[[stop]]",
		"make ready": "changeover", "web breaks": "[web_breaks]", "lunch": "[[crew.break]]", "capex": "investment", "source": "Where the figures come from",
		"lognormal": "mean, sd", "law": "triangular", "distributions": "weibull", "empirical": "CSV", "shape": "gamma",
	} {
		code, out, errs := call(t, "", append([]string{"keys"}, strings.Fields(word)...)...)
		assert.Equal(t, exitAnswered, code, "%s: %s", word, errs)
		assert.Contains(t, out, want, word)
		assert.Less(t, len(out), 14000, "%s: not everything", word)
	}
	_, all, _ := call(t, "", "keys")
	for _, l := range scenarios.Laws() {
		assert.Contains(t, all, "\n  "+l.Name, "the reference lists every law")
		for _, p := range slices.Concat(l.Params, l.May) {
			assert.Contains(t, all, p)
		}
	}
	assert.Contains(t, all, "source = ")
	assert.Contains(t, all, "observed = 37")
	_, seen, _ := call(t, "", "keys", "observed")
	assert.Contains(t, seen, "observed = 37", "the parameter of a distribution beside the keys of that name")
	for word, near := range map[string]string{"fetsoon": "festoon", "acumulator": "accumulator", "lognornal": "lognormal"} {
		code, out, errs := call(t, "", "keys", word)
		assert.Equal(t, exitBad, code)
		assert.Empty(t, out)
		assert.Contains(t, errs, "did you mean "+near+"?")
	}
}
