package words

import (
	"fmt"
	"strings"
	"time"

	"rollchange/model/legible"
	"rollchange/scenarios/records"
)

// LogTitle is the head of what a stop log says.
func LogTitle(log *records.Log) string {
	n := len(log.Causes)
	return fmt.Sprintf("%s · %s, %s", legible.Line(log.Name), counted(len(log.Stops), "stop"), counted(n, "cause"))
}

// LogRows says what the log covers: rows, period, planned hours, hours lost.
func LogRows(log *records.Log, planned, stopped float64) string {
	s := fmt.Sprintf("%s, %s to %s; %s planned", counted(log.Rows, "row"), LogTime(log.From), LogTime(log.To), Duration(planned))
	if len(log.Lines) > 1 {
		s += fmt.Sprintf(" on %d lines together", len(log.Lines))
	}
	return s + fmt.Sprintf("; the line stood still for %s of it (%s %%)", Duration(stopped), Short(100*stopped/planned, 3))
}

// LogTime is a moment of a log.
func LogTime(t time.Time) string { return t.Format("2006-01-02 15:04") }

// whys say by what something was understood.
var whys = map[records.Why]string{
	records.Given: "as given", records.ByHead: "by its head", records.ByContent: "by its contents", records.ByDay: "a day is above 12", records.ByRise: "the rows are then in order",
	records.ByDots: "by the dots", records.ByRows: "by numbers that can be read only one way", records.ByEnd: "it agrees with the time from start to end",
	records.ByOverlap: "read otherwise, most stops would last beyond the next", records.ByYear: "the year or the name of the month shows it", records.NoMatter: "both ways give the same", records.Assumed: "assumed: nothing in the log shows it",
}

// Pair is a label and what stands beside it.
type Pair struct{ Label, Text string }

// LogUnderstood is how a log was read, for a person to check.
func LogUnderstood(u *records.Understood) []Pair {
	var list []Pair
	say := func(label, format string, args ...any) {
		list = append(list, Pair{label, fmt.Sprintf(format, args...)})
	}
	if u.Sheet != "" {
		say("sheet", "%s", legible.Quote(u.Sheet))
	}
	switch {
	case u.HeadRow == 0:
		say("head", "none: columns by their contents")
	case u.Above > 0:
		say("head", "row %d; %s above it not read", u.HeadRow, counted(u.Above, "row"))
	default:
		say("head", "row %d", u.HeadRow)
	}
	for _, c := range u.Columns {
		say(c.Role.String(), "column %d%s, %s", c.At, headOf(c), whys[c.Why])
	}
	for _, c := range u.Unused {
		say("not used", "column %d%s", c.At, headOf(c))
	}
	if u.Dates != records.Undecided {
		order := map[records.DateOrder]string{records.DayFirst: "day first", records.MonthFirst: "month first"}[u.Dates]
		row := ""
		if u.DatesRow > 0 {
			row = fmt.Sprintf(" (row %d)", u.DatesRow)
		}
		say("dates", "%s, %s%s", order, whys[u.DatesWhy], row)
	}
	if u.Decimal != 0 {
		say("decimal", "%s, %s", map[byte]string{',': "comma", '.': "point"}[u.Decimal], whys[u.DecimalWhy])
	}
	if u.Unit > 0 {
		say("durations", "a number alone is %s, %s", Duration(u.Unit), whys[u.UnitWhy])
	}
	if u.Pair > 0 {
		say("durations", "before a single colon are %s, %s", map[float64]string{3600: "hours", 60: "minutes"}[u.Pair], whys[u.PairWhy])
	}
	for _, x := range []struct {
		label string
		step  records.Step
	}{{"start", u.Start}, {"end", u.End}, {"duration", u.Length}} {
		if x.step.Seconds > 0 {
			say("rounding", "each %s to %s; %.0f %% are multiples of five minutes", x.label, Duration(x.step.Seconds), 100*x.step.Fives)
		}
	}
	if u.Midnight > 0 {
		say("midnight", "%s ended on the next day", counted(u.Midnight, "stop"))
	}
	switch {
	case u.Zone != "":
		say("clock", "%s", u.Zone)
	case u.Offsets:
		say("clock", "times carry their UTC offset")
	default:
		say("clock", "wall clock, every day 24 hours; --zone says when it changes")
	}
	if u.Falling {
		say("order", "the newest row is first")
	}
	if u.Swapped {
		say("order", "the columns headed start and end are swapped")
	}
	return list
}

func headOf(c records.Column) string {
	if c.Head == "" {
		return ""
	}
	return " " + legible.Quote(c.Head)
}

// FindingText says what was found in a row, and what became of it.
func FindingText(f records.Finding) string {
	text, much := legible.Quote(f.Text), Duration(abs(f.Seconds))
	say := map[records.Kind]string{
		records.NoStart: "no start given", records.BadTime: text + " is not a date and time", records.NoSuchDay: text + ": no such day", records.NoClock: text + " has no time of day",
		records.NoDay: text + " has no day", records.NoOffset: text + " has no UTC offset", records.BadLength: text + " is not a duration", records.MixedMark: text + " has a different decimal mark from other rows",
		records.Negative: "it ends " + much + " before it begins", records.Disagree: "its duration and the time from start to end differ by " + much, records.ClockChange: "the clock seems to have changed during it; --zone settles it",
		records.MissingHour: text + ": the clock was put forward over this time", records.Double: fmt.Sprintf("the same as row %d", f.Other), records.Outside: "outside the period", records.TooWide: "it has more cells than the head",
		records.Zero: "start and end are the same: shorter than the log can show", records.Open: "no end given: taken as still going on", records.OpenBetween: "no end given: taken as any time up to the next start",
		records.Overlapping: fmt.Sprintf("it began %s before row %d had ended: that time is counted once", much, f.Other), records.Nested: fmt.Sprintf("it lies within row %d: its time counts for that row", f.Other),
		records.OutOfOrder: fmt.Sprintf("row %d above it is out of order: sorted", f.Other), records.HourTwice: text + ": the clock was put back over this time; which of the two is assumed", records.CarriedDay: "its day is that of the row above",
		records.NoCause: "no cause given: a cause of its own", records.AnotherLine: text + " is another line", records.Unplanned: much + " of it outside the planned hours", records.Long: "it lasts more than a week", records.Cut: "a part of it lies outside the period",
		records.NextDay: "its end stands " + much + " before its start: taken as on the next day; if that is wrong, correct the row",
	}[f.Kind]
	if f.Kind.LeftOut() {
		return say + ": left out"
	}
	return say
}

func abs(x float64) float64 { return max(x, -x) }

// LogFindings is the head of what was found by row.
func LogFindings(all []records.Finding) string {
	out := 0
	for _, f := range all {
		if f.Kind.LeftOut() {
			out++
		}
	}
	if len(all) == 0 {
		return "Nothing was found wrong in any row"
	}
	return fmt.Sprintf("Found by row (%d; %s left out)", len(all), counted(out, "row"))
}

// LogApart says what options left out.
func LogApart(log *records.Log) string {
	var parts []string
	if log.Ignored > 0 {
		parts = append(parts, counted(log.Ignored, "row")+" of causes that are not stops")
	}
	if log.OtherLines > 0 {
		parts = append(parts, counted(log.OtherLines, "row")+" of other lines")
	}
	if len(parts) == 0 {
		return ""
	}
	return "Left out as told: " + strings.Join(parts, ", ")
}
