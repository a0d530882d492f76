package model

import "math"

// RollLength is the web on a roll of outer diameter D on a core of diameter d,
// caliper t, all in m:
//
//	L = pi (D² - d²) / (4 t)
//
// the area of the ring over the thickness. The spiral itself differs by less
// than 1e-8 of it for t far below d (Doctor Peterson, The Math Forum, 24 Nov 2003).
func RollLength(outer, core, caliper float64) float64 {
	return max(0, math.Pi*(outer*outer-core*core)/(4*caliper))
}

// rollDiameter is the outer diameter in m of a roll with so much web: the
// inverse of RollLength.
func rollDiameter(length, core, caliper float64) float64 {
	return math.Sqrt(core*core + 4*caliper*length/math.Pi)
}

// runOutTime is how long a roll of length m lasts at a speed v m/s until the
// residual m is left, s. It is not below 0, and +Inf at rest.
func runOutTime(length, residual, v float64) float64 {
	if length <= residual {
		return 0
	}
	return (length - residual) / v
}

// Roll is a roll of web at one moment, on a core of which the mass is neglected.
type Roll struct {
	Length   float64 // m of web
	R, Core  float64 // m, outer radius and radius of the core
	Mass     float64 // kg
	Inertia  float64 // kg m2 about its axis, m (R² + r²)/2, an annular cylinder
	Relevant bool    // width, grammage, caliper and core are known
}

// RollOf is the roll that holds so much of a web. It is not Relevant when the
// web or the core is not known.
func RollOf(length float64, web Web, core float64) Roll {
	r := Roll{Length: length, Core: core / 2}
	if web.Caliper > 0 && core > 0 {
		r.R = rollDiameter(length, core, web.Caliper) / 2
	}
	r.Mass = length * web.Width * web.Grammage
	r.Inertia = r.Mass * (r.R*r.R + r.Core*r.Core) / 2
	r.Relevant = r.R > 0 && r.Mass > 0
	return r
}

// rampTorque is the torque in N m that turns a ramp a (m/s2 at the surface)
// into spin: T = J a / R.
func (r Roll) rampTorque(a float64) float64 { return r.Inertia * a / r.R }

// rampPower is the power in W of that torque at web speed v (m/s): P = T v / R.
func (r Roll) rampPower(a, v float64) float64 { return r.rampTorque(a) * v / r.R }

// RampLimit is the ramp in m/s2 that a torque (N m) gives: a = T R / J.
func (r Roll) RampLimit(torque float64) float64 { return torque * r.R / r.Inertia }

// Mean is the mean length of the rolls of a size on a web, m: of the length, or
// of the length at the mean diameter, which a spread of diameters raises by
// pi var(D)/(4 t).
func (s RollSize) Mean(web Web) float64 {
	if !s.ByDiameter {
		return s.Length.Mean()
	}
	sd := s.Diameter.SD()
	return RollLength(s.Diameter.Mean(), s.Core, web.Caliper) + math.Pi*sd*sd/(4*web.Caliper)
}

// survivalFrom is the share of the rolls of a size that hold x m or more.
func (s RollSize) survivalFrom(x float64, web Web) float64 {
	if !s.ByDiameter {
		return s.Length.SurvivalFrom(x)
	}
	return s.Diameter.SurvivalFrom(rollDiameter(max(0, x), s.Core, web.Caliper))
}

// lowerQuantile is the length of which a roll of a size holds less with a chance p, m.
func (s RollSize) lowerQuantile(p float64, web Web) float64 {
	if !s.ByDiameter {
		return s.Length.Quantile(p)
	}
	return RollLength(s.Diameter.Quantile(p), s.Core, web.Caliper)
}

// isConst says whether all rolls of a size are alike.
func (s RollSize) isConst() bool {
	if s.ByDiameter {
		return s.Diameter.IsConst()
	}
	return s.Length.IsConst()
}

// LeastLength is how near to its end a roll counts as at its end, m: a millimetre.
const LeastLength = 1e-3
