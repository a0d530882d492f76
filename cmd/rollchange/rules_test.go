package main

import (
	"go/parser"
	"go/token"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// The flow is the import graph: cmd -> scenarios, sim, sim/savings, sim/whatif,
// out, out/report; out/report -> out and what it writes about; out -> sim/savings, sim/whatif, sim, model; sim/whatif -> scenarios, sim/savings, sim,
// model; sim/savings -> sim, model; sim -> model; scenarios -> model; the model
// imports the standard library only. out/files knows files, and model/legible
// text, and neither what is in them.
func TestImportsRunOneWay(t *testing.T) {
	allowed := map[string][]string{
		"model":            {"model/legible"},
		"model/finance":    {},
		"model/legible":    {},
		"scenarios":        {"model", "model/legible"},
		"scenarios/random": {"model", "scenarios"},
		"sim":              {"model", "sim/estimate"},
		"sim/estimate":     {},
		"sim/parts":        {"model/legible", "sim"},
		"sim/savings":      {"model", "model/finance", "sim", "sim/estimate"},
		"sim/whatif":       {"model", "model/legible", "scenarios", "sim", "sim/estimate", "sim/savings"},
		"docs/examples":    {},
		"out":              {"model", "model/finance", "model/legible", "sim", "sim/estimate", "sim/savings", "sim/whatif"},
		"out/files":        {"model/legible"},
		"out/report":       {"model", "model/legible", "out", "scenarios", "sim", "sim/estimate", "sim/savings", "sim/whatif"},
		"cmd/rollchange":   {"model", "model/legible", "scenarios", "sim", "sim/estimate", "sim/parts", "sim/savings", "sim/whatif", "out", "out/files", "out/report"},
	}
	eachFile(t, func(path string, lines int) {
		folder := filepath.ToSlash(filepath.Dir(path))
		f, err := parser.ParseFile(token.NewFileSet(), "../../"+path, nil, parser.ImportsOnly)
		require.NoError(t, err)
		rule, known := allowed[folder]
		if !assert.True(t, known, "%s: a folder without an import rule", path) || strings.HasSuffix(path, "_test.go") {
			return
		}
		for _, i := range f.Imports {
			name := strings.Trim(i.Path.Value, `"`)
			if own, ok := strings.CutPrefix(name, "rollchange/"); ok {
				assert.Contains(t, rule, own, "%s imports %s", path, name)
			} else if strings.HasPrefix(folder, "model") {
				assert.NotContains(t, name, ".", "%s imports %s: the model needs the standard library only", path, name)
			}
		}
	})
}

// One rule for size: a file says one thing, in 400 lines at most.
func TestNoFileIsLongerThan400Lines(t *testing.T) {
	eachFile(t, func(path string, lines int) { assert.LessOrEqual(t, lines, 400, path) })
}

func eachFile(t *testing.T, check func(path string, lines int)) {
	t.Helper()
	n := 0
	require.NoError(t, filepath.WalkDir("../..", func(path string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() || filepath.Ext(path) != ".go" {
			return err
		}
		text, err := os.ReadFile(path)
		if err != nil {
			return err
		}
		rel, _ := filepath.Rel("../..", path)
		check(rel, strings.Count(string(text), "\n"))
		n++
		return nil
	}))
	assert.Greater(t, n, 40)
}
