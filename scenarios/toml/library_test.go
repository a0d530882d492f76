package toml

import (
	"math"
	"math/rand/v2"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"
	"unicode/utf8"

	library "github.com/BurntSushi/toml"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"rollchange/sim/effort"
)

// alike says whether two values are the same, the dates and times of the library being
// any moment.
func alike(a, b any) bool {
	switch a := a.(type) {
	case map[string]any:
		b, ok := b.(map[string]any)
		if !ok || len(a) != len(b) {
			return false
		}
		for k, x := range a {
			if y, ok := b[k]; !ok || !alike(x, y) {
				return false
			}
		}
		return true
	case []map[string]any:
		b, ok := b.([]map[string]any)
		if !ok || len(a) != len(b) {
			return false
		}
		for i := range a {
			if !alike(a[i], b[i]) {
				return false
			}
		}
		return true
	case []any:
		b, ok := b.([]any)
		if !ok || len(a) != len(b) {
			return false
		}
		for i := range a {
			if !alike(a[i], b[i]) {
				return false
			}
		}
		return true
	case float64:
		b, ok := b.(float64)
		return ok && math.Float64bits(a) == math.Float64bits(b) || ok && a != a && b != b
	case time.Time:
		_, ok := b.(Moment)
		return ok
	}
	return a == b
}

// Texts as people write them, and the same with a few characters taken out, put in or
// moved: this package and the library that did this before come to the same, or both
// refuse the text. They part where the library takes what TOML does not: the head
// of a table that keys with dots began, keys with dots in a list, a key with dots into a table that is
// a value. Such a text is refused here as given twice.
func TestAsTheLibrary(t *testing.T) {
	files, err := filepath.Glob("../*.toml")
	require.NoError(t, err)
	bad, err := filepath.Glob("../../testdata/bad/*.toml")
	require.NoError(t, err)
	var texts []string
	for _, f := range append(files, bad...) {
		text, err := os.ReadFile(f)
		require.NoError(t, err)
		texts = append(texts, string(text))
	}
	require.Greater(t, len(texts), 100)
	texts = append(texts, "a = [1, 2.5, [true], {b = 'x', c.d = \"\"\"\ny\\\n  z\"\"\"}]\n[x.\"y z\"]\nd = 1979-05-27 07:32:00Z\n[[l]]\nn = 0x1F_f\n[[l]]\n[l.m]\n'k' = -1_0.5e+3\n")
	check := func(text string) {
		if !utf8.ValidString(text) || strings.ContainsRune(text, 0) {
			return // for the caller
		}
		var want map[string]any
		_, refused := library.Decode(text, &want)
		d, err := Read(text)
		switch {
		case err == nil && refused == nil:
			if !alike(want, d.Values) {
				t.Fatalf("values differ:\n%s\n%v\n%v", text, want, d.Values)
			}
		case err == nil:
			t.Fatalf("%v, by the library alone:\n%s", refused, text)
		case refused == nil && !strings.Contains(err.Error(), "twice") && !strings.Contains(err.Error(), "is a list of tables"):
			t.Fatalf("%v, here alone:\n%s", err, text)
		}
	}
	r := rand.New(rand.NewPCG(1, 2))
	for _, text := range texts {
		check(text)
		check(strings.ReplaceAll(text, "\n", "\r\n"))
		lines := strings.SplitAfter(text, "\n")
		for range effort.Of(3, 20, 2000) {
			from := r.IntN(len(lines))
			part := []byte(strings.Join(lines[from:min(len(lines), from+1+r.IntN(12))], ""))
			for range 1 + r.IntN(4) {
				const signs = "\"'[]{}=,.#\\\n\r\t _-+:ax019eE\x00\x1f\u007f\u00e9"
				i := r.IntN(len(part) + 1)
				switch n := min(len(part), i+1+r.IntN(3)); r.IntN(4) {
				case 0:
					part = append(part[:i:i], part[n:]...)
				case 1:
					part = append(part[:i:i], append([]byte(signs[r.IntN(len(signs)):][:1]), part[i:]...)...)
				case 2:
					part = append(part[:n:n], part[i:]...)
				case 3:
					part = append(part[:i:i], append([]byte(`"""`), part[i:]...)...)
				}
			}
			check(string(part))
		}
	}
	assert.NotEmpty(t, texts)
}
