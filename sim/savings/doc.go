// Package savings turns what a simulation found into money: what an alternative
// saves a year against the first one, by cause, and what that is worth.
//
//  1. New (case.go) takes a study, its results and the number of an alternative.
//     input.go lists every figure that the answer hangs on, given or simulated.
//  2. account.go is the one place where a year is calculated: web, hours, money.
//     The case of a line that sells all it makes, that of one whose demand is
//     given, and what lies between are one formula in it, so they meet. today.go says
//     what is counted from the line as it is.
//  3. course.go says what differs by year; worth.go lays the savings out by year and
//     values them (model/finance).
//  4. draw.go and random.go do 2 and 3 for many draws of the economic inputs that
//     vary and of the noise of the simulation; tally.go keeps what the draws have
//     in common, shares.go what they come to if less is saved; drivers.go says which
//     input the answer hangs on; solve.go where it is just worth it, or reaches what
//     target.go reads; rank.go which of several alternatives is worth most; steps.go
//     which of them to choose, by steps of investment.
//  5. warn.go names what makes a saving look better than it is, and in what
//     share of the draws.
//
// Package out writes the Case; nothing here simulates a line.
package savings
