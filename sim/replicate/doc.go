// Package replicate runs many replications of the alternatives of a model.Study and
// says what they come to.
//
//  1. Prepare settles how a study is run, and finds its warm-up (warmup.go).
//  2. Each (replicate.go) runs replications on all processors and hands on their
//     samples in order, so that the results do not depend on how many there are.
//     All alternatives have the same chance (common random numbers); EachAnew draws
//     one source of it anew. remember.go keeps what is asked for again.
//  3. A Gathering (gather.go) adds samples up: collect.go an alternative and the paired
//     differences of two, joint.go what varies together.
//  4. Results go out (result.go), to savings, whatif and the rooms of out.
//
// Simulate is all of it. What happens on a line is package sim's, how figures become
// estimates package estimate's.
package replicate
