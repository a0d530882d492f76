package words

import (
	"fmt"
	"time"

	"rollchange/scenarios/fit"
	"rollchange/scenarios/learn"
)

// Of the pictures of a stop log.
const (
	TitleLost     = "Hours lost, by cause"
	AxisLost      = "hours for which the line stood still"
	TitleTimes    = "When it stopped, by cause"
	LogTimesEach  = "a stop"
	LogTimesLine  = "stops so far, as a share of all stops of the cause: straight, like the thin line, where the rate does not change"
	LogLastsUp    = "stops up to this long, %"
	LogBetweenUp  = "times up to this long, %"
	LogQuantile   = "as recorded, %s"
	LogOfLaw      = "by the law, %s"
	LogRecorded   = "as recorded"
	LogTheLaw     = "the law"
	LogTheBand    = "95 % of records of that many values of this law lie within, at each point"
	LogDot        = "the same share lies below: on the line where law and record agree"
	LogShareStops = "%.1f h · %.1f %% · %s"
)

// MostCausesDrawn is how many causes a picture of a log shows one by one.
const MostCausesDrawn = 12

// OtherCauses names those that are drawn together.
func OtherCauses(n int) string { return fmt.Sprintf("the other %d causes", n) }

// LostText says what stands beside the bar of a cause.
func LostText(hours, percent float64, stops int) string {
	return fmt.Sprintf(LogShareStops, hours, percent, counted(stops, "stop"))
}

// MoreCauses says how many causes a picture leaves out; empty for none.
func MoreCauses(n int) string {
	if n <= 0 {
		return ""
	}
	return counted(n, "more cause") + " not shown: those that cost the fewest hours"
}

// ShapeHead says what the panels of a fit are of.
func ShapeHead(lasts bool, s *fit.Shape, r fit.Result) string {
	head := "Time between, in running hours: "
	if lasts {
		head = "How long it lasts: "
	}
	head += fmt.Sprintf("%s, p %s, of %s", LawText(s.Dist), FitChance(r.Judged.P), counted(r.N-r.Open, "value"))
	if s.Refused {
		head += "; refused: the values themselves are taken"
	}
	return head
}

// CauseTitle is the name of a cause over a picture.
func CauseTitle(c *learn.Cause) string { return CauseName(c.Text) }

// DayText is a day, or a time of it, on an axis.
func DayText(t time.Time, clock bool) string {
	if clock {
		return t.Format("01-02 15:04")
	}
	return t.Format("2006-01-02")
}
