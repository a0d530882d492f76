package words

import (
	"fmt"
	"math"
	"strings"

	"rollchange/model"
	"rollchange/model/legible"
	"rollchange/sim/match"
)

// Heads of what the line really made beside what the model makes.
const (
	MatchHead     = "Does the model match the line?"
	MatchRecorded = "recorded"
	MatchModelled = "modelled"
	MatchBetween  = "%g %% between"
	MatchVerdict  = ""
	matchNote     = "Modelled: the mean of %s simulated periods%s; %g %% of such periods lie between the two figures beside it, so one recorded figure in %s differs by chance alone. Fitted: distributions of the scenario were fitted to it, so it tests nothing."
	matchRecords  = ", each with distributions as another record of as many values would have given them"
	TitleMatch    = "What the line made, and what the model expects"
	AxisMatch     = "recorded, % of the modelled mean"
	MatchBand     = "where %g %% of the modelled periods lie"
	MatchMark     = "recorded"
	MatchFitted   = "recorded, and fitted to: it tests nothing"
	MatchOff      = "beyond the picture"
)

// matchLabels are the figures that are of no cause.
var matchLabels = map[match.Figure]string{
	match.Good: "good web", match.Waste: "waste", match.RollChanges: "roll changes", match.FinishedRolls: "finished rolls",
	match.Stops: "web comes to rest", match.Stopped: "stopped",
}

// MatchLabel is what a row is called.
func MatchLabel(r match.Row) string {
	switch r.Figure {
	case match.CauseTime:
		return "stopped: " + HoldLabel(r.Hold)
	case match.CauseStops:
		return "stops: " + HoldLabel(r.Hold)
	}
	return matchLabels[r.Figure]
}

// MatchTitle says which period was recorded.
func MatchTitle(a *match.Answer) string {
	lines := ""
	if a.Lines > 1 {
		lines = fmt.Sprintf(" on %d lines", a.Lines)
	}
	return fmt.Sprintf("Recorded in %s%s", hoursText(a.Hours), lines)
}

// matchUnit is the unit of a row: long webs in km or thousands of feet.
func matchUnit(r match.Row, sys model.System) model.Unit {
	largest := 0.0
	for _, x := range []float64{r.Recorded, r.Mean, r.High} {
		largest = max(largest, math.Abs(x))
	}
	switch r.Unit {
	case "m":
		u := model.Display(model.Length, sys)
		if u.From(largest) >= 10000 {
			if sys == model.Imperial {
				return model.Unit{Name: "thousand " + u.Name, SI: 1000 * u.SI}
			}
			return model.Unit{Name: "km", SI: 1000}
		}
		return u
	case "s":
		return model.Unit{Name: "h", SI: 3600}
	}
	return model.Unit{SI: 1}
}

// MatchTexts are the figures of a row: recorded, modelled, and its limits.
func MatchTexts(r match.Row, sys model.System) (recorded, modelled, between string) {
	u := matchUnit(r, sys)
	d := 0
	if r.Unit != "1" {
		d = max(0, Decimals(u.From(r.Mean), u.From(r.High-r.Low)/2))
		if r.High == r.Low {
			d = max(0, Decimals(u.From(r.Recorded), math.NaN()))
		}
		d = min(d, 3)
	}
	text := func(x float64, d int) string {
		if r.Unit == "1" { // a count
			return withCommas(fixed(u.From(x), d))
		}
		return number(u.From(x), d)
	}
	unit := ""
	if u.Name != "" {
		unit = " " + u.Name
	}
	mean := d
	if r.Unit == "1" && r.Mean != math.Trunc(r.Mean) {
		mean = 1
	}
	return text(r.Recorded, d) + unit, text(r.Mean, mean) + unit, text(r.Low, d) + "–" + text(r.High, d) + unit
}

// MatchVerdictOf says what a row tells.
func MatchVerdictOf(r match.Row) string {
	switch {
	case r.Fitted:
		return "fitted"
	case r.Missing:
		return "not in the model"
	case r.Agrees():
		return "agrees"
	case r.Recorded > r.High:
		return "more"
	}
	return "less"
}

