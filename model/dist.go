package model

// Law names a family of distributions as the scenario writes it.
type Law string

// The laws, with the meaning of A, B, C in Dist.
const (
	NotGiven    Law = ""            // the zero Dist: not given, worth 0
	Fixed       Law = "fixed"       // A value
	Exponential Law = "exponential" // A mean
	Normal      Law = "normal"      // A mean, B sd, both before the cut at 0
	Lognormal   Law = "lognormal"   // A mean, B sd, of the variable itself
	Uniform     Law = "uniform"     // A min, B max
	Triangular  Law = "triangular"  // A min, B mode, C max
	Gamma       Law = "gamma"       // A shape, B scale
	Weibull     Law = "weibull"     // A shape, B scale
	Empirical   Law = "empirical"   // Values, each as likely as the other
)

// Dist is a quantity that may vary: a law and its parameters, in SI units.
// The zero Dist is a quantity that was not given.
type Dist struct {
	Law     Law
	A, B, C float64
	Values  []float64 // Empirical only
	Signed  bool      // may be negative; a Normal is then not cut at 0
}

// Const is a quantity that does not vary.
func Const(v float64) Dist { return Dist{Law: Fixed, A: v} }

// Given says whether the scenario gave the quantity.
func (d Dist) Given() bool { return d.Law != NotGiven }

// IsConst says whether d never varies; a Dist that was not given is constant 0.
func (d Dist) IsConst() bool { return d.Law == NotGiven || d.Law == Fixed }
