// Package whatif asks one scenario many questions: sweep varies keys, size
// finds the least or greatest value that meets a target, sensitivity says
// which input an answer hangs on. Each is a number of simulations of changed
// scenarios on common random numbers; nothing in here simulates by itself.
package whatif
