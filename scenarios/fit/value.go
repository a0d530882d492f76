package fit

import (
	"errors"
	"fmt"
	"math"
)

// Value is one recorded value, in SI units.
type Value struct {
	X    float64 // as recorded, 0 or above
	Step float64 // that it was rounded to: it lies within X ± Step/2; 0: exact
	Open bool    // it had not ended: it is X or more (censored on the right)
}

// low and high are the ends of what a value may have been.
func (v Value) low() float64 {
	if v.Open {
		return v.X
	}
	return max(0, v.X-v.Step/2)
}

func (v Value) high() float64 {
	if v.Open {
		return math.Inf(1)
	}
	return v.X + v.Step/2
}

// mid is where a value is taken to lie where one number must do.
func (v Value) mid() float64 {
	if v.Open {
		return v.X
	}
	return (v.low() + v.high()) / 2
}

// check says what is wrong with values, all of it.
func check(values []Value, from float64) error {
	var wrong []error
	bad := func(x float64) bool { return math.IsNaN(x) || math.IsInf(x, 0) || x < 0 }
	if bad(from) {
		wrong = append(wrong, fmt.Errorf("the least recorded value must be a number, 0 or above, not %g", from))
	}
	for i, v := range values {
		if bad(v.X) || bad(v.Step) {
			wrong = append(wrong, fmt.Errorf("value %d: %g, rounded to %g, must be numbers, 0 or above", i+1, v.X, v.Step))
		}
	}
	return errors.Join(wrong...)
}
