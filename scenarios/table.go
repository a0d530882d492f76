package scenarios

import "math"

// Bounds are the limits of a value of the key in SI, infinite where there is
// none. open says that the lower one is out of range itself.
func (k *Key) Bounds() (low, high float64, open bool) {
	if !k.bounded {
		return math.Inf(-1), math.Inf(1), false
	}
	return k.low, k.high, k.lowOpen
}
