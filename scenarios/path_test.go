package scenarios

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// A name may be of another element in each alternative: then no one number is meant.
func TestPathOf(t *testing.T) {
	text := plain + `
[[alternative]]
name = "a"
[[alternative.stop]]
name = "knives"
every = "1 h"
repair = "1 min"
[[alternative.stop]]
name = "glue"
every = "2 h"
repair = "1 min"
[[alternative]]
name = "b"
[[alternative.stop]]
name = "glue"
every = "2 h"
repair = "1 min"
[[alternative]]
name = "c"
[[alternative.stop]]
name = "knife"
every = "2 h"
repair = "1 min"
`
	s, err := Parse("test.toml", []byte(text), ".")
	require.NoError(t, err)
	path, of, err := s.PathOf("alternative[a].stop[glue].every")
	require.NoError(t, err)
	assert.Equal(t, []string{"stop[1].every", "a"}, []string{path, of})
	path, of, err = s.PathOf("alternative[2].investment")
	require.NoError(t, err)
	assert.Equal(t, []string{"alternative[2].investment", "c"}, []string{path, of})
	path, of, err = s.PathOf("line.speed")
	require.NoError(t, err)
	assert.Equal(t, []string{"line.speed", ""}, []string{path, of})
	for key, says := range map[string]string{
		"stop[glue].every":                 "is stop[0] in alternative b and stop[1] in another: vary it in one of them",
		"stop[knives].every":               "not every alternative has stop[knives]",
		"stop[nothing like it].every":      `no [[stop]] is called "nothing like it"; there are "knife"`,
		"alternative[c].stop[knifs].every": `no [[stop]] is called "knifs"; did you mean knife?`,
		"line.sped":                        "no such key; did you mean line.speed?",
	} {
		_, _, err := s.PathOf(key)
		assert.ErrorContains(t, err, says, key)
	}
	again, err := s.Again()
	require.NoError(t, err)
	again.Study.Alternatives = again.Study.Alternatives[:1]
	path, _, err = again.PathOf("stop[glue].every.mean")
	require.NoError(t, err)
	assert.Equal(t, "stop[1].every.mean", path, "of one alternative alone")
	_, _, err = again.PathOf("alternative[b].stop[glue].every")
	assert.ErrorContains(t, err, "alternative b is left out")
}
