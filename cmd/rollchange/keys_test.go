package main

import (
	"encoding/json"
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// The reference in the documents is what the tool prints of its own key table.
func TestReferenceOfKeysIsCurrent(t *testing.T) {
	path, err := filepath.Abs("../../docs/keys.md")
	require.NoError(t, err)
	_, table, _ := call(t, "", "keys", "--markdown")
	want := "# Scenario keys\n\nWhat `rollchange keys` prints. Quantities are text with a unit; what varies may be a distribution,\n" +
		"`{ dist = \"lognormal\", mean = \"4 min\", sd = \"80 s\" }`: exponential (mean), normal (mean, sd; redrawn below 0),\n" +
		"lognormal (mean, sd), uniform (min, max), triangular (min, mode, max), gamma and weibull (shape, scale), empirical\n" +
		"(values, or file and column). `source = \"…\"` may stand in any table.\n\n" + table
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
