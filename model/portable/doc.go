// Package portable holds the functions of package math that some processors
// calculate in their own way, so that a simulation comes to the same numbers on all:
// the command on one machine, on another, and a page in a browser.
//
//  1. What comes in and goes out are float64, as with package math: the same special
//     values, and errors below one unit in the last place (ulp), of Gamma, Lgamma and
//     NormalQuantile below a few. Of math, use only what is exact or rounded correctly
//     everywhere: Abs, Sqrt, Floor, Ceil, Round, Trunc, Mod, Frexp, Ldexp, FMA and what
//     moves bits.
//  2. No product is added to anything before it is rounded: where a processor can do
//     both at once, a compiler of Go does, unless the product is converted, float64(x*y).
//     A test looks for such instructions in the machine code.
//  3. table.go is written by a test, from numbers of 300 bits.
//
// Read log.go, exp.go, pow.go, then the rest in any order.
package portable
