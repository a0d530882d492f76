// Package sim runs one replication of a model.Line: a discrete-event simulation
// without a time step. Many replications and what they come to together are
// package replicate's.
//
//  1. A line comes in, and which Replication of it (replication.go).
//  2. build.go makes it in its state at t = 0; run.go is its clock.
//  3. line.go, process.go: three lengths, quadratic between events; holds, ramps.
//  4. station.go, change.go, roll.go: unwind and rewind, mirror images in one type.
//  5. crew.go, crew_queue.go, task.go, groups.go: operators, calls, breaks, who does what in which shift. clocks.go: web breaks, splices
//     on their way, stops, orders.
//  6. scrap.go, tally.go, books.go, measure.go: what is added up, and that it adds up.
//  7. A Sample goes out (sample.go): a figure for each gauge of the line, the content
//     of its storages at their lowest and highest, its books. Trace gives the Records
//     of a log.
//
// # Simultaneous events
//
// The order is total: time, then class, then line, then sequence.
//
//	class        why there
//	process      it only ends ramps; a rest reached now lets work begin now
//	unwind       its new roll may end a hold that what follows looks at
//	rewind       takes what the unwind gave
//	web breaks   break the web that the stations have just moved
//	stops        in the order of the scenario
//	jobs         an order that ends now ends after what happened in it
//	crew         answers calls, so it comes after those who call
//
// Stopped time of holds that began together goes to the first in the list of
// holds (hold.go).
package sim
