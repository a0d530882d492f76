package sim

// Record is one line of the log of a replication: what happened, where and
// why, and the state of the line right after it.
type Record struct {
	Time          float64 // s
	Line          int     // 0-based, of the lines that share the crew
	Station       string  // "process", "unwind", "rewind", "web", "stop", "job", "crew"
	Event         string  // what happened, e.g. "splice begins"
	Detail        string  // why, or of what; may be empty
	U, P, W       float64 // m, unwound, processed, wound since the start
	SpeedU        float64 // m/s
	SpeedP        float64
	SpeedW        float64
	UnwindStorage float64  // m; NaN when there is none
	RewindStorage float64  // m; NaN when there is none
	Holds         []string // holds on, in the order of the list of holds
	OperatorsBusy int
	AccelU        float64 // m/s2, right after the event; with the speeds it draws the lines between records
	AccelP        float64
	AccelW        float64
}
