package records

import (
	"fmt"
	"time"

	"rollchange/model/legible"
)

// mostProblems is how many are listed; nobody reads on.
const mostProblems = 200

// say is a finding as an error: what is wrong, and what would be right.
func (f *Finding) say(order DateOrder) (what, write string) {
	text := legible.Quote(f.Text)
	much := time.Duration(f.Seconds * float64(time.Second)).Round(time.Second)
	date := map[DateOrder]string{MonthFirst: "12/31/2026 14:05"}[order]
	if date == "" {
		date = "2026-12-31 14:05"
	}
	switch f.Kind {
	case NoStart:
		return "no start is given", date
	case BadTime:
		return text + " is not a date and time", date
	case NoSuchDay:
		return text + ": the calendar has no such day", date
	case NoClock:
		return text + " has no time of day", date
	case NoDay:
		return text + " has no day", date
	case NoOffset:
		return text + " has no UTC offset, unlike other rows", "--zone, or +01:00 after the time"
	case BadLength:
		return text + " is not a duration", "12, 12 min, 0:12 or 0:12:30"
	case MixedMark:
		return text + " has a different decimal mark from the other rows", "one decimal mark in all rows"
	case Negative:
		return fmt.Sprintf("the stop ends %s before it begins", much.Abs()), "an end after the start"
	case Disagree:
		return fmt.Sprintf("the duration and the time from start to end differ by %s", much.Abs()), "one of the two, or both the same"
	case ClockChange:
		return "the clock seems to have changed during the stop", "--zone, with the time zone of the line"
	case MissingHour:
		return text + ": there was no such time, the clock was put forward over it", ""
	case Double:
		return fmt.Sprintf("the same as row %d", f.Other), "each stop once"
	case Outside:
		return "the stop lies outside the period", ""
	case TooWide:
		return "has more cells than the first row", "quotes around a text with a comma and around a number with a decimal comma"
	case Zero:
		return "start and end of the stop are the same", "the seconds of it"
	case Open, OpenBetween:
		return "no end is given", "an end or a duration"
	case Overlapping:
		return fmt.Sprintf("the stop began %s before that of row %d had ended", much, f.Other), ""
	case Nested:
		return fmt.Sprintf("the stop lies within that of row %d", f.Other), ""
	case OutOfOrder:
		return fmt.Sprintf("the stop is out of order: row %d is above it", f.Other), ""
	case HourTwice:
		return text + ": the clock was put back over this time, and nothing says which of the two it was", "+01:00 after the time"
	case CarriedDay:
		return "the row has no day", date
	case NoCause:
		return "nothing says why the line stopped", ""
	case AnotherLine:
		return text + " is another line", "--line, with the name of one"
	case Unplanned:
		return fmt.Sprintf("%s of the stop are outside the planned hours", much), ""
	case NextDay:
		return fmt.Sprintf("the stop ends %s before it begins, or on the next day", much), "the end with its day"
	case Long:
		return "the stop lasts more than a week", ""
	}
	return "a part of the stop lies outside the period", ""
}
