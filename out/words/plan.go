package words

import (
	"fmt"
	"math"
	"strings"
	"time"

	"rollchange/model"
	"rollchange/model/legible"
	"rollchange/sim/estimate"
	"rollchange/sim/plan"
)

// Of a plan.
const (
	HeadPlan      = "%s of the list of %s, seed %d"
	PlanNote      = "(times are means; 5 % and 95 %: this share of the replications ends earlier; late: chance that the order ends after it is due; an order begins when its changeover is done)"
	HeadOrder     = "order"
	HeadProduct   = "product"
	HeadBegins    = "begins"
	HeadEnds      = "ends"
	HeadEndsLow   = "ends, 5 %"
	HeadEndsHigh  = "ends, 95 %"
	HeadDue       = "due"
	HeadLate      = "late"
	HeadListDone  = "list done"
	HeadDoneSpan  = "  5 % – 95 %"
	HeadOnTime    = "orders on time"
	HeadLateHours = "hours late, all orders"
	HeadChange    = "changeovers, h"
	HeadTakes     = "What each order takes on average, from the end of the order before: hours, web and rolls"
	HeadPlanGroup = "When the orders are done"
	HeadAllHours  = "hours"
	HeadRunning   = "running"
	HeadChanging  = "changeover"
	HeadRolls     = "roll changes"
	HeadOther     = "other stops"
	HeadWaits     = "waits to begin"
	HeadGood      = "good"
	HeadWasted    = "waste"
	HeadFinished  = "finished rolls"
	HeadSplices   = "splices"
	HeadTape      = "tape"
	NotDue        = "–"
)

// PlanClock is the time of a plan for people: on the clock of the plant where the list
// has a begin, else hours from the begin.
type PlanClock struct {
	begin time.Time // as the clock shows it, without a zone: no hour is missing or twice
	far   bool      // some times are more than six days from the begin
}

// ClockOf is the clock of an answer.
func ClockOf(a *plan.Answer) PlanClock {
	c := PlanClock{begin: a.Begin}
	last := 0.0
	for i := range a.Alternatives {
		if t := a.Alternatives[i].Done.High; !math.IsNaN(t) {
			last = math.Max(last, t)
		}
		for _, o := range a.Alternatives[i].Orders {
			if !math.IsNaN(o.End.High) {
				last = math.Max(last, o.End.High)
			}
		}
	}
	for _, o := range a.Orders {
		if !math.IsInf(o.Due, 0) {
			last = math.Max(last, o.Due)
			c.far = c.far || o.Due < 0
		}
	}
	c.far = c.far || last > 6*86400
	return c
}

// Text is a time: "Mon 14:05", "30 Nov 14:05", or "52.3 h".
func (c PlanClock) Text(seconds float64) string {
	switch {
	case math.IsNaN(seconds) || math.IsInf(seconds, 0):
		return NotDue
	case c.begin.IsZero():
		return number(seconds/3600, 1) + " h"
	}
	t := c.begin.Add(time.Duration(math.Round(seconds/60)) * time.Minute)
	if c.far {
		return t.Format("2 Jan 15:04")
	}
	return t.Format("Mon 15:04")
}

// Span is where 90 % of a time lie: "Mon 14:05 – Mon 15:12".
func (c PlanClock) Span(t plan.Times) string { return c.Text(t.Low) + " – " + c.Text(t.High) }

// LateText is a chance to be late.
func LateText(e estimate.Estimate) string {
	if e.N == 0 {
		return NotDue
	}
	return number(100*e.Mean, 0) + " %"
}

// PlanInAll is what an alternative makes of the whole list: a place for when it is
// done, then orders on time, hours late, hours of changeovers.
func PlanInAll(x *plan.Alternative) [4]string {
	hour, whole := model.Unit{SI: 3600}, model.Unit{SI: 1}
	return [4]string{"", Figure(x.OnTime, whole), Figure(x.Late, hour), Figure(x.Change, hour)}
}

// Date is a time with its date, for programs: RFC 3339 without a zone; empty without a
// begin.
func (c PlanClock) Date(seconds float64) string {
	if c.begin.IsZero() || math.IsNaN(seconds) || math.IsInf(seconds, 0) {
		return ""
	}
	return c.begin.Add(time.Duration(math.Round(seconds)) * time.Second).Format("2006-01-02T15:04:05")
}

// Days is a time as a spreadsheet counts it, days from 30 December 1899, to the whole
// minute as in Text, because a cell cuts off seconds that it does not show; ok is false
// without a begin.
func (c PlanClock) Days(seconds float64) (days float64, ok bool) {
	if c.begin.IsZero() {
		return 0, false
	}
	t := c.begin
	from := time.Date(t.Year(), t.Month(), t.Day(), t.Hour(), t.Minute(), t.Second(), 0, time.UTC).Sub(time.Date(1899, 12, 30, 0, 0, 0, 0, time.UTC)).Seconds()
	return math.Round((from+seconds)/60) / (24 * 60), true
}

// PlanHead says how a plan was made.
func PlanHead(a *plan.Answer) string {
	many := "1 replication"
	if a.Replications != 1 {
		many = counted(a.Replications, "replication")
	}
	return fmt.Sprintf(HeadPlan, many, Orders(len(a.Orders)), a.Seed)
}

// Orders is so many of them.
func Orders(n int) string {
	if n == 1 {
		return "1 order"
	}
	return counted(n, "order")
}

