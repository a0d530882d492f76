package model

// Period is what a line really made in a period, to be laid beside what the model
// makes in one as long. All of it is of all lines that share the crew, taken
// together; what is nil was not given.
type Period struct {
	Alternative   string   // that the line was; empty: the first
	Hours         float64  // s, planned time of each line in the period; 0: there are no records
	Good          *float64 // m
	Waste         *float64 // m
	RollChanges   *float64 // at the unwind
	FinishedRolls *float64 // good ones
	Stops         *float64 // times the web came to rest
	Stopped       *float64 // s, with the web at rest
	Causes        []RecordedCause
}

// RecordedCause is what a cause of stops came to in the period.
type RecordedCause struct {
	Text   string       // as the records spell it
	Is     RecordedKind // what it is in the scenario
	Stops  *float64
	Time   *float64 // s
	Fitted bool     // laws of the scenario were fitted to it: it judges nothing
}

// RecordedKind says what a recorded cause of stops is in a scenario.
type RecordedKind string

// What a recorded cause can be: a [[stop]] of its name, the key whose time it is,
// or nothing that the model has.
const (
	RecordedStop         RecordedKind = "stop"
	RecordedWebBreak     RecordedKind = "web_breaks"
	RecordedUnwindChange RecordedKind = "unwind.change_time"
	RecordedRewindChange RecordedKind = "rewind.change_time"
	RecordedChangeover   RecordedKind = "jobs.changeover"
	RecordedNothing      RecordedKind = "not a stop"
)

// RecordedKinds are all of them.
func RecordedKinds() []string {
	var names []string
	for _, k := range []RecordedKind{RecordedStop, RecordedWebBreak, RecordedUnwindChange, RecordedRewindChange, RecordedChangeover, RecordedNothing} {
		names = append(names, string(k))
	}
	return names
}

// Of is the alternative of a study that the records are of, -1 where it is not there.
func (r *Period) Of(study *Study) int {
	for i := range study.Alternatives {
		if study.Alternatives[i].Name == r.Alternative || r.Alternative == "" && i == 0 {
			return i
		}
	}
	return -1
}
