package sim

import (
	"context"
	"fmt"
	"maps"
	"slices"
	"testing"

	"github.com/stretchr/testify/require"

	"rollchange/model"
)

// The lines of the tests: 2.5 m/s, the ramps gentle, and no chance in them
// unless a test adds some. They are invented.

func manualLine() model.Line {
	return model.Line{
		Process: model.Process{Speed: 2.5, RatedSpeed: 2.5, Accel: 0.25, Decel: 0.5},
		Unwind: model.Unwind{Change: model.Manual, Roll: model.RollSize{Length: model.Const(2000)}, Residual: 8,
			ChangeTime: model.Const(240), SpliceSuccess: 1},
		Rewind: model.Rewind{Change: model.None, Trigger: model.ByLength, MaxSplices: -1},
		Crew:   model.Crew{Operators: 1, Lines: 1, Reaction: model.Const(20), Shift: 8 * 3600},
	}
}

func zeroLine() model.Line {
	l := manualLine()
	l.Crew.Operators = 2
	l.Unwind = model.Unwind{Change: model.ZeroSpeed, Roll: model.RollSize{Length: model.Const(1500)},
		Residual: 6, ResidualLeast: 2, Load: model.Const(60), Prepare: model.Const(40), Dwell: model.Const(8),
		Decel: 0.8, Accel: 0.6, MaxSpeed: 3.75, SpliceSuccess: 1, Recover: model.Const(120),
		Storage: model.Storage{Capacity: 60, RunLevel: 60, RestartLevel: 30, Reserve: 2}}
	return l
}

func addZeroRewind(l *model.Line) {
	l.Rewind = model.Rewind{Change: model.ZeroSpeed, Roll: model.RollSize{Length: model.Const(900)}, Trigger: model.ByLength,
		Overrun: 50, MaxSplices: -1, Doff: model.Const(60), LoadCore: model.Const(40), Dwell: model.Const(5),
		Decel: 0.8, Accel: 0.6, MaxSpeed: 3.75, TransferSuccess: 1, Recover: model.Const(120),
		Storage: model.Storage{Capacity: 60, RunLevel: 5, RestartLevel: 30, Reserve: 2}}
}

// simulate runs a line and returns its metrics.
func simulate(t testing.TB, l model.Line, run model.Run) Result {
	t.Helper()
	if run.Replications == 0 {
		run.Replications = 2
	}
	if run.Confidence == 0 {
		run.Confidence = 0.95
	}
	res, err := Simulate(context.Background(), &model.Study{Run: run, Alternatives: []model.Alternative{{Name: "base", Line: l}}}, Options{})
	require.NoError(t, err)
	return res.Alternatives[0]
}

// log runs one replication of a line and returns its records.
func logOf(t testing.TB, l model.Line, run model.Run) []Record {
	t.Helper()
	var records []Record
	require.NoError(t, Trace(context.Background(), &l, run, 0, run.Horizon, func(r *Record) { records = append(records, *r) }))
	return records
}

// printed writes results so that equal means the same to the last bit.
func printed(r *Results) []string {
	var lines []string
	for _, a := range r.Alternatives {
		for _, name := range a.Names {
			lines = append(lines, fmt.Sprintf("%s %s %x", a.Alternative, name, a.Metrics[name]))
		}
		lines = append(lines, fmt.Sprintf("%v %v %v", a.Balance, a.Lowest, a.Highest))
	}
	for _, d := range r.Differences {
		for _, name := range slices.Sorted(maps.Keys(d)) {
			lines = append(lines, fmt.Sprintf("%s %x", name, d[name]))
		}
	}
	return lines
}
