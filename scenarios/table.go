package scenarios

import (
	"maps"
	"math"
)

// Bounds are the limits of a value of the key in SI, infinite where there is
// none. open says that the lower one is out of range itself.
func (k *Key) Bounds() (low, high float64, open bool) {
	if !k.bounded {
		return math.Inf(-1), math.Inf(1), false
	}
	return k.low, k.high, k.lowOpen
}

// Laws lists the parameters of each law of chance by its name.
func Laws() map[string][]string { return maps.Clone(laws) }
