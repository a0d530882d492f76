package words

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"

	"rollchange/scenarios"
)

// Every key of the reference has words of its own, none of them a key.
func TestEveryKeyHasALabel(t *testing.T) {
	seen := map[string]string{}
	for _, k := range scenarios.Keys() {
		label := KeyLabel(k.Path, "")
		assert.Equal(t, k.Path == "title" || k.Path == "units", k.Path == label, k.Path)
		assert.False(t, strings.ContainsAny(label, "._[]"), "%s: %s", k.Path, label)
		table, _, _ := strings.Cut(k.Path, "[]")
		if strings.Contains(k.Path, "[]") {
			label = table + ": " + label
		}
		assert.Empty(t, seen[label], "%s is also called %s", k.Path, label)
		seen[label] = k.Path
	}
}

func TestKeyLabel(t *testing.T) {
	for _, c := range [][3]string{{"line.speed", "", "line speed"}, {"stop[0].every", "", "stop 1: time between stops"}, {"stop[0].every", "plate cleaning", "plate cleaning: time between stops"},
		{"crew.duty[2].takes", "", "duty 3: time of the work"}, {"unwind.storage.capacity", "", "unwind storage"}, {"rewind.storage.run_level", "", "rewind storage run level"},
		{"unwind.dwell.mean", "", "mean splice dwell"}, {"unwind.dwell.sd", "", "sd of splice dwell"}, {"no.such", "", "no.such"}, {"other.storage.capacity", "", "other.storage.capacity"}, {"a\x1bb.c", "", "ab.c"}} {
		assert.Equal(t, c[2], KeyLabel(c[0], c[1]))
	}
}

func TestTableLabel(t *testing.T) {
	for in, want := range map[string]string{"unwind.storage": "unwind storage", "stop[0]": "stop 1", "crew.duty[1]": "duty 2", "web_breaks": "web breaks", "line": "line", "odd[x]": "odd[x]"} {
		assert.Equal(t, want, TableLabel(in))
	}
}

func TestKeyless(t *testing.T) {
	for in, want := range map[string]string{
		"unwind.max_speed must be above line.speed, or the storage never refills": "top speed of the unwind must be above line speed, or the storage never refills",
		"unwind.residual_least must not exceed unwind.residual.":                  "least residual on the core must not exceed residual on the core.",
		"stop[1].repair: it is 0": "stop 2: length of the stop: it is 0",
		"v²/(2 line.decel)":       "v²/(2 deceleration of the line)",
		"a file.toml, 0.5 m. End": "a file.toml, 0.5 m. End", "": "", "…": "…", "(line.speed)": "(line speed)", "...": "...",
	} {
		assert.Equal(t, want, Keyless(in))
	}
}
