package scenarios

import "strings"

// positions are the lines of tables and keys, by their paths: "alternative[1].unwind.change".
// Keys inside an inline table are not listed; lineOf falls back on the key that holds it.
type positions map[string]int

// lineOf is the line of a key, or of the nearest table or key that holds it; 0
// when there is none.
func (p positions) lineOf(path string) int {
	for {
		if line, ok := p[path]; ok {
			return line
		}
		i := strings.LastIndexAny(path, ".[")
		if i < 0 {
			return 0
		}
		path = path[:i]
	}
}
