// Package effort says how much a long test tries. Only tests import it.
//
// A law over random lines or the coverage of an interval is tested better the
// more is tried. There are three amounts: with -short, for the race detector and
// between two edits; by default, what go test ./... has time for; and with
// ROLLCHANGE_LONG=1, as .ci/run sets it, the whole of it.
package effort

import (
	"os"
	"testing"
)

// Variable asks for the long form of every test when it is "1".
const Variable = "ROLLCHANGE_LONG"

// Long says that the long form is asked for. -short goes before it.
func Long() bool { return os.Getenv(Variable) == "1" && !testing.Short() }

// Of is how many times a test tries: short with -short, long when that is asked
// for, else usual.
func Of(short, usual, long int) int {
	switch {
	case testing.Short():
		return short
	case Long():
		return long
	}
	return usual
}

// Some are all, but with -short no more than the first so many.
func Some[T any](all []T, short int) []T {
	return all[:min(len(all), Of(short, len(all), len(all)))]
}

// NotInRace skips a test that runs in one goroutine and is long, or that holds
// something to a time or a memory: the race detector finds nothing in it.
func NotInRace(t testing.TB) {
	t.Helper()
	if Race {
		t.Skip("nothing for the race detector")
	}
}
