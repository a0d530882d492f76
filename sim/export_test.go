package sim

import (
	"context"
	"testing"

	"github.com/stretchr/testify/require"

	"rollchange/model"
)

// What tests outside of the package look at.
var CauseNames, TaskSources = causeNames, taskSources

// LogOf runs one replication of a line and returns its records.
func LogOf(t testing.TB, l model.Line, run model.Run) []Record {
	t.Helper()
	var records []Record
	require.NoError(t, Trace(context.Background(), &l, run, 0, run.Horizon, func(r *Record) { records = append(records, *r) }))
	return records
}

// OffOf is how many changes are not as they are reckoned from their record, and of
// how many.
func OffOf(c *Cycles) (off, all float64) {
	for i := range c.list {
		if x := &c.list[i]; x.off != (parts{}) {
			off += x.n
		}
	}
	return off, c.made
}
