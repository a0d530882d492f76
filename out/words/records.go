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
	return s + fmt.Sprintf(", the line stood still for %s of it (%s %%)", Duration(stopped), Short(100*stopped/planned, 3))
}

// LogTime is a moment of a log.
func LogTime(t time.Time) string { return t.Format("2006-01-02 15:04") }

// whys say by what something was understood.
var whys = map[records.Why]string{
	records.Given: "as given", records.ByHead: "by its head", records.ByContent: "by what stands in it", records.ByDay: "by a day above 12", records.ByRise: "it makes the rows rise",
	records.ByDots: "by the dots", records.ByRows: "by numbers that can be read in one way only", records.ByEnd: "it agrees with end less start",
	records.ByOverlap: "read otherwise, most stops would last beyond the next", records.ByYear: "the year or the name of the month says it", records.NoMatter: "both ways give the same", records.Assumed: "assumed: nothing says so",
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
		say("head", "none: columns by what stands in them")
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
		say("durations", "what stands before a single colon is %s, %s", map[float64]string{3600: "hours", 60: "minutes"}[u.Pair], whys[u.PairWhy])
	}
	for _, x := range []struct {
		label string
		step  records.Step
	}{{"start", u.Start}, {"end", u.End}, {"duration", u.Length}} {
		if x.step.Seconds > 0 {
			say("rounding", "each %s to %s; %.0f %% on whole five minutes", x.label, Duration(x.step.Seconds), 100*x.step.Fives)
		}
	}
	if u.Midnight > 0 {
		say("midnight", "%s ended on the next day", counted(u.Midnight, "stop"))
	}
	switch {
	case u.Zone != "":
		say("clock", "%s", u.Zone)
	case u.Offsets:
		say("clock", "times say how far they are from Greenwich")
	default:
		say("clock", "as on the wall, every day of 24 hours; --zone says where it changes")
	}
	if u.Falling {
		say("order", "the newest row stands first")
	}
	if u.Swapped {
		say("order", "the column headed as the end holds the starts, and the other way round")
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
		records.NoStart: "nothing says when it began", records.BadTime: text + " is no date and time", records.NoSuchDay: text + ": no such day", records.NoClock: text + " has no time of day",
		records.NoDay: text + " has no day", records.NoOffset: text + " does not say how far it is from Greenwich", records.BadLength: text + " is no duration", records.MixedMark: text + " has another decimal mark than other rows",
		records.Negative: "it ends " + much + " before it begins", records.Disagree: "its duration and its end less start differ by " + much, records.ClockChange: "it looks as if the clock was changed within it; --zone settles it",
		records.MissingHour: text + ": the clock was put forward over this time", records.Double: fmt.Sprintf("the same as row %d", f.Other), records.Outside: "outside the period", records.TooWide: "it has more cells than the head",
		records.Zero: "it lasts less than can be written", records.Open: "nothing says when it ended: taken as going on", records.OpenBetween: "nothing says when it ended: taken as between nothing and the next start",
		records.Overlapping: fmt.Sprintf("it began %s before row %d had ended: that time counts once", much, f.Other), records.Nested: fmt.Sprintf("it lies within row %d: its time counts for that row", f.Other),
		records.OutOfOrder: fmt.Sprintf("row %d stands before it, out of order: sorted", f.Other), records.HourTwice: text + ": the clock was put back over this time; which of the two is assumed", records.CarriedDay: "its day is that of the row above",
		records.NoCause: "nothing says why: a cause of its own", records.AnotherLine: text + " is another line", records.Unplanned: much + " of it outside the planned hours", records.Long: "it lasts more than a week", records.Cut: "a part of it lies outside the period",
		records.NextDay: "its end stands " + much + " before its start: taken as on the next day; if it is a slip, mend the row",
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
		parts = append(parts, counted(log.Ignored, "row")+" of causes that are no stops")
	}
	if log.OtherLines > 0 {
		parts = append(parts, counted(log.OtherLines, "row")+" of other lines")
	}
	if len(parts) == 0 {
		return ""
	}
	return "Left out as told: " + strings.Join(parts, ", ")
}
