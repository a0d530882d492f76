package sim

import (
	"math/bits"

	"rollchange/model"
	"rollchange/sim/metric"
)

// hold is a reason for the process to stand. The numbers are the order in
// which stopped time is charged when two began at the same instant.
type hold int

const (
	hUnwindChange hold = iota
	hUnwindDepleted
	hRewindChange
	hRewindFull
	hWebBreak
	hFirstStop // one for each [[stop]], then changeover, crew break, no order
)

// maxHolds is the most that the set of holds can name; it leaves MaxStops
// named stops, far more than a stop log has.
const (
	maxHolds = 64
	MaxStops = maxHolds - int(hFirstStop) - 3
)

func hChangeover(stops int) hold { return hFirstStop + hold(stops) }
func hCrewBreak(stops int) hold  { return hFirstStop + hold(stops) + 1 }
func hNoOrder(stops int) hold    { return hFirstStop + hold(stops) + 2 }

// holdNames returns the names of the holds of a line, in their order.
func holdNames(l *model.Line) []string {
	names := []string{hUnwindChange: metric.HoldUnwindChange, hUnwindDepleted: metric.HoldUnwindDepleted,
		hRewindChange: metric.HoldRewindChange, hRewindFull: metric.HoldRewindFull, hWebBreak: metric.HoldWebBreak}
	for _, s := range l.Stops {
		names = append(names, metric.HoldOfStop(s.Name))
	}
	names = append(names, metric.HoldChangeover, metric.HoldCrewBreak)
	if l.Orders != nil {
		names = append(names, metric.HoldNoOrder)
	}
	return names
}

// CausesOfStops are the causes of stopped time of a line, in the order of
// OrderRun.StoppedBy.
func CausesOfStops(l *model.Line) []string { return holdNames(l) }

// holds is the set of holds that are on, and since when.
type holds struct {
	set   uint64
	off   uint64 // those in which the line is not meant to run
	since [maxHolds]float64
}

func (h *holds) on(which hold) bool { return h.set&(1<<which) != 0 }
func (h *holds) any() bool          { return h.set != 0 }

// offOf is the set of holds in which a line is not meant to run: calendar stops, crew
// breaks and no order.
func offOf(l *model.Line) uint64 {
	set := uint64(1)<<hCrewBreak(len(l.Stops)) | 1<<hNoOrder(len(l.Stops))
	for i, s := range l.Stops {
		if s.Calendar {
			set |= 1 << (int(hFirstStop) + i)
		}
	}
	return set
}

// longest is the hold that has been on longest, the first in the list of those
// that began together.
func (h *holds) longest() hold {
	best := hold(bits.TrailingZeros64(h.set))
	for rest := h.set & (h.set - 1); rest != 0; rest &= rest - 1 {
		if i := hold(bits.TrailingZeros64(rest)); h.since[i] < h.since[best] {
			best = i
		}
	}
	return best
}
