package savings

// Measure is what a target is of.
type Measure int

// The measures. That of a payback or a rate is the median of the draws, as its headline is.
const (
	OfNPV Measure = iota
	OfPayback
	OfDiscounted
	OfIRR
)

// Key is its name for programs.
func (m Measure) Key() string {
	return [...]string{"npv", "simple_payback", "discounted_payback", "irr"}[m]
}

// Target is what a value of an input is to reach; the zero value is a net present value of 0.
type Target struct {
	Measure Measure
	Value   float64 // currency, years, or a share a year
}
