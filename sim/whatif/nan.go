package whatif

import "math"

var nan = math.NaN()
