package sim

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"rollchange/model"
	"rollchange/sim/invented"
)

// Rolls by lane, cores that are late and splices that end rolls allocate nothing either.
func TestLanesLateCoresAndSplicesAllocateNothing(t *testing.T) {
	l := invented.ZeroSpeed()
	l.Web = model.Web{Width: 1, Grammage: 0.08}
	l.Process.Path = 20
	l.Rewind = model.Rewind{Change: model.Flying, Roll: model.RollSize{Length: model.Const(400)}, Trigger: model.ByLengthOrSplice, SpliceAt: model.SpliceInside, MaxSplices: -1,
		Doff: model.Const(5), LoadCore: model.Dist{Law: model.Exponential, A: 100}, Pack: model.Const(10), TransferSuccess: 1, Recover: model.Const(60),
		Lanes: 4, Trim: 0.03, Overrun: 30, LateSpeed: 0.5}
	assert.Zero(t, allocsAnEvent(t, []model.Line{l}))
}
