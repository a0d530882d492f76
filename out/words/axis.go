package words

import (
	"math"
	"strconv"
	"strings"

	"rollchange/model"
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
		return KeyLabel(a.Key, "")
	}
	return KeyLabel(a.Key, "") + ", " + u.Name
}

// AxisValue writes a value of an axis: "140 m/min".
func AxisValue(si float64, u model.Unit) string {
	return strings.TrimSpace(Tidy(strconv.FormatFloat(u.From(si), 'g', 4, 64)) + " " + u.Name)
}
