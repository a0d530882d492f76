package model

import "math"

// Build is what keeps a finished roll from being wound without end: the ridge of a
// seam (a lap, a weld, a strip of coating or tape) that runs along the web and lies on
// itself in every wrap. The zero value says nothing of one.
type Build struct {
	SeamWidth     float64 // m, across the web; 0 when not given
	SeamThickness float64 // m, by which the web is thicker there
	Ridge         float64 // m, highest ridge that is allowed
	Oscillation   float64 // m, by which the web is moved to each side of its middle; 0: it is not
}

// Given says whether anything is known of a ridge.
func (b Build) Given() bool { return b.SeamThickness > 0 && b.Ridge > 0 }

// share is the largest share of the wraps in which the seam lies at one place of the
// roll: min(1, w/(2 a)) for a seam of width w moved evenly by a to each side, from end
// to end of a path of 2 a.
func (b Build) share() float64 {
	if b.Oscillation <= 0 {
		return 1
	}
	return min(1, b.SeamWidth/(2*b.Oscillation))
}

// RidgeOn is the height in m of the ridge on a roll of so much web (m) on a core of
// diameter d (m), caliper t (m). The seam is thicker by e than the web beside it, so
// after N wraps
//
//	ridge = N e min(1, w/(2 a)),  N = (D - d)/(2 t)
//
// at the place where the seam spends the largest share of the wraps. Derived, no
// published source: the roll is hard, the web moves evenly from end to end (a sine
// dwells at its ends and piles up there), and N is that of a roll without a seam.
func (b Build) RidgeOn(length, core, caliper float64) float64 {
	return Wraps(length, core, caliper) * b.SeamThickness * b.share()
}

// LongestRoll is the web in m on the longest roll whose ridge is within the allowed
// one, h:
//
//	N = h / (e min(1, w/(2 a))),  L = pi N (d + N t)
//
// the inverse of RidgeOn.
func (b Build) LongestRoll(core, caliper float64) float64 {
	n := b.Ridge / (b.SeamThickness * b.share())
	return math.Pi * n * (core + n*caliper)
}

// LeastOscillation is the least movement in m to each side with which a roll of so
// much web (m) stays within the allowed ridge:
//
//	a = N e w / (2 h)
//
// and 0 where N e is within it anyway. It does not depend on the Oscillation of b.
func (b Build) LeastOscillation(length, core, caliper float64) float64 {
	high := Wraps(length, core, caliper) * b.SeamThickness
	if high <= b.Ridge {
		return 0
	}
	return b.SeamWidth * high / (2 * b.Ridge)
}

// Wraps is how often so much web (m) goes round a core of diameter d (m): N = (D - d)/(2 t)
// with caliper t (m).
func Wraps(length, core, caliper float64) float64 {
	return (rollDiameter(length, core, caliper) - core) / (2 * caliper)
}

// RollAt is a roll while it is wound or unwound: one row of a roll table.
type RollAt struct {
	Length, Diameter float64 // m
	Mass             float64 // kg of web; 0: not known
	Wraps            float64
	Ridge            float64 // m, at the seam; NaN: nothing is known of one
}

// RollTable is a roll of so much web in equal steps of length, the whole roll last; nil
// where core or caliper are not known or the roll has no length of its own.
func RollTable(length float64, web Web, core float64, b Build, steps int) []RollAt {
	if web.Caliper <= 0 || core <= 0 || math.IsInf(length, 0) {
		return nil
	}
	var rows []RollAt
	for k := 1; k <= steps; k++ {
		x := length * float64(k) / float64(steps)
		r := RollOf(x, web, core)
		row := RollAt{x, 2 * r.R, r.Mass, Wraps(x, core, web.Caliper), math.NaN()}
		if b.Given() {
			row.Ridge = b.RidgeOn(x, core, web.Caliper)
		}
		rows = append(rows, row)
	}
	return rows
}

// FinishedLength is the mean length of a finished roll in m: of one that a splice ends,
// the web of a parent roll; +Inf where nothing says it.
func FinishedLength(l *Line) float64 {
	if l.Rewind.Trigger == BySplice {
		return l.Unwind.Roll.Mean(l.Web) - l.Unwind.Residual
	}
	return l.Rewind.Roll.Mean(l.Web)
}

// buildFacts are the ridge of the finished roll and the longest roll that it allows.
func buildFacts(l *Line, add adder) {
	w := &l.Rewind
	if !w.Build.Given() || w.Roll.Core <= 0 || l.Web.Caliper <= 0 {
		return
	}
	mean := FinishedLength(l)
	add("rewind", "wraps of a finished roll", Number, Wraps(mean, w.Roll.Core, l.Web.Caliper), "(diameter - core)/(2 caliper)")
	add("rewind", "ridge of its seam", Thickness, w.Build.RidgeOn(mean, w.Roll.Core, l.Web.Caliper),
		"wraps x seam_thickness x min(1, seam_width/(2 oscillation)): a hard roll, the web moved evenly from end to end")
	longest := w.Build.LongestRoll(w.Roll.Core, l.Web.Caliper)
	add("rewind", "longest roll that the ridge allows", Length, longest, "N = ridge/(seam_thickness min(1, seam_width/(2 oscillation))), pi N (core + N caliper)")
	add("rewind", "diameter of that roll", Thickness, rollDiameter(longest, w.Roll.Core, l.Web.Caliper), "")
}

// buildCautions says that finished rolls are longer than their ridge allows.
func buildCautions(l *Line, sys System, add func(caution)) {
	w := &l.Rewind
	mean := FinishedLength(l)
	if w.Change == None || !w.Build.Given() || w.Roll.Core <= 0 || l.Web.Caliper <= 0 || math.IsInf(mean, 0) {
		return
	}
	longest, u, mm := w.Build.LongestRoll(w.Roll.Core, l.Web.Caliper), Display(Length, sys), Display(Thickness, sys)
	if mean > longest*(1+1e-9) {
		ridge := w.Build.RidgeOn(mean, w.Roll.Core, l.Web.Caliper)
		add(cautionOf("", ridge/w.Build.Ridge, "the ridge of the seam on a finished roll of %.4g %s is %.3g %s high, %.3g %s are allowed: the longest roll within that is %.4g %s (rollchange size roll)",
			u.From(mean), u.Name, mm.From(ridge), mm.Name, mm.From(w.Build.Ridge), mm.Name, u.From(longest), u.Name))
	}
}
