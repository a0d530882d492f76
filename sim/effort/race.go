//go:build race

package effort

// Race says that the race detector is on: all is some ten times slower.
const Race = true
