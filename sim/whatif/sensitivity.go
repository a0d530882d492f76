package whatif

import "rollchange/model"

// Swing is one input and what moving it does to one metric of an alternative.
type Swing struct {
	Key                       string
	Dim                       model.Dimension
	LowText, BaseText, High   string  // the input as it would be written
	Low, Base, Up             float64 // the metric with the input low, at its base, high
	LowHalf, BaseHalf, UpHalf float64 // half widths of the paired difference from the base; BaseHalf of the metric itself
	Total                     float64 // total effect index, NaN when not asked for
}
