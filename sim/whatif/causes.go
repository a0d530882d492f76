package whatif

import "rollchange/sim/replicate"

// notFailed is the part of a chance of depletion, or overfill, that is not by
// changes that failed: the end of the metric's name.
const notFailed = ".not_failed"

// cause is what a chance of depletion is made of: the end of the metric's name.
type cause string

// The causes.
const (
	byDwell  cause = ".dwell"
	byLate   cause = ".not_ready"
	byFailed cause = ".failed"
	byRefill cause = ".refill"
)

var causes = []cause{byDwell, byLate, byFailed, byRefill}

// words are the cause as a sentence has it, at the unwind or the rewind.
func (c cause) words(end string) string {
	i := 0
	if end == "rewind" {
		i = 1
	}
	return map[cause][2]string{
		byDwell:  {"a long dwell", "a long dwell"},
		byLate:   {"the next roll not armed in time", "the next core not ready in time"},
		byFailed: {"splices that fail and are made by hand", "transfers that fail and are made by hand"},
		byRefill: {"splices that begin before the storage is refilled", "transfers that begin before the storage is drawn down"},
	}[c][i]
}

// mainCause is what most of a chance of depletion is made of, with or without
// what failed changes add.
func mainCause(m replicate.Metrics, whole string, countFailed bool) cause {
	best, by := 0.0, byDwell
	for _, c := range causes {
		if x := m[whole+string(c)].Mean; x > best && (c != byFailed || countFailed) {
			best, by = x, c
		}
	}
	return by
}
