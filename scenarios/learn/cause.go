package learn

import (
	"errors"
	"fmt"
	"maps"
	"math"
	"runtime"
	"slices"
	"strings"
	"sync"
	"sync/atomic"
	"time"

	"rollchange/model"
	"rollchange/scenarios/fit"
	"rollchange/scenarios/records"
)

// Target is what a cause of a log is in a scenario: a recorded cause, as [records] has it.
type Target = model.RecordedKind

// The targets.
const (
	Stop       = model.RecordedStop // a [[stop]] of that name
	WebBreak   = model.RecordedWebBreak
	ChangeTime = model.RecordedUnwindChange
	RewindTime = model.RecordedRewindChange
	Changeover = model.RecordedChangeover
	NotAStop   = model.RecordedNothing
)

// Targets are all of them, in the order of the reference.
func Targets() []Target {
	return []Target{Stop, WebBreak, ChangeTime, RewindTime, Changeover, NotAStop}
}

// ParseMap reads "TEXT=TARGET".
func ParseMap(s string) (text string, to Target, err error) {
	i := strings.LastIndexByte(s, '=')
	if i < 0 {
		return "", "", fmt.Errorf("%q: write TEXT=KEY, as in \"paper break=web_breaks\"", s)
	}
	text, to = strings.TrimSpace(s[:i]), Target(strings.TrimSpace(s[i+1:]))
	var names []string
	for _, t := range Targets() {
		if t == to {
			return text, to, nil
		}
		names = append(names, string(t))
	}
	return "", "", fmt.Errorf("%q: the key is one of %s", s, strings.Join(names, ", "))
}

// Options say what the log alone does not.
type Options struct {
	Is         map[string]Target // what a cause is, by its text; others are stops
	From       float64           // s; shorter stops were not recorded; 0: all were
	Seed       uint64
	Confidence float64 // of the limits of a rate
	Draws      int     // that a fit is judged by; 0: as many as fit takes
}

// Line is what a log says of its line.
type Line struct {
	Log     *records.Log
	Options Options
	Planned float64 // s, of all lines of the log
	Stopped float64 // s of these
	Causes  []Cause // by their hours
}

// Cause is what a log says of one cause.
type Cause struct {
	Text      string
	Spellings []string
	Is        Target
	Stops     int
	Open      int     // of them, without an end
	Lost      float64 // s for which the line stood still for it
	Share     float64 // of all that was lost
	Rate      fit.Rates
	Between   fit.Result // running time from the end of one to the start of the next
	Lasts     fit.Result
	Trend     fit.Trends     // over the running time; not known with several lines
	Calendar  fit.ByCalendar // not known with several lines, or where nobody knows which hours were planned
	Every     model.Dist     // what a scenario gets
	Repair    model.Dist     // what a scenario gets; not given where no stop had ended
	OneRate   bool           // Every is an exponential of the rate: there are too few rows for a law
}

// fewest is how many stops a law between them takes: as many as fit.Of.
const fewest = 5

// Of makes the laws of a log.
func Of(log *records.Log, o Options) (*Line, error) {
	l := &Line{Log: log, Options: o}
	for _, x := range log.Lines {
		l.Planned += x.Planned
		l.Stopped += x.Stopped
	}
	known := map[string]Target{}
	said := slices.Sorted(maps.Keys(o.Is))
	for _, text := range said {
		to, other := o.Is[text], known[folded(text)]
		if other != "" && other != to {
			return nil, fmt.Errorf("%q is said to be %s, and in another spelling %s", text, to, other)
		}
		known[folded(text)] = to
	}
	var ran *fit.Exposure
	if len(log.Lines) == 1 {
		ran = l.ran()
	}
	if err := l.causes(ran); err != nil {
		return nil, err
	}
	for i := range l.Causes {
		delete(known, folded(l.Causes[i].Text))
	}
	for _, text := range said {
		to := o.Is[text]
		if _, left := known[folded(text)]; left && to != NotAStop {
			return nil, fmt.Errorf("the log has no cause %q", text)
		}
	}
	return l, l.oneForEach()
}

// oneForEach says which causes are the same key: it has one law.
func (l *Line) oneForEach() error {
	first := map[Target]string{}
	for i := range l.Causes {
		c := &l.Causes[i]
		if other, twice := first[c.Is]; twice && c.Is != Stop {
			return fmt.Errorf("%q and %q are both %s, which has one law", other, c.Text, c.Is)
		}
		first[c.Is] = c.Text
	}
	return nil
}

// folded is a text without what two spellings of it differ by.
func folded(s string) string { return strings.ToLower(strings.Join(strings.Fields(s), " ")) }

// MostFitted is how many causes get laws, those of the largest loss: a log of more is
// not sorted by cause. The others get their rate and their values.
const MostFitted = 200

// causes makes the laws of all causes, several at a time: each hangs on its own values
// and the seed alone.
func (l *Line) causes(ran *fit.Exposure) error {
	all := l.Log.Causes
	l.Causes = make([]Cause, len(all))
	wrong := make([]error, len(all))
	var next atomic.Int64
	var wait sync.WaitGroup
	for range min(runtime.GOMAXPROCS(0), len(all)) {
		wait.Go(func() {
			for i := int(next.Add(1)) - 1; i < len(all); i = int(next.Add(1)) - 1 {
				l.Causes[i], wrong[i] = l.cause(&all[i], ran, i < MostFitted)
			}
		})
	}
	wait.Wait()
	return errors.Join(wrong...)
}