// MatchNote says what the columns are.
func MatchNote(a *match.Answer) string {
	one := 1 / (1 - a.Confidence) // of so many one differs
	records := ""
	if a.Records {
		records = matchRecords
	}
	return fmt.Sprintf(matchNote, Grouped(float64(a.Periods)), records, 100*a.Confidence, Short(one, 3))
}

// MatchSentences say whether output, waste and roll changes agree, and what to look
// at first where one does not.
func MatchSentences(a *match.Answer, sys model.System) []string {
	var agree, list []string
	for _, f := range []match.Figure{match.Good, match.Waste, match.RollChanges} {
		r, ok := a.Row(f)
		switch {
		case !ok || r.Fitted:
		case r.Agrees():
			agree = append(agree, matchLabels[f])
		default:
			list = append(list, matchOff(a, r, sys))
		}
	}
	switch {
	case len(agree) == 0 && len(list) == 0:
		return []string{"Nothing recorded tests the model: give good web, waste or roll changes of the period, to which no distribution was fitted."}
	case len(agree) == 1:
		list = append([]string{Capital(agree[0]) + " of the period " + map[bool]string{true: "agree", false: "agrees"}[agree[0] == "roll changes"] + " with the model."}, list...)
	case len(agree) > 1:
		list = append([]string{Capital(strings.Join(agree[:len(agree)-1], ", ")+" and "+agree[len(agree)-1]) + " of the period agree with the model."}, list...)
	}
	if off := fittedOff(a); len(off) > 0 {
		list = append(list, fmt.Sprintf("How often %s stopped the line differs, though distributions were fitted to it: look at what triggers it in the scenario, such as the length of orders and rolls.", legible.List(off)))
	}
	return list
}

// fittedOff are the causes to which laws were fitted and that stop the model more or less
// often than the line.
func fittedOff(a *match.Answer) []string {
	var off []string
	for _, r := range a.Rows {
		if r.Figure == match.CauseStops && r.Fitted && !r.Agrees() {
			off = append(off, legible.Line(HoldLabel(r.Hold)))
		}
	}
	return off
}

// matchOff says how far a figure that does not agree is off, and what to look at first.
func matchOff(a *match.Answer, r match.Row, sys model.System) string {
	less := r.Recorded < r.Low
	word := map[bool]string{true: "less", false: "more"}[less]
	if r.Figure == match.RollChanges && less {
		word = "fewer"
	}
	by := "where the model expects none"
	if r.Mean > 0 {
		off := 100 * math.Abs(r.Recorded-r.Mean) / r.Mean
		by = "than the model expects, by " + number(off, max(0, twoDigits(off))) + " %"
	}
	s := fmt.Sprintf("The line made %s %s %s.", word, matchLabels[r.Figure], by)
	switch r.Figure {
	case match.Waste:
		return s + " Look first at the scrap of a splice, a stop and a start, and at what is left on the cores."
	case match.RollChanges:
		if g, ok := a.Row(match.Good); ok && !g.Agrees() && (g.Recorded < g.Low) == less {
			return s + " Look first at the good web: the roll changes follow it."
		}
		return s + " Look first at the length of the parent rolls and at what is left on the cores."
	}
	if c, found := a.Suspect(less); found {
		recorded, _, between := MatchTexts(c, sys)
		expects := "the model expects " + strings.ReplaceAll(between, "–", " to ")
		if c.Missing {
			expects = "the model has no such stop"
		}
		return s + fmt.Sprintf(" Look first at %s: it stopped the line for %s, and %s.", legible.Line(HoldLabel(c.Hold)), recorded, expects)
	}
	for _, c := range a.Rows {
		if c.Figure == match.CauseTime {
			if less {
				return s + " No recorded cause took more hours than the model expects: look first at the real speed of the line, and at stops that nobody logged."
			}
			return s + " No recorded cause took fewer hours than the model expects: look first at the real speed of the line, and at scrap that the records leave out."
		}
	}
	return s + " Hours by cause are not recorded: they would show where to look first."
}
