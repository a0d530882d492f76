// Package model says what a roll-to-roll line is and what is known of it in
// closed form. It has no clock, no random numbers and no file format, and
// imports the standard library only.
//
//  1. In comes a Study: package scenarios fills one from a TOML file. All
//     values are SI; units.go reads and shows others.
//  2. Out go the same Study, for package sim to simulate, and the closed forms:
//     FactsOf, CautionsOf, Ceiling and the methods of Dist and Cycle, which
//     packages sim, out and the commands use.
//
// Files, in reading order:
//
//	line.go      the study, its alternatives, the line and its stations
//	dist.go      a quantity that may vary; law.go its mean, tail and quantile; gamma.go one integral
//	units.go     units in and out
//	roll.go      diameter, length, mass, inertia, torque
//	ramp.go      stopping length and time
//	splice.go    one change at rest out of storage: drawn, margin, refill
//	storage.go   strands and carriage
//	bound.go     ceiling on output, load of the crew
//	oee.go       overall equipment effectiveness
//	lifting.go   how much one person should lift
//	facts.go     all that check prints of a line; cautions.go what it warns of
//
// Symbols, as the comments use them:
//
//	L         m      web on a roll, from roll change to roll change
//	D, d      m      outer and core diameter;  R, r  m  their halves
//	t         m      caliper, thickness of the web (a time in s where said)
//	m, J      kg, kg m2  mass of the web on a roll and its inertia about the axis
//	T         N m    torque at the spindle (a time in s in the ceiling)
//	v         m/s    speed of the process; u, p, w  of unwind, process, rewind
//	a         m/s2   ramp of speed at the surface; decel and accel are both positive
//	A, B      m      content of the unwind's and the rewind's storage
//	N         1      strands of a storage, or operators
//	mu, sigma 1      mean and sd of the logarithm of a lognormal variable
//	P(X > x)  1      survival; P(X <= x)  1  distribution function
//
// Numbers that do not make sense (NaN, Inf, negative where nothing negative
// can be) are refused when a scenario is read, by Dist.Validate and the rules
// of package scenarios; functions here take them as checked.
package model