// Due is how many orders have a due time.
func Due(a *plan.Answer) int {
	n := 0
	for _, o := range a.Orders {
		if !math.IsInf(o.Due, 1) {
			n++
		}
	}
	return n
}

// PlanSentences are what a plan says in words.
func PlanSentences(a *plan.Answer) []string {
	var list []string
	for i := range a.Alternatives {
		x := &a.Alternatives[i]
		if x.Unended > 0 {
			list = append(list, fmt.Sprintf("With %s the list is not done in %s in %.0f of %d replications; a longer run.horizon lets them end.",
				legible.Quote(x.Name), Duration(a.Horizon), math.Round(x.Unended*float64(a.Replications)), a.Replications))
		}
	}
	for i := 1; i < len(a.Alternatives); i++ {
		list = append(list, PlanSentence(a, i))
	}
	return list
}

// PlanSentence says what an alternative, not the first, changes against the first.
func PlanSentence(a *plan.Answer, alternative int) string {
	return planAgainst(&a.Alternatives[alternative], &a.Alternatives[0], Due(a))
}

// planAgainst says what an alternative changes against the first, as far as it is shown.
func planAgainst(x, first *plan.Alternative, due int) string {
	hour := model.Unit{Name: "h", SI: 3600}
	whole := model.Unit{SI: 1}
	var says []string
	if d := x.SoonerBy; d.Shown() {
		says = append(says, fmt.Sprintf("is done %s h %s", size(d, hour), either(d, "sooner", "later")))
	}
	if d := x.MoreTimed; due > 0 && d.Shown() {
		says = append(says, fmt.Sprintf("has %s %s orders on time", size(d, whole), either(d, "more", "fewer")))
	}
	if d := x.LessLate; due > 0 && d.Shown() {
		says = append(says, fmt.Sprintf("is %s h %s late in total", size(d, hour), either(d, "less", "more")))
	}
	if len(says) == 0 {
		return fmt.Sprintf("No difference is shown between %s and %s.", legible.Quote(x.Name), legible.Quote(first.Name))
	}
	return fmt.Sprintf("Against %s, %s %s.", legible.Quote(first.Name), legible.Quote(x.Name), allOf(says))
}

// PlanDifferences is what an alternative changes against the first: hours sooner, orders
// more on time, hours less late; "~" where nothing is shown to, "± ?" where too few
// events carry one for limits.
func PlanDifferences(x *plan.Alternative) [3]string {
	var says [3]string
	for i, d := range []estimate.Estimate{x.SoonerBy, x.MoreTimed, x.LessLate} {
		u, tail := model.Unit{Name: "h", SI: 3600}, " h"
		if i == 1 {
			u, tail = model.Unit{SI: 1}, ""
		} else { // what is sooner or less late is a negative difference of the figure
			d = d.Opposite()
		}
		if says[i] = NotShown; d.Shown() || d.Why == estimate.TooFew && d.Mean != 0 {
			says[i] = Difference(d, u) + tail
		}
	}
	return says
}

// allOf is "a, b and c".
func allOf(list []string) string {
	if n := len(list) - 1; n > 0 {
		return strings.Join(list[:n], ", ") + " and " + list[n]
	}
	return strings.Join(list, "")
}

// size is a difference without its sign.
func size(d estimate.Estimate, u model.Unit) string {
	if d.Mean < 0 {
		d = d.Opposite()
	}
	text := Figure(d, u)
	if mean, few := strings.CutSuffix(text, " ± ?"); few { // few events carry it, far from 0
		return "about " + mean
	}
	return text
}

func either(d estimate.Estimate, above, below string) string {
	if d.Mean < 0 {
		return below
	}
	return above
}

// Of the picture of a plan.
const (
	TitlePlan      = "When each order is made"
	PlanChangeover = "changeover before it"
	PlanBand       = "end, the middle 90 % of the replications"
	PlanDue        = "due"
	PlanLate       = "late, %"
	PlanLateEach   = "late, %, top bar first"
	PlanMore       = "and %d orders that follow"
)

// FirstTick is the first place on an axis from low on, in h, that is a round time of
// the clock.
func (c PlanClock) FirstTick(low, step float64) float64 {
	off := 0.0
	if !c.begin.IsZero() {
		midnight := time.Date(c.begin.Year(), c.begin.Month(), c.begin.Day(), 0, 0, 0, 0, c.begin.Location())
		off = c.begin.Sub(midnight).Hours()
	}
	return math.Ceil((low+off)/step)*step - off
}

// Tick is the label of a place on an axis, h from the begin; the first names its day.
func (c PlanClock) Tick(hours, step float64, first bool) string {
	if c.begin.IsZero() {
		return fmt.Sprintf("%g", math.Round(100*hours)/100)
	}
	t := c.begin.Add(time.Duration(math.Round(3600*hours)) * time.Second)
	if step >= 28*24 { // over several years
		return t.Format("2 Jan 2006")
	}
	if step >= 24 || t.Hour() == 0 && t.Minute() == 0 {
		return t.Format("Mon 2 Jan")
	}
	if first {
		return t.Format("Mon 15:04")
	}
	return t.Format("15:04")
}

// Axis says what the times of an axis are.
func (c PlanClock) Axis() string {
	if c.begin.IsZero() {
		return "hours from the start of the list"
	}
	return "time, on the clock of the plant"
}
