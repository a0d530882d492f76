package words

import (
	"fmt"
	"math"
	"strings"
	"time"

	"rollchange/model"
	"rollchange/model/legible"
	"rollchange/scenarios/fit"
	"rollchange/scenarios/learn"
)

// Heads of what a log says of its causes.
const (
	FitUnderstood = "How the log was read"
	FitCauses     = "Stops by cause, the largest loss first"
	FitCause      = "cause"
	FitStops      = "stops"
	FitHours      = "h lost"
	FitShare      = "% of loss"
	FitRate       = "rate, running h"
	FitLimits     = "%g %% limits"
	fitOneStop    = "too wide"
	FitBetween    = "between"
	FitLasts      = "lasts"
	FitIs         = "is"
	FitMore       = "and %d more; --json lists all"
	FitRow        = "row %d"
	FitNoCause    = "no cause given"
	FitPerhaps    = "Suggested by their names: add those that are right to the command"
	FitNextHead   = "What to do next"
)

// CauseName is a cause as it is shown.
func CauseName(text string) string {
	if text == "" {
		return FitNoCause
	}
	return legible.Line(text)
}

// LawText is a law with its parameters, in the units that people read.
func LawText(d model.Dist) string {
	t := func(x float64) string {
		u := model.DisplayTime(x)
		return Short(u.From(x), 3) + " " + u.Name
	}
	least := ""
	if d.Least > 0 {
		least = ", least " + t(d.Least)
	}
	switch d.Law {
	case model.NotGiven:
		return "not known"
	case model.Fixed:
		return "always " + t(d.A)
	case model.Exponential:
		return "exponential, mean " + t(d.A) + least
	case model.Lognormal:
		return "lognormal, mean " + t(d.A) + ", sd " + t(d.B) + least
	case model.Gamma, model.Weibull:
		return fmt.Sprintf("%s, shape %s, scale %s%s (mean %s)", map[model.Law]string{model.Gamma: "gamma", model.Weibull: "Weibull"}[d.Law], Short(d.A, 3), t(d.B), least, t(d.Mean()))
	case model.Empirical:
		return fmt.Sprintf("%s as they are, mean %s", counted(len(d.Values), "value"), t(d.Mean()))
	}
	return string(d.Law)
}

// nameOf is a law in a list of rivals.
func nameOf(d model.Dist) string {
	name := string(d.Law)
	if d.Law == model.Weibull {
		name = LawInText
	}
	if d.Least > 0 {
		name += " from " + LawText(model.Const(d.Least))[len("always "):]
	}
	return name
}

// FitLaw says the law of some values, how sure it is and what is as good.
func FitLaw(r fit.Result) string {
	s := LawText(r.Answer)
	switch r.Why {
	case fit.NoValue:
		return "not known: none has ended"
	case fit.Same:
		return s + ", in every row"
	case fit.TooFew:
		return s + "; too few for a law"
	case fit.Unasked:
		return s + "; no law is fitted: its loss is small"
	case fit.NoLaw:
		if r.Taken < 0 {
			return s + ": no law could be fitted"
		}
		return fmt.Sprintf("%s: the best law, %s, is refused (p %s)", s, nameOf(r.Laws[r.Taken].Dist), FitChance(r.Judged.P))
	}
	s += fmt.Sprintf("; p %s", FitChance(r.Judged.P))
	if rivals := Rivals(r); rivals != "" {
		s += "; as good: " + rivals + " (the longest tail is taken)"
	}
	return s
}

// Rivals are the laws that are as good as the one that was taken.
func Rivals(r fit.Result) string {
	var list []string
	for i, f := range r.Laws {
		if f.Tied && i != r.Taken {
			list = append(list, nameOf(f.Dist))
		}
	}
	return strings.Join(list, ", ")
}

// FitChance is the p of a test.
func FitChance(p float64) string {
	if p < 0.001 {
		return "below 0.001"
	}
	return Short(p, 2)
}

