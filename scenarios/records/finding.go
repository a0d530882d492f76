package records

// Finding is something about a row that a person should know: that it was left
// out, or how it was taken.
type Finding struct {
	Kind    Kind
	Row     int     // of the file or of the sheet
	Column  int     // from 1; 0: it is about the whole row
	Text    string  // what stands there
	Other   int     // another row that it is about; 0: none
	Seconds float64 // how much: of an overlap, of a disagreement
}

// Kind is what was found.
type Kind int8

const (
	// The row was left out.
	NoStart     Kind = iota // nothing says when it began
	BadTime                 // what stands there is no date and time
	NoSuchDay               // the calendar has no such day
	NoClock                 // a day without a time of day
	NoDay                   // a time of day without a day
	NoOffset                // others say how far from Greenwich, this one does not
	BadLength               // what stands there is no duration
	MixedMark               // a decimal comma among points, or the other way round
	Negative                // it ends before it begins
	Disagree                // end less start is not the duration
	ClockChange             // it looks as if the clock was changed within it
	MissingHour             // the clock was put forward over this time
	Double                  // the same row again
	Outside                 // it lies outside the period
	TooWide                 // it has more cells than the head

	// The row was used.
	Zero        // it lasts less than can be written
	Open        // nothing says when it ended, and it is the last of its line
	OpenBetween // nothing says when it ended: before the next began, or not
	Overlapping // it began before another had ended
	Nested      // it began and ended within another
	OutOfOrder  // it began before the row above it, where others rise
	HourTwice   // the clock was put back over this time: Seconds says which was taken
	CarriedDay  // its day is that of the row above
	NoCause     // nothing says why
	AnotherLine // the first row of a further line
	Unplanned   // a part of it lies outside the planned hours
	Long        // it lasts more than a week
	Cut         // a part of it lies outside the period
	NextDay     // its end stands just before its start: taken as on the next day

	kindCount
)

var kindNames = [kindCount]string{"no start", "no time", "no such day", "no time of day", "no day", "no offset", "no duration", "decimal mark", "negative",
	"disagreement", "clock change", "missing hour", "double", "outside", "too wide", "zero", "open", "open between", "overlapping", "nested", "out of order",
	"hour twice", "carried day", "no cause", "another line", "unplanned", "long", "cut", "next day"}

// String is a name for machines.
func (k Kind) String() string { return kindNames[k] }

// LeftOut says whether a row with it was left out.
func (k Kind) LeftOut() bool { return k < Zero }
