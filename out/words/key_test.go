package words

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"

	"rollchange/out/invented"
	"rollchange/scenarios"
)

// Every key that a picture may show has words of its own, and no two the same.
func TestKeysHaveWords(t *testing.T) {
	seen := map[string]string{}
	for _, k := range scenarios.Keys() {
		section, _, _ := strings.Cut(k.Path, ".")
		if section == "sweep[]" || section == "live[]" || section == "records" { // nothing of it is moved or drawn
			continue
		}
		name := strings.Replace(k.Path, "[]", "[jam]", 1)
		w := KeyWords(name)
		assert.NotContains(t, w, "_", name)
		assert.NotContains(t, w, ".", name)
		assert.NotContains(t, w, "[", name)
		if other, ok := seen[w]; ok {
			t.Errorf("%s and %s are both %q", name, other, w)
		}
		seen[w] = name
	}
}

func TestKeyWords(t *testing.T) {
	for key, want := range map[string]string{
		"line.speed": "line speed", "unwind.storage.capacity": "unwind storage", "rewind.storage.travel": "carriage travel of the rewind storage",
		"unwind.dwell.sd": "splice dwell, standard deviation", "stop[plate cleaning].repair": "plate cleaning: repair", `stop["ink. low"].every.mean`: "ink. low: time between stops, mean",
		"stop[0].every": "stop 1: time between stops", "crew.duty[1].takes": "duty 2: time of the work", "unknown.key": "unknown.key", "": "",
	} {
		assert.Equal(t, want, KeyWords(key), key)
	}
	assert.Equal(t, "odd ] name: repair", KeyOf("stop[3].repair", "odd ] name"))
	assert.Equal(t, "line speed", KeyOf("line.speed", ""))
}

func TestChangedMark(t *testing.T) {
	assert.Equal(t, `# changed: line.speed was "100 m/min"`, ChangedMark("line.speed", `"100 m/min"`))
	assert.Equal(t, "# changed: line.speed was not given", ChangedMark("line.speed", ""))
}

// An input of a savings case is called alike in every picture.
func TestKeyWordsOfMoney(t *testing.T) {
	n := 0
	c, _ := invented.Case(t, nil)
	for _, in := range c.Inputs {
		if section, _, _ := strings.Cut(in.Key, "."); section == "economics" || section == "first" || section == "alternative" {
			assert.Contains(t, keyWords, in.Key)
			n++
		}
	}
	assert.Greater(t, n, 8)
}

func TestTableWords(t *testing.T) {
	for in, want := range map[string]string{"unwind.storage": "unwind storage", "stop[0]": "stop 1", "crew.duty[1]": "duty 2", "web_breaks": "web breaks", "line": "line", "odd[x]": "odd[x]"} {
		assert.Equal(t, want, TableWords(in))
	}
}

func TestKeyless(t *testing.T) {
	for in, want := range map[string]string{
		"unwind.max_speed must be above line.speed, or the storage never refills": "top speed of the unwind must be above line speed, or the storage never refills",
		"unwind.residual_least must not exceed unwind.residual.":                  "least residual on the core must not exceed residual on the core.",
		"stop[1].repair: it is 0": "stop 2: repair: it is 0",
		"v²/(2 line.decel)":       "v²/(2 ramp down of the line)",
		"a file.toml, 0.5 m. End": "a file.toml, 0.5 m. End", "": "", "…": "…", "(line.speed)": "(line speed)", "...": "...",
	} {
		assert.Equal(t, want, Keyless(in))
	}
}
