package toml

import (
	"encoding/json"
	"io/fs"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// lax are files of the suite that no reader may take, and this one does, as the
// library before it did: a table that has a head here and keys with dots there.
var lax = []string{
	"table/append-with-dotted-keys-01", "table/append-with-dotted-keys-02",
	"table/duplicate-key-dotted-table-01", "table/duplicate-key-dotted-table-02",
}

// later are those that TOML 1.1 takes and 1.0 did not, and what is for the caller:
// texts in no UTF-8.
var later = []string{"datetime/no-secs", "local-time/no-secs", "local-datetime/no-secs", "string/basic-byte-escapes", "inline-table/trailing-comma", "inline-table/linebreak-01", "inline-table/linebreak-02", "inline-table/linebreak-03", "inline-table/linebreak-04", "spec-1.0.0/", "encoding/"}

// TestSuite tries the files of github.com/toml-lang/toml-test, as they come with
// github.com/BurntSushi/toml v1.6.0: what is valid has its values, the rest is refused.
func TestSuite(t *testing.T) {
	dir, err := exec.Command("go", "list", "-m", "-f", "{{.Dir}}", "github.com/BurntSushi/toml").Output()
	require.NoError(t, err)
	tests := filepath.Join(strings.TrimSpace(string(dir)), "internal", "toml-test", "tests")
	seen := map[string]int{}
	err = filepath.WalkDir(tests, func(path string, _ fs.DirEntry, err error) error {
		require.NoError(t, err)
		name, is := strings.CutSuffix(path, ".toml")
		if !is {
			return nil
		}
		text, err := os.ReadFile(path)
		require.NoError(t, err)
		rel, err := filepath.Rel(tests, name)
		require.NoError(t, err)
		kind, rel, _ := strings.Cut(filepath.ToSlash(rel), "/")
		starts := func(list []string) bool {
			for _, x := range list {
				if strings.HasPrefix(rel, x) {
					return true
				}
			}
			return false
		}
		d, is2 := Read(string(text))
		switch {
		case kind == "valid":
			seen[kind]++
			if !assert.NoError(t, is2, "%s\n%s", rel, text) {
				return nil
			}
			data, err := os.ReadFile(name + ".json")
			require.NoError(t, err)
			var want any
			require.NoError(t, json.Unmarshal(data, &want))
			assert.True(t, equal(want, d.Values), "%s\n%s\n%v", rel, text, d.Values)
		case kind == "invalid" && !starts(later):
			seen[kind]++
			if starts(lax) {
				assert.NoError(t, is2, "%s is refused: it need not be in the list", rel)
				return nil
			}
			assert.Error(t, is2, "%s\n%s", rel, text)
		}
		return nil
	})
	require.NoError(t, err)
	assert.Greater(t, seen["valid"], 150)
	assert.Greater(t, seen["invalid"], 300)
}

// equal compares what was read with the suite's way to write values: {"type":
// "integer", "value": "42"}.
func equal(want any, is any) bool {
	switch w := want.(type) {
	case []any:
		if tables, ok := is.([]map[string]any); ok {
			var list []any
			for _, x := range tables {
				list = append(list, x)
			}
			is = list
		}
		list, ok := is.([]any)
		if !ok || len(list) != len(w) {
			return false
		}
		for i := range w {
			if !equal(w[i], list[i]) {
				return false
			}
		}
		return true
	case map[string]any:
		kind, tagged := w["type"].(string)
		value, _ := w["value"].(string)
		if !tagged || len(w) != 2 {
			m, ok := is.(map[string]any)
			if !ok || len(m) != len(w) {
				return false
			}
			for k := range w {
				if x, ok := m[k]; !ok || !equal(w[k], x) {
					return false
				}
			}
			return true
		}
		switch kind {
		case "string":
			return is == value
		case "integer":
			n, ok := is.(int64)
			return ok && strconv.FormatInt(n, 10) == value
		case "bool":
			return is == (value == "true")
		case "float":
			x, ok := is.(float64)
			y, err := strconv.ParseFloat(strings.TrimPrefix(value, "+"), 64)
			return ok && err == nil && (x == y || math.IsNaN(x) && math.IsNaN(y))
		}
		m, ok := is.(Moment) // datetime, date-local and so on
		return ok && strings.ContainsAny(string(m), "-:")
	}
	return false
}
