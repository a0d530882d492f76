// Package observed draws a study anew as other records of its line would have given
// it: what the records leave open.
//
//  1. A model.Study comes in. Its laws say how many values stand behind them
//     (model.Dist.Observed, and the counts beside shares); an empirical law has its own
//     values.
//  2. Of lists the records, one for each law of a key, however many alternatives share it.
//  3. Draw gives the alternatives with each law drawn anew (fit.Redraw, RedrawMean,
//     RedrawShare), each independent of the others, the same in all alternatives that share it.
//
// The next is sim/replicate, whose Records this is: it simulates the draws beside the
// study. Read visit.go, then records.go.
package observed
