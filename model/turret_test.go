package model

import (
	"testing"

	"github.com/stretchr/testify/assert"
)

// By hand, at 2.5 m/s, for each limit; sim holds the figure against simulations.
func TestShortestRollOfATurret(t *testing.T) {
	turret := func(change func(*Rewind)) *Line {
		l := &Line{Process: Process{Speed: 2.5, Accel: 0.25, Decel: 0.5}, Unwind: Unwind{Change: Manual, Roll: RollSize{Length: Const(3000)}, ChangeTime: Const(60)},
			Rewind: Rewind{Change: ZeroSpeed, Roll: RollSize{Length: Const(400)}, Trigger: ByLength, Doff: Const(30), LoadCore: Const(40), Dwell: Const(5),
				Decel: 0.5, Accel: 1, MaxSpeed: 5, Storage: Storage{Capacity: 60, RunLevel: 5, RestartLevel: 30}},
			Crew: Crew{Operators: 1, Lines: 1, Reaction: Const(10)}}
		change(&l.Rewind)
		return l
	}
	for _, c := range []struct {
		change func(*Rewind)
		want   float64
		limit  string
	}{
		{func(w *Rewind) { w.Change = Flying }, 2.5 * 80, "the next core: reaction, doffing and loading a core"},
		{func(*Rewind) {}, 2.5 * (80 + 2.5/0.5 + 5), "the next core: reaction, doffing and loading a core, ramp and dwell"},
		// The storage has taken 6.25 + 12.5 m; at its top speed after 5 s the winder has made good none of it,
		// then 18.75 m in 7.5 s: 12.5 + 37.5 m, and 25 m to rest.
		{func(w *Rewind) { w.Doff, w.LoadCore = Const(0), Const(0) }, 12.5 + 37.5 + 25, "the storage, which has to be drawn down"},
		{func(w *Rewind) { w.Pack, w.Lanes = Const(20), 3 }, 2.5 * (80 + 3*30), "the operator: doffing, loading a core and packing"},
		{func(w *Rewind) { w.Change, w.Pack = Flying, Const(20) }, 2.5 * 110, "the operator: doffing, loading a core and packing"},
	} {
		length, limit := keepsUp(turret(c.change))
		assert.InDelta(t, c.want, length, 1e-9, c.limit)
		assert.Equal(t, c.limit, limit)
		f := factOf(t, turret(c.change), "rewind", "shortest roll it keeps up with")
		assert.Equal(t, "line at speed, one operator for it alone; limited by "+c.limit, f.Note)
	}
	length, _ := keepsUp(turret(func(w *Rewind) { w.Change, w.ChangeTime = Manual, Const(30) }))
	assert.Zero(t, length, "a rewind by hand is no turret")
}
