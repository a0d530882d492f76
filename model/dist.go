package model

// Law names a family of distributions as the scenario writes it.
type Law string

// The laws, with the meaning of A, B, C in Dist.
const (
	NotGiven    Law = ""            // the zero Dist: not given, worth 0
	Fixed       Law = "fixed"       // A value
	Exponential Law = "exponential" // A mean, Least value
	Normal      Law = "normal"      // A mean, B sd, both before the cut at 0
	Lognormal   Law = "lognormal"   // A mean, B sd, of the variable itself, Least value
	Uniform     Law = "uniform"     // A min, B max
	Triangular  Law = "triangular"  // A min, B mode, C max
	Gamma       Law = "gamma"       // A shape, B scale, of what is above the Least value
	Weibull     Law = "weibull"     // A shape, B scale, of what is above the Least value
	Empirical   Law = "empirical"   // Values, each as likely as the other
)

// Dist is a quantity that may vary: a law and its parameters, in SI units.
// The zero Dist is a quantity that was not given.
type Dist struct {
	Law     Law
	A, B, C float64
	Least   float64   // where the law begins, of those that Shifts
	Values  []float64 // Empirical only
	Signed  bool      // may be negative; a Normal is then not cut at 0

	Observed int // values behind it, 1 or above; 0: not said
}

// Shifts says whether a law may begin at a least value that is not 0.
func (l Law) Shifts() bool {
	return l == Exponential || l == Lognormal || l == Gamma || l == Weibull
}

// above is the law of what d has above its least value.
func (d Dist) above() Dist {
	if d.Law == Exponential || d.Law == Lognormal {
		d.A -= d.Least
	}
	d.Least = 0
	return d
}

// Const is a quantity that does not vary.
func Const(v float64) Dist { return Dist{Law: Fixed, A: v} }

// Given says whether the scenario gave the quantity.
func (d Dist) Given() bool { return d.Law != NotGiven }

// IsConst says whether d never varies; a Dist that was not given is constant 0.
func (d Dist) IsConst() bool { return d.Law == NotGiven || d.Law == Fixed }
