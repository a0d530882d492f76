// Package match lays what a line really made in a period beside what the model of it
// makes in periods as long.
//
// The interval of a figure is one of prediction: where a new period of the modelled
// line lies. It is made of order statistics. Of n simulated periods and one more, all
// alike and independent, each rank of that one is as likely as any other, so it lies
// between the k-th smallest and the k-th largest of the n with chance
//
//	(n + 1 - 2k)/(n + 1)
//
// whatever the distribution; more where values tie, as counts do. Source: Wilks, Ann.
// Math. Stat. 12 (1941) 91-96, from memory; the coverage is tested.
package match
