package invented

import (
	"math"

	"rollchange/model"
	"rollchange/sim"
)

// Log is an invented log: a ramp to rest and back.
func Log() ([]sim.Record, *model.Line) {
	nan := math.NaN()
	l := &model.Line{Process: model.Process{Speed: 2, Decel: 0.5, Accel: 0.5},
		Unwind: model.Unwind{Change: model.ZeroSpeed, Decel: 0.5, Accel: 0.5, MaxSpeed: 3, Storage: model.Storage{Capacity: 40, RunLevel: 40, Reserve: 2}},
		Rewind: model.Rewind{Change: model.None}}
	r := func(t, u, au, a float64, event sim.Event) sim.Record {
		return sim.Record{Time: t, Of: sim.OfUnwind, Event: event, SpeedU: u, SpeedP: 2, SpeedW: nan, AccelU: au, AccelW: nan, W: nan,
			UnwindStorage: a, RewindStorage: nan}
	}
	return []sim.Record{r(0, 2, -0.5, 40, sim.CycleBegins), r(4, 0, 0, 36, sim.ChangeBegins), r(9, 0, 0.5, 26, sim.StationSpeedsUp), r(15, 3, 0, 23, sim.StationAtSpeed), r(32, 2, 0, 40, sim.StorageRefilled)}, l
}

// StorageLine is a line with storage at both ends; its figures are made up.
func StorageLine() *model.Line {
	l := &model.Line{Process: model.Process{Speed: 2, Decel: 0.5, Accel: 0.5}}
	l.Unwind.Change, l.Unwind.Decel, l.Unwind.Accel, l.Unwind.MaxSpeed = model.ZeroSpeed, 1, 1, 3
	l.Unwind.Storage = model.Storage{Capacity: 40, RunLevel: 40, Reserve: 2}
	l.Rewind.Change, l.Rewind.Decel, l.Rewind.Accel, l.Rewind.MaxSpeed = model.ZeroSpeed, 1, 1, 3
	l.Rewind.Storage = model.Storage{Capacity: 40, RunLevel: 2, Reserve: 2}
	return l
}

// Motion is the log of one splice at 2 m/s, worked out by hand: ramp down at
// 1 m/s2, dwell 5 s, ramp up at 1 m/s2 to 3 m/s, refill.
func Motion() []sim.Record {
	var list []sim.Record
	r := sim.Record{Of: sim.OfUnwind, Event: sim.CycleBegins, SpeedU: 2, SpeedP: 2, SpeedW: 2, UnwindStorage: 40, RewindStorage: 2, AccelU: -1}
	for _, x := range []struct {
		of           sim.Source
		event        sim.Event
		name         string
		dt, speed, a float64
	}{{sim.OfUnwind, sim.ChangeBegins, "", 2, 0, 0}, {sim.OfUnwind, sim.NewRoll, "", 5, 0, 1}, {sim.OfUnwind, sim.StationAtSpeed, "", 3, 3, 0}, {sim.OfUnwind, sim.StorageRefilled, "", 13.5, 2, 0}, {sim.OfStop, sim.StopBegins, "=later<b>", 20, 2, 0}} {
		list = append(list, r)
		du := r.SpeedU*x.dt + r.AccelU*x.dt*x.dt/2
		r.U, r.P, r.W, r.Time = r.U+du, r.P+2*x.dt, r.W+2*x.dt, r.Time+x.dt
		r.UnwindStorage += du - 2*x.dt
		r.Of, r.Event, r.Name, r.SpeedU, r.AccelU = x.of, x.event, x.name, x.speed, x.a
		r.Holds, r.OperatorsBusy = []string{"unwind_depleted", "stop.=x"}, 1
	}
	return append(list, r)
}
