// Package estimate turns what replications came to into figures with limits.
//
//  1. A figure of one replication is a number, or a part and a whole (splices
//     that failed, splices made).
//  2. Mean, Ratio and Share make an Estimate of the figures of all replications;
//     Difference makes one of the differences of two alternatives, pair by pair.
//  3. An Estimate knows its limits, or why it has none.
//
// Read moments.go, ratio.go, share.go, then estimate.go. mser.go says how much of the
// beginning of a series to cut. The package knows
// nothing of lines.
package estimate
