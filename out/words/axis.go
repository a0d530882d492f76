package words

import (
	"math"
	"strings"

	"rollchange/model"
	"rollchange/sim/metric"
	"rollchange/sim/whatif"
)

// PointText is where a point of a sweep over one key is, in the units of people.
func PointText(s *whatif.Sweep, k int, sys model.System) string {
	a := s.Axes[0]
	return AxisValue(a.Values[s.Points[k].At[0]], AxisUnit(a, sys))
}

// AxisUnit is the unit in which the values of an axis are read.
func AxisUnit(a whatif.Axis, sys model.System) model.Unit {
	high := 0.0
	for _, v := range a.Values {
		high = max(high, math.Abs(v))
	}
	switch {
	case a.Dim == model.Time:
		return model.DisplayTime(high)
	case a.Dim == model.Length && high < 0.5:
		return model.Display(model.Thickness, sys)
	}
	return model.Display(a.Dim, sys)
}

// AxisTitle names an axis: "line speed, m/min".
func AxisTitle(a whatif.Axis, u model.Unit) string {
	if u.Name == "" {
		return KeyOf(a.Key, a.Of)
	}
	return KeyOf(a.Key, a.Of) + ", " + u.Name
}

// AxisValue writes a value of an axis: "140 m/min".
func AxisValue(si float64, u model.Unit) string {
	return strings.TrimSpace(Short(u.From(si), 4) + " " + u.Name)
}

// StorageTitle stands above the picture of what the cycles leave in a storage.
func StorageTitle(rewind bool) string {
	if rewind {
		return "How full the rewind storage gets"
	}
	return "How low the unwind storage gets"
}

// StorageAxis names the axis of that content.
func StorageAxis(rewind bool, u model.Unit) string {
	if rewind {
		return "most web in the rewind storage during a transfer cycle, " + u.Name
	}
	return "least web in the unwind storage during a splice cycle, " + u.Name
}

// CyclesAxis names the axis of the share of the cycles.
func CyclesAxis(rewind bool) string {
	if rewind {
		return "share of the transfer cycles, %"
	}
	return "share of the splice cycles, %"
}

// SpeedAxis and ContentAxis name the axes of a log drawn over time.
func SpeedAxis(u model.Unit) string   { return "speed of the web, " + u.Name }
func ContentAxis(u model.Unit) string { return "web in storage, " + u.Name }

// SinceAxis names the time axis of a log that begins at start, s.
func SinceAxis(start float64, unit string) string {
	return "time since " + Clock(start) + " (h:min:s), " + unit
}

// PresentValue marks the value that a line has now: "now 40 m".
func PresentValue(value string) string { return "now " + value }

// LimitLine marks the most that a metric may be: of a chance that is asked for
// the target, "target: 1 in 1,000", else the limit.
func LimitLine(name, most string) string {
	if _, _, risk := metric.RiskOf(name); risk {
		return "target: " + most
	}
	return "limit: " + most
}