// FitSentences say what else a cause shows: what the reader has to know before the
// laws are used. What no test speaks for is not said.
func FitSentences(c *learn.Cause) []string {
	var list []string
	say := func(format string, args ...any) { list = append(list, fmt.Sprintf(format, args...)) }
	if len(c.Spellings) > 0 {
		say("Also spelt %s.", legible.Line(strings.Join(c.Spellings, ", ")))
	}
	if c.OneRate {
		say("%s: a rate with its limits, no law of the time between; a scenario gets an exponential with this mean, %s.", counted(c.Stops, "stop"), LawText(model.Const(c.Every.Mean()))[len("always "):])
	}
	if c.Open > 0 {
		say("No end is given for %s.", counted(c.Open, "stop"))
	}
	if h := c.Lasts.Heaping; h.Found {
		say("%d of %d durations are multiples of five minutes: they count as rounded to five minutes.", h.Fives, h.Minutes)
	}
	if c.Lasts.Below > 0 {
		say("%s shorter than the recording limit: left out of the durations.", counted(c.Lasts.Below, "row"))
	}
	if t := c.Trend; t.LaplaceP < learn.Speaks || t.ChanceP < learn.Speaks {
		way := "more"
		if t.LaplaceP < learn.Speaks && t.Laplace < 0 || t.LaplaceP >= learn.Speaks && t.Handbook > float64(t.Degrees) {
			way = "less"
		}
		say("It became %s frequent over the period (Laplace p %s, military handbook p %s): one rate does not hold.", way, FitChance(t.LaplaceP), FitChance(t.ChanceP))
	}
	for _, x := range []struct {
		what string
		of   fit.Serial
	}{{"times between", c.Between.Order}, {"durations", c.Lasts.Order}} {
		if x.of.P < learn.Speaks {
			kind := "alike"
			if x.of.R < 0 {
				kind = "unlike"
			}
			say("Successive %s are %s (rank correlation %.2f, p %s): they are not independent.", x.what, kind, x.of.R, FitChance(x.of.P))
		}
	}
	if e := c.Calendar.Shift; learn.Changes(e) {
		say("The rate changes by shift: %s (p %s).", rates(e, func(i int) string { return fmt.Sprintf("from %02d:00", (6+8*i)%24) }), FitChance(e.P))
	}
	if e := c.Calendar.Weekday; learn.Changes(e) {
		say("The rate changes by weekday: %s (p %s).", rates(e, func(i int) string { return time.Weekday(i).String()[:2] }), FitChance(e.P))
	}
	if e := c.Calendar.Month; learn.Changes(e) {
		say("The rate changes by month: %s (p %s).", rates(e, func(i int) string { return time.Month(i + 1).String()[:3] }), FitChance(e.P))
	}
	if d := c.Repair; d.Law == model.Empirical && c.Lasts.N > c.Lasts.Open {
		say("No duration above the longest recorded, %s, will be drawn: what lies beyond is not known.", LawText(model.Const(d.Max()))[len("always "):])
	}
	if d := c.Every; d.Law == model.Empirical {
		say("No time between above the longest recorded, %s, will be drawn.", LawText(model.Const(d.Max()))[len("always "):])
	}
	return list
}

// rates are the rates of groups that the line ran in.
func rates(e fit.Evenness, name func(i int) string) string {
	var list []string
	for i, r := range e.Rates {
		if r.Exposure > 0 {
			list = append(list, name(i)+" "+Short(3600*r.Mean, 2)+"/h")
		}
	}
	return strings.Join(list, ", ")
}

// FitUneven says what a rate that changes by shift or weekday may come from;
// empty where none does.
func FitUneven(l *learn.Line) string {
	for i := range l.Causes {
		c := &l.Causes[i].Calendar
		if learn.Changes(c.Shift) || learn.Changes(c.Weekday) {
			return "A rate may change by shift or weekday because the line was not planned in all of them: every hour of the period counts as planned unless --planned gives the planned hours."
		}
	}
	return ""
}

// FitRateText is a rate per running hour and its limits. Those of one stop reach from a
// fortieth of the rate to six times it: that is said in their place.
func FitRateText(r fit.Rates) (rate, limits string) {
	if r.Events == 1 {
		return Short(3600*r.Mean, 3), fitOneStop
	}
	return fitRateText(r)
}

// fitRateText is FitRateText with the limits of one stop too, where they stand beside a law.
func fitRateText(r fit.Rates) (rate, limits string) {
	if math.IsInf(r.Mean, 0) || math.IsNaN(r.Mean) {
		return "?", ""
	}
	rate, limits = between(3600*r.Mean, 3600*r.Low, 3600*r.High, "–")
	return rate, limits
}

// FitNote says how the table was made.
func FitNote(l *learn.Line) string {
	s := fmt.Sprintf("(p: chance that values drawn from the law lie as far from it, Anderson-Darling with %d bootstrap draws at most, seed %d; below 0.05 the law is refused; trends, dependence and changes are reported below p %g", 199, l.Options.Seed, learn.Speaks)
	if l.Options.From > 0 {
		s += fmt.Sprintf("; stops shorter than %s count as not recorded", Duration(l.Options.From))
	}
	return s + ")"
}