func (l *Line) cause(t *records.Total, ran *fit.Exposure, laws bool) (Cause, error) {
	c := Cause{Text: t.Text, Spellings: t.Spellings, Is: Stop, Stops: t.Count, Open: t.Open, Lost: t.Charged}
	for text, to := range l.Options.Is {
		if folded(text) == folded(t.Text) {
			c.Is = to
		}
	}
	if l.Stopped > 0 {
		c.Share = c.Lost / l.Stopped
	}
	exposure := max(0, l.Planned-l.Stopped)
	c.Rate = fit.Rate(c.Stops, exposure, l.Options.Confidence)
	gaps := l.Log.Gaps(t.Text)
	var err error
	if c.Between, err = fit.Of(gapValues(gaps), l.asking(0, laws)); err != nil {
		return c, err
	}
	if c.Lasts, err = fit.Of(l.durations(t.Text), l.asking(l.Options.From, laws)); err != nil {
		return c, err
	}
	c.Trend, c.Calendar = fit.Trend(nil, 0), fit.Calendar{}.Over(nil).By(nil, l.Options.Confidence, l.Options.Seed)
	if len(l.Log.Lines) == 1 {
		c.Trend = fit.Trend(eventTimes(gaps))
		if span := l.Log.To.Sub(l.Log.From).Seconds(); l.Planned > 0.9*span { // else it shows when the line was planned
			c.Calendar = l.calendar(t.Text, ran)
		}
	}
	c.Repair = c.Lasts.Answer
	c.Repair.Observed = c.Lasts.Observed()
	c.Every = c.Between.Answer
	c.Every.Observed = c.Between.Observed()
	if c.OneRate = c.Stops < fewest || c.Between.Why == fit.TooFew || c.Between.Why == fit.Unasked || !c.Every.Given() || c.Every.Mean() <= 0; c.OneRate {
		c.Every = model.Dist{Law: model.Exponential, A: exposure / float64(c.Stops), Observed: c.Stops}
	}
	return c, nil
}

func (l *Line) fitting(from float64) fit.Options {
	return fit.Options{From: from, Seed: l.Options.Seed, Draws: l.Options.Draws}
}

func (l *Line) asking(from float64, laws bool) fit.Options {
	o := l.fitting(from)
	o.Values = !laws
	return o
}

// gapValues are the gaps that a law is fitted to. The first of a line began before
// the log did, nobody knows when: it counts for the rate alone.
func gapValues(gaps []records.Gap) []fit.Value {
	var values []fit.Value
	for _, g := range gaps {
		switch {
		case g.First:
		case g.Censored:
			values = append(values, fit.Value{X: g.Seconds, Open: true})
		default:
			values = append(values, fit.Value{X: g.Seconds, Step: 2 * (g.High - g.Seconds)})
		}
	}
	return values
}

// durations are how long the stops of a cause lasted, in their order. One that
// comes from a start and an end is taken as rounded once, so that heaps of whole
// fives are found in it.
func (l *Line) durations(cause string) []fit.Value {
	var values []fit.Value
	for _, s := range l.Log.StopsOf(cause) {
		switch {
		case !s.Finite() || s.Readings == 0: // before the next began, or not
			values = append(values, fit.Value{X: s.Low, Open: true})
		case s.Readings == 2:
			step := max(l.Log.Understood.Start.Seconds, l.Log.Understood.End.Seconds)
			if s.Seconds == 0 { // both were rounded to the same: below a whole step, not half of one
				step *= 2
			}
			values = append(values, fit.Value{X: s.Seconds, Step: step})
		default:
			values = append(values, fit.Value{X: s.Seconds, Step: 2 * (s.High - s.Seconds)})
		}
	}
	return values
}

// eventTimes are the running times at which the stops of one line began, and how
// long it ran in all. One at the very start counts from there.
func eventTimes(gaps []records.Gap) (times []float64, length float64) {
	for _, g := range gaps {
		length += g.Seconds
		if !g.Censored && length > 0 {
			times = append(times, length)
		}
	}
	return times, length
}

// shift is the usual length of one, from 06:00.
const shift, begins = 8 * time.Hour, 6 * time.Hour

// ran is when the only line of a log did.
func (l *Line) ran() *fit.Exposure {
	var ran []fit.Period
	at := l.Log.From
	for i := range l.Log.Stops {
		s := &l.Log.Stops[i]
		if s.Start.After(at) {
			ran = append(ran, fit.Period{From: at, To: s.Start})
		}
		end := s.End
		if end.IsZero() {
			end = s.Start
		}
		if end.After(at) {
			at = end
		}
	}
	if l.Log.To.After(at) {
		ran = append(ran, fit.Period{From: at, To: l.Log.To})
	}
	return fit.Calendar{Shift: shift, Begins: begins}.Over(ran)
}

// calendar looks at when the stops of a cause began, in the time the line ran: those
// that began while it stood still for another count for no rate.
func (l *Line) calendar(cause string, ran *fit.Exposure) fit.ByCalendar {
	var events []time.Time
	for _, s := range l.Log.StopsOf(cause) {
		events = append(events, s.Start.Add(-time.Nanosecond)) // a period ends before its end
	}
	return ran.By(events, l.Options.Confidence, l.Options.Seed)
}

// Speaks is the chance below which a test is said to have found something: with
// a few causes and a few tests of each, one in a hundred is said by accident.
const Speaks = 0.01

// Changes says whether a rate over groups is not one.
func Changes(e fit.Evenness) bool { return !math.IsNaN(e.P) && e.P < Speaks }
