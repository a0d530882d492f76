package words

import (
	"math"

	"rollchange/model"
)

// The heads of a roll table.
const (
	HeadRollLength   = "length, %s"
	HeadRollDiameter = "diameter, %s"
	HeadRollMass     = "web, %s"
	HeadWraps        = "wraps"
	HeadRidge        = "ridge of the seam, %s"
	RollsUnknown     = "  no table of %s rolls: the caliper, the core diameter or the length is not known"
)

// RollTableHead is the line above the table of parent or finished rolls.
func RollTableHead(end model.End) string { return Capital(RollsOf(end)) + " roll by length" }

// RollsOf is what the rolls of an end of the line are called.
func RollsOf(end model.End) string {
	if end == model.Rewinding {
		return "finished"
	}
	return "parent"
}

// RollUnits are the units in which a roll table is read: of a length, a diameter, the
// mass of the web.
func RollUnits(sys model.System) (length, diameter, mass model.Unit) {
	return model.Display(model.Length, sys), model.Display(model.Thickness, sys), model.Display(model.Mass, sys)
}

// RollCell is a figure of a roll table in a unit, to four digits at most; "–" for what
// is not known.
func RollCell(x float64, u model.Unit) string {
	if math.IsNaN(x) {
		return "–"
	}
	return Short(u.From(x), 4)
}
