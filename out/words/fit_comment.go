package words

import (
	"fmt"
	"path/filepath"

	"rollchange/model/legible"
	"rollchange/scenarios/fit"
	"rollchange/scenarios/learn"
	"rollchange/scenarios/records"
)

// LogComments are the comments beside the laws of a log in a scenario.
type LogComments struct{}

// Head says what the laws come from.
func (LogComments) Head(l *learn.Line) string {
	return fmt.Sprintf("%s of %s, %s to %s, %s planned. Repairs include the walk and the ramps as recorded, which the line adds again; rollchange fit --into takes them off.",
		Capital(counted(len(l.Log.Stops), "stop")), LogFile(l), LogTime(l.Log.From), LogTime(l.Log.To), Duration(l.Planned))
}

// Every says how the law of the time between was found.
func (LogComments) Every(c *learn.Cause) string {
	rate, limits := fitRateText(c.Rate)
	s := fmt.Sprintf("observed = %d, %s a running hour (%s)", c.Stops, rate, limits)
	if c.Is == learn.WebBreak {
		return s + "; running time by the speed of the line"
	}
	if c.Is == learn.Changeover {
		s += "; running time by the speed of the line"
	}
	if c.OneRate {
		return s + ": too few for a law, exponential is assumed"
	}
	return s + "; " + how(c.Between)
}

// Repair says how the law of the repair was found, and what was taken off.
func (LogComments) Repair(c *learn.Cause, off float64, enough bool) string {
	s := fmt.Sprintf("observed = %d; %s", c.Lasts.N-c.Lasts.Open, how(c.Lasts))
	switch {
	case off > 0 && enough:
		s += fmt.Sprintf("; %s of walk, waits and ramps taken off a mean of %s", Duration(off), Duration(c.Repair.Mean()))
	case off > 0:
		s += fmt.Sprintf("; walk, waits and ramps, %s, are as long as the recorded mean of %s: a twentieth of it is left", Duration(off), Duration(c.Repair.Mean()))
	}
	return s
}

// how says how a law was found.
func how(r fit.Result) string {
	switch r.Why {
	case fit.TooFew:
		return "the recorded values, too few for a law"
	case fit.Unasked:
		return "the recorded values: no law is fitted where the loss is small"
	case fit.Same:
		return "the same in every row"
	case fit.NoLaw:
		return "the recorded values: every law is refused"
	}
	s := "maximum likelihood, p " + FitChance(r.Judged.P)
	if rivals := Rivals(r); rivals != "" {
		s += "; as good: " + rivals
	}
	return s
}

// Source is the note that the table of a cause has.
func (LogComments) Source(l *learn.Line, c *learn.Cause) string {
	return fmt.Sprintf("%s, %s to %s: %s", LogFile(l), l.Log.From.Format("2006-01-02"), l.Log.To.Format("2006-01-02"), counted(c.Stops, "stop"))
}

// Records is the note of what the line made in the period of a log.
func (LogComments) Records(l *learn.Line, made *records.Production) string {
	s := fmt.Sprintf("%s, %s to %s", LogFile(l), l.Log.From.Format("2006-01-02"), l.Log.To.Format("2006-01-02"))
	if made != nil {
		s += " and " + legible.Line(filepath.Base(made.Name))
	}
	return s
}

// LogFile is the name of the file of a log.
func LogFile(l *learn.Line) string { return legible.Line(filepath.Base(l.Log.Name)) }
