package model

import (
	"errors"
	"fmt"
	"math"
	"slices"
)

// mostShape is the most of the shape of a gamma or Weibull law: sd over mean is
// then 1e-3 or 1e-6, which no record of a line can tell from a constant.
const mostShape = 1e6

// Validate says what is wrong with the parameters of d, nil when nothing is:
// every law needs finite parameters in its range, and a quantity that is not
// Signed may not be negative.
func (d Dist) Validate() error {
	for _, v := range append([]float64{d.A, d.B, d.C, d.Least}, d.Values...) {
		if math.IsNaN(v) || math.IsInf(v, 0) {
			return errors.New("must be a finite number")
		}
	}
	if d.Least != 0 {
		return d.validLeast()
	}
	return d.validParams()
}

// notNegative refuses a v below 0, unless d may be.
func (d *Dist) notNegative(v float64) error {
	if v < 0 && !d.Signed {
		return errors.New("must not be negative")
	}
	return nil
}

// validLeast says what is wrong with a law that begins at a least value.
func (d *Dist) validLeast() error {
	if !d.Law.Shifts() {
		return fmt.Errorf("a %s distribution has no least value", d.Law)
	}
	if err := d.notNegative(d.Least); err != nil {
		return err
	}
	if (d.Law == Exponential || d.Law == Lognormal) && d.Least >= d.A {
		return errors.New("least must be below mean")
	}
	return d.above().Validate()
}

// validParams says what is wrong with the parameters of the law of d, which are finite.
func (d *Dist) validParams() error {
	switch d.Law {
	case NotGiven, Fixed:
		return d.notNegative(d.A)
	case Exponential:
		if d.A <= 0 {
			return errors.New("mean must be above 0")
		}
	case Lognormal:
		if d.A <= 0 || d.B <= 0 {
			return errors.New("mean and sd must be above 0")
		}
		if mu, sigma := d.LognormalParams(); math.IsInf(mu, 0) || math.IsInf(sigma, 0) {
			return errors.New("sd is too large beside the mean for any number")
		}
	case Normal:
		if d.B <= 0 {
			return errors.New("sd must be above 0")
		}
		if d.cut() > 0.5 {
			return errors.New("mean must not be negative")
		}
	case Uniform:
		if d.A >= d.B {
			return errors.New("min must be below max")
		}
		return d.notNegative(d.A)
	case Triangular:
		if d.A >= d.C {
			return errors.New("min must be below max")
		}
		if d.B < d.A || d.B > d.C {
			return errors.New("mode must lie between min and max")
		}
		return d.notNegative(d.A)
	case Gamma, Weibull:
		if d.A <= 0 || d.B <= 0 {
			return errors.New("shape and scale must be above 0")
		}
		if d.A > mostShape {
			return fmt.Errorf("shape is above %d: it hardly varies; write its mean as a quantity", int(mostShape))
		}
		if math.IsInf(d.Mean(), 0) || math.IsInf(d.SD(), 0) || math.IsNaN(d.SD()) {
			return errors.New("shape is too small: the mean or sd is too large for any number")
		}
		if d.Mean() == 0 {
			return errors.New("shape and scale are too small: the mean is below any number")
		}
	case Empirical:
		if len(d.Values) == 0 {
			return errors.New("values must not be empty")
		}
		return d.notNegative(slices.Min(d.Values))
	default:
		return fmt.Errorf("no distribution %q", d.Law)
	}
	return nil
}
