package whatif

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"rollchange/scenarios"
)

// pair is a line whose splices are made by hand and by a zero-speed unwind.
const pair = `
title = "Two ways"
[line]
speed = "120 m/min"
accel = "0.25 m/s2"
decel = "0.5 m/s2"
[unwind]
change = "manual"
roll_length = "1500 m"
residual = "6 m"
change_time = { dist = "lognormal", mean = "4 min", sd = "1 min" }
[rewind]
change = "none"
[crew]
operators = 1
[[stop]]
name = "wash"
every = { dist = "exponential", mean = "2 h" }
repair = "6 min"
[run]
horizon = "1 d"
replications = 3
[[alternative]]
name = "by hand"
[[alternative]]
name = "automatic"
[alternative.unwind]
change = "zero-speed"
load = "60 s"
prepare = "40 s"
dwell = { dist = "gamma", mean = "8 s", sd = "2 s" }
decel = "0.8 m/s2"
accel = "0.6 m/s2"
max_speed = "225 m/min"
splice_success = "99 %"
recover = "120 s"
[alternative.unwind.storage]
capacity = "60 m"
`

// twoWays is the pair, with texts replaced two by two.
func twoWays(t *testing.T, replaced ...string) *scenarios.Scenario {
	t.Helper()
	s, err := scenarios.Parse("pair.toml", []byte(strings.NewReplacer(replaced...).Replace(pair)), ".")
	require.NoError(t, err)
	return s
}
