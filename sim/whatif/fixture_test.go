package whatif

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"rollchange/scenarios"
)

// automatic is a line with a zero-speed unwind and no rewind; dwell is put in. Invented.
const automatic = `
title = "test"
[line]
speed = "150 m/min"
accel = "0.25 m/s2"
decel = "0.5 m/s2"
[unwind]
change = "zero-speed"
roll_length = "2000 m"
residual = "6 m"
load = "60 s"
prepare = "40 s"
dwell = DWELL
decel = "0.8 m/s2"
accel = "0.6 m/s2"
max_speed = "225 m/min"
[unwind.storage]
capacity = "70 m"
reserve = "2 m"
[rewind]
change = "none"
[crew]
operators = 2
[run]
horizon = "1 d"
replications = 2
`

func scenario(t testing.TB, text string, over ...scenarios.Override) *scenarios.Scenario {
	t.Helper()
	s, err := scenarios.Parse("test.toml", []byte(text), ".", over...)
	require.NoError(t, err)
	return s
}

func withDwell(t testing.TB, dwell string, over ...scenarios.Override) *scenarios.Scenario {
	t.Helper()
	return scenario(t, strings.Replace(automatic, "DWELL", dwell, 1), over...)
}
