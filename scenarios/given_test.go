package scenarios

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func TestGivenValuesAndTheirSources(t *testing.T) {
	s, err := Parse("x", []byte(`title = "x"
[line]
speed = "100 m/min"
accel = "0.2 m/s2"
decel = "0.5 m/s2"
source = "data sheet"
[unwind]
change = "manual"
roll_length = "2000 m"
change_time = "3 min"
source = "stop watch"
[rewind]
change = "none"
[crew]
operators = 1
[economics]
price = 0.3
[[alternative]]
name = "a"
[[alternative]]
name = "b"
investment = { dist = "uniform", min = 10, max = 20 }
source = "quote"
[alternative.unwind]
change_time = "2 min"
`), ".")
	require.NoError(t, err)
	find := func(alternative int, key string) Given {
		for _, g := range s.Given(alternative) {
			if g.Key == key {
				return g
			}
		}
		return Given{}
	}
	assert.Equal(t, Given{"line.speed", "100 m/min", "data sheet"}, find(0, "line.speed"))
	assert.Equal(t, Given{"unwind.change_time", "3 min", "stop watch"}, find(0, "unwind.change_time"))
	assert.Equal(t, Given{"unwind.change_time", "2 min", "stop watch"}, find(1, "unwind.change_time"))
	assert.Equal(t, Given{"alternative.investment", "uniform, min 10, max 20", "quote"}, find(1, "alternative.investment"))
	assert.Equal(t, Given{"economics.price", "0.3", ""}, find(0, "economics.price"))
	assert.Equal(t, Given{"crew.operators", "1", ""}, find(1, "crew.operators"), "the note of the alternative is not for what stands above it")
	assert.Equal(t, Given{}, find(0, "title"))
	// Only one of the alternatives kept: the sources of that one are still found.
	s.Study.Alternatives = s.Study.Alternatives[1:]
	assert.Equal(t, "quote", find(0, "alternative.investment").Source)
}
