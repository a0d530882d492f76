package records

import (
	"fmt"
	"math"
	"time"

	"rollchange/model/legible"
	"rollchange/scenarios/cells"
	"rollchange/scenarios/written"
)

// Log is a stop log that was read.
type Log struct {
	Name       string
	Understood Understood
	Rows       int // below the head
	Stops      []Stop
	Findings   []Finding // by row
	Ignored    int       // rows of causes that options ignore
	OtherLines int       // rows of lines that options leave out
	From, To   time.Time // the period
	Causes     []Total   // by their hours
	Lines      []Line    // by name

	zone *time.Location
	plan *plan
	from int64
	to   int64
	held []held             // of each line
	by   map[string][]*Stop // the stops of each cause, by its key
}

// Stop is one stop of a line, as it was recorded.
type Stop struct {
	Row   int // of the file or of the sheet
	Line  string
	Cause string // as it is spelt there
	Note  string
	Start time.Time
	End   time.Time // zero: nothing says when it ended

	Seconds  float64 // how long it lasted; 0 where nothing says so
	Low      float64 // what it may have been at least, s
	High     float64 // and at most, s; +Inf where nothing says so
	Readings int     // rounded readings that it comes from: 1 a duration, 2 a start and an end, 0 neither

	// Charged is the part of the planned time, s, for which the line stood still for
	// this stop and no other that began before it.
	Charged float64

	start, end int64 // ms on the line of time
	open       bool
	line       int // index of its line
}

// Total is what the stops of one cause add up to.
type Total struct {
	Text      string   // as it is spelt most often
	Spellings []string // others: they differ by capitals and space
	Count     int
	Open      int     // of them, without an end
	Charged   float64 // s for which lines stood still; the sum over causes is that over lines
	Recorded  float64 // s, the sum of the durations; more where stops overlap

	key string
}

// Line is one line of the log.
type Line struct {
	Name    string // empty: the log names none
	Count   int
	Planned float64 // s of the period
	Stopped float64 // s of these
}

// Read reads a stop log. An error lists all that is wrong with it; with
// Options.Strict any finding is an error.
func Read(t *cells.Table, opt Options) (*Log, error) {
	errs := &written.Problems{Table: t, Most: mostProblems}
	l := &Log{Name: t.Name, zone: opt.Zone}
	if len(t.Rows) == 0 {
		errs.Add(0, "", "is empty", "")
		return nil, errs.AsError()
	}
	f := find(t, &opt, errs)
	if err := errs.AsError(); err != nil {
		return nil, err
	}
	u := &l.Understood
	u.Sheet, u.Comma, u.HeadRow, u.Above = t.Sheet, t.Comma, f.headRow(), max(f.head, 0)
	r := &reader{finder: f, log: l, und: u, alike: spellings{}, date1904: t.Date1904 || opt.Date1904}
	r.open()
	u.Date1904 = r.date1904
	if opt.Zone != nil {
		u.Zone = opt.Zone.String()
	}
	l.Rows = len(r.data)
	r.understand()
	if err := errs.AsError(); err != nil {
		return nil, err
	}
	r.offsets = u.Offsets && opt.Zone == nil
	recs := r.rows()
	u.Columns, u.Unused = f.columns()
	r.build(recs)
	if err := errs.AsError(); err != nil {
		return nil, err
	}
	l.sortFindings()
	if err := r.judge(); err != nil {
		return nil, err
	}
	return l, nil
}

// judge says whether so much was left out that the log cannot be used, or, when
// Strict, whether there is anything to say.
func (r *reader) judge() error {
	l := r.log
	unread, first := 0, map[Kind]*Finding{}
	for i := range l.Findings {
		f := &l.Findings[i]
		if f.Kind <= MixedMark || f.Kind == TooWide {
			unread++
		}
		if first[f.Kind] == nil {
			first[f.Kind] = f
		}
	}
	most := unread*2 > l.Rows
	if !r.opt.Strict && !most && len(l.Stops) > 0 {
		return nil
	}
	for i := range l.Findings {
		f := &l.Findings[i]
		if !r.opt.Strict && !f.Kind.LeftOut() {
			continue
		}
		what, write := f.say(r.und.Dates)
		r.errs.Add(f.Row, r.headOf(f.Column), what, write)
	}
	if !r.opt.Strict && most {
		r.errs.Add(0, "", fmt.Sprintf("%d of %d rows cannot be read", unread, l.Rows), "--columns, with what each column is")
	} else if len(l.Stops) == 0 {
		r.errs.Add(0, "", "no row of it is a stop", "")
	}
	return r.errs.AsError()
}

// headOf is the name of a column from 1; empty for none.
func (r *reader) headOf(column int) string {
	switch {
	case column < 1 || column > len(r.heads):
		return ""
	case r.heads[column-1] != "":
		return legible.Short(r.heads[column-1])
	}
	return fmt.Sprintf("column %d", column)
}

// seconds is a span of ms in s.
func seconds(ms int64) float64 { return float64(ms) / second }

// Finite says whether the greatest duration of a stop is known.
func (s *Stop) Finite() bool { return !math.IsInf(s.High, 1) }
