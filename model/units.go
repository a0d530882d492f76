package model

// System is the units that tables and pictures are shown in.
type System string

// The systems of units for people. Machine output is always SI.
const (
	Metric   System = "metric"
	Imperial System = "imperial"
)
