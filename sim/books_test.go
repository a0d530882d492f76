package sim

import (
	"context"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"rollchange/model"
	"rollchange/sim/invented"
)

// A line that never stops and has no chance in it rounds each roll change alike: over
// years that is more than a part in 10¹² of its web, and still no metre that is lost.
// A micrometre lost with each roll is.
func TestTheBooksOfYearsWithoutChance(t *testing.T) {
	l := invented.ZeroSpeed()
	l.Process.Speed, l.Process.Accel, l.Process.Decel = 2.032, 0.3048, 0.3048
	l.Unwind.Roll.Length, l.Unwind.Residual, l.Unwind.ResidualLeast = model.Const(6096), 30.48, 6.096
	l.Unwind.Decel, l.Unwind.Accel, l.Unwind.MaxSpeed, l.Unwind.Dwell = 0.9144, 0.9144, 3.048, model.Const(12)
	l.Unwind.Storage.Capacity, l.Unwind.Storage.RunLevel, l.Unwind.Storage.Reserve = 1524, 1524, 3.048
	const horizon = 3000 * 86400.0
	s := newRun(&l, 1, 0, horizon, 0, nil)
	require.NoError(t, s.simulate(context.Background()))
	assert.Greater(t, s.balance().Metres, leastTolerance+tolerance*s.balance().length, "the test is of roundings that add up")
	require.NoError(t, s.books())
	s.lines[0].tally.residual.value += 1e-6 * horizon * 2.032 / 6096
	assert.ErrorContains(t, s.books(), "do not balance")
}
