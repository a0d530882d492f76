package table

import (
	"fmt"
	"io"
	"math"
	"strconv"
	"strings"

	"rollchange/model"
	"rollchange/model/legible"
	"rollchange/out/words"
	"rollchange/sim"
)

// The columns of a log: time and station, the three figures, and the least and
// most of an event. What is left of a wide screen holds what is on; on a narrow
// one that stands in a line of its own where it changes.
const (
	traceLead    = 13 + 2 + 8 + 1
	traceFigures = 11 + 9 + 9
	leastEvent   = 26
	mostEvent    = 42
	leastHolds   = 34
)

// Trace writes the log of a replication for people.
func Trace(w io.Writer, records []sim.Record, sys model.System, to Screen) error {
	var b strings.Builder
	l := model.Display(model.Length, sys)
	left := to.width() - traceLead - traceFigures
	event, beside := max(leastEvent, min(mostEvent, left)), left-mostEvent-2 >= leastHolds
	head := func(lead, station, what string, figures [3]string, on string) {
		s := fmt.Sprintf("%13s  %-8s %s%s%s%s", lead, station, pad(what, event), padLeft(figures[0], 11), padLeft(figures[1], 9), padLeft(figures[2], 9))
		if beside && on != "" {
			s += "  " + on
		}
		fmt.Fprintln(&b, strings.TrimRight(s, " "))
	}
	head("", "", "", [3]string{words.HeadWeb, words.HeadUnwind, words.HeadRewind}, "")
	head(words.HeadTime, "", "", [3]string{words.HeadProcessed, words.HeadStorage, words.HeadStorage}, "")
	head(words.HeadClock, words.HeadStation, words.HeadEvent, [3]string{l.Name, l.Name, l.Name}, words.HeadHolds)
	several := false
	for _, r := range records {
		several = several || r.Line > 0
	}
	last := "; 0" // nothing on, nobody busy
	for _, r := range records {
		name, more := words.EventWords(&r)
		if more != "" {
			name += ": " + more
		}
		if several {
			name = fmt.Sprintf(words.LogLine, r.Line+1, name)
		}
		on := holdsOn(&r)
		head(words.Clock(r.Time), words.SourceWord(r.Of), words.Shorten(legible.Line(name), event), [3]string{orBlank(l.From(r.P), 1),
			orBlank(l.From(r.UnwindStorage), 2), orBlank(l.From(r.RewindStorage), 2)}, on)
		if !beside && on != last {
			fmt.Fprintln(&b, to.indented(changed(&r), traceLead+2))
		}
		last = on
	}
	_, err := io.WriteString(w, b.String())
	return err
}

// holdNames are the holds that are on.
func holdNames(r *sim.Record) string {
	holds := make([]string, len(r.Holds))
	for i, h := range r.Holds {
		holds[i] = words.HoldLabel(h)
	}
	return legible.Line(strings.Join(holds, ", "))
}

// holdsOn are the holds that are on and how many operators are busy, for the
// last column: "web break; 1".
func holdsOn(r *sim.Record) string { return holdNames(r) + "; " + strconv.Itoa(r.OperatorsBusy) }

// changed says the same in a line of its own.
func changed(r *sim.Record) string {
	on := holdNames(r)
	if on == "" {
		on = words.LogNothing
	}
	return fmt.Sprintf(words.LogHolds, on, r.OperatorsBusy)
}

func orBlank(x float64, decimals int) string {
	if math.IsNaN(x) {
		return ""
	}
	return words.Fixed(x, decimals)
}
