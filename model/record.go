package model

// Record is the values that stand behind a law of a scenario.
type Record struct {
	Key      string // that the law is written under, with the name of a stop or duty in brackets
	Observed int    // values
}
