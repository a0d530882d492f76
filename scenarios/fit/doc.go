// Package fit turns recorded values into laws: statistics alone, it knows no file
// and no line, and says nothing in words.
//
//  1. A log gives Values in the order of their rows: as recorded, with the step that
//     they were rounded to, and whether they had ended when the record did.
//  2. Of fits every law to them by maximum likelihood, judges the fits, and makes a
//     Result: the law to take, the rivals beside it, and what was found in the
//     values.
//  3. Trend, Rate, Even and Calendar look at when events were: a rate that changes
//     is no law.
//  4. Redraw and RedrawShare draw the law again as another record of the same length
//     would have shown it: what the records leave open.
//  5. ShapeOf is what a picture of a fit shows, with the band that records of the law
//     lie in.
//
// Read value.go, curve.go, sample.go, maximum.go, of.go, goodness.go, heap.go, then
// trend.go, rate.go, calendar.go and redraw.go. Everything random comes from a seed,
// so a result is the same each time.
package fit
