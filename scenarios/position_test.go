package scenarios

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
)

func TestPositions(t *testing.T) {
	text := `title = "x" # [not.a.table]
a.b = 1
[unwind]
dwell = { dist = "empirical", values = [
  "1 s", # ]
  "2 s",
] }
load = "1 s"
note = """
[rewind]
change = "none"
"""
[unwind.storage] # the festoon
"capacity" = '60 m'
[[stop]]
name = "a # b"
[[stop]]
name = "[[stop]]"
[[alternative]]
name = "one"
unwind.change = "manual"
[alternative.unwind.storage]
reserve = "1 m"
[[alternative.stop]]
name = "c"
[[alternative]]
name = "two"
[[alternative.stop]]
name = "d"
`
	at := findPositions(strings.Split(text, "\n"))
	for path, line := range map[string]int{
		"title": 1, "a.b": 2, "unwind": 3, "unwind.dwell": 4, "unwind.load": 8, "unwind.note": 9,
		"unwind.storage": 13, "unwind.storage.capacity": 14,
		"stop[0].name": 16, "stop[1]": 17, "stop[1].name": 18,
		"alternative[0].name": 20, "alternative[0].unwind.change": 21,
		"alternative[0].unwind.storage.reserve": 23, "alternative[0].stop[0].name": 25,
		"alternative[1].name": 27, "alternative[1].stop[0].name": 29,
	} {
		assert.Equal(t, line, at[path], path)
	}
	assert.NotContains(t, at, "rewind")
	assert.Equal(t, 4, at.lineOf("unwind.dwell.mean"), "inside a value: the key's line")
	assert.Zero(t, at.lineOf("nowhere"))
}

// Keys in quotes are what they stand for, and a table that only dotted keys go
// through has the line of the first.
func TestPositionsOfQuotedAndDottedKeys(t *testing.T) {
	at := findPositions(strings.Split("\"k\\u001b[31m\" = 1\n\"a \\\" = b\".c = 2\nx.y.z = 3\n[\"t\\t\".u.v]\nw = 4", "\n"))
	for path, line := range map[string]int{"k\x1b[31m": 1, `a " = b`: 2, `a " = b.c`: 2, "x": 3, "x.y": 3, "x.y.z": 3, "t\t": 4, "t\t.u": 4, "t\t.u.v.w": 5} {
		assert.Equal(t, line, at.lineOf(path), "%q", path)
	}
}
