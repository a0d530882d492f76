package scenarios

import (
	"strings"
	"testing"

	"github.com/BurntSushi/toml"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"rollchange/model"
	"rollchange/sim/effort"
)

// Every word leads somewhere, and no word is listed twice.
func TestSynonymsLeadToKeys(t *testing.T) {
	seen := map[string]bool{}
	for words, places := range synonyms {
		for _, p := range places {
			found := filter(func(k *Key) bool { return strings.HasPrefix(k.Path, p) })
			assert.NotEmpty(t, found, "%s: %s", words, p)
		}
		for _, w := range strings.Fields(words) {
			assert.False(t, seen[w], w)
			seen[w] = true
			if len(w)%effort.Of(4, 1, 1) == 0 {
				assert.NotEmpty(t, append(anything(Find(w)), anything(FindLaws(w))...), w)
			}
		}
	}
}

func anything[T any](list []T) []any {
	var all []any
	for _, x := range list {
		all = append(all, x)
	}
	return all
}

// The example of each law is that law.
func TestExamplesOfLaws(t *testing.T) {
	k := rowOf["unwind.dwell"]
	for _, l := range Laws() {
		var m map[string]any
		_, err := toml.Decode("x = "+l.Example(), &m)
		require.NoError(t, err, l.Name)
		v, err := k.read(m["x"], &data{dir: "."}, 0)
		require.NoError(t, err, l.Name)
		assert.Equal(t, model.Law(l.Name), v.dist.Law)
	}
}
