// Package invented holds lines for the tests of sim and of sim/replicate. The lines
// have 2.5 m/s, the ramps are gentle, and there is no chance in them unless a line or
// a test adds some.
package invented
