package main

import (
	"errors"
	"fmt"
	"strconv"
	"time"

	"github.com/spf13/cobra"

	"rollchange/model"
	"rollchange/model/legible"
	"rollchange/scenarios/learn"
	"rollchange/scenarios/records"
)

// fitFlags are the flags of fit as they were written.
type fitFlags struct {
	columns, dates, decimal, zone, from, to, planned, line, sheet string
	ignore, is, same                                              []string
	strict                                                        bool
	recorded, recordedFrom, seed, confidence, speed, into, report string
	production                                                    string
	metresPerSecond                                               float64 // that speed says
}

// add adds the flags to the command.
func (x *fitFlags) add(cmd *cobra.Command, o *options) {
	f := cmd.Flags()
	f.BoolVar(&o.json, "json", false, "print JSON in SI units")
	f.StringVarP(&o.output, "output", "o", "", "write the answer to this file, whole or not at all")
	f.StringVar(&o.plots, "plots", "", "draw the pictures into this folder, as SVG and PNG")
	f.StringVar(&x.report, "report", "", "write a page, NAME.html, with what was read, the laws and the pictures")
	f.StringVar(&x.columns, "columns", "", `which column is which, by head or number: "start=Begin,end=4,cause=Reason"`)
	f.StringVar(&x.dates, "dates", "", "day-first or month-first, where the log leaves it open")
	f.StringVar(&x.decimal, "decimal", "", "comma or point, where the log leaves it open")
	f.StringVar(&x.zone, "zone", "", `time zone of the clock, e.g. "Europe/Berlin": hours are counted across clock changes`)
	f.StringVar(&x.from, "from", "", `start of the period, "2026-01-31 06:00"; the first row if not given`)
	f.StringVar(&x.to, "to", "", "end of the period; the last row if not given")
	f.StringVar(&x.planned, "planned", "", `planned hours of the period for each line, e.g. "4000 h"; all hours if not given`)
	f.StringVar(&x.line, "line", "", "only this line of the log")
	f.StringVar(&x.sheet, "sheet", "", "the sheet of a workbook; the first if not given")
	f.StringArrayVar(&x.ignore, "ignore", nil, "a cause whose rows are not stops; repeat for more")
	f.BoolVar(&x.strict, "strict", false, "refuse a log with anything found in its rows")
	f.StringVar(&x.recordedFrom, "recorded-from", "", `shorter stops were not recorded, e.g. "2 min"`)
	f.StringVar(&x.seed, "seed", "1", "random seed of the tests of fit")
	f.StringVar(&x.confidence, "confidence", "95 %", "confidence of the limits of rates")
	f.StringVar(&x.into, "into", "", "a scenario to put the laws into; the result goes to -o, a new file")
	f.StringVar(&x.production, "production", "", "production figures of the same days, a row a day with good web and waste, CSV or XLSX: they go into [records]")
	f.StringVar(&x.recorded, "recorded", "stop", "what a row lasts: stop, from leaving the speed until back at it, or work, of the operator alone")
	f.StringVar(&x.speed, "speed", "", `speed of the line, for web_breaks.mean_length, e.g. "150 m/min"; with --into that of the scenario`)
	f.StringArrayVar(&x.same, "same", nil, "TEXT=CAUSE, the first is another name for the second; repeat for more")
	f.StringArrayVar(&x.is, "map", nil, "TEXT=KEY, what a cause is: web_breaks, unwind.change_time, rewind.change_time, jobs.changeover, stop or not a stop; repeat for more")
}

// read reads the flags; an error lists all that is wrong with them.
func (x *fitFlags) read() (r records.Options, l learn.Options, err error) {
	var w wrongFlags
	if x.columns != "" {
		r.Columns, err = records.ParseColumns(x.columns)
		w.bad("columns", err)
	}
	r.Dates, err = records.ParseDates(x.dates)
	w.bad("dates", err)
	r.Decimal, err = records.ParseDecimal(x.decimal)
	w.bad("decimal", err)
	if x.zone != "" {
		if r.Zone, err = time.LoadLocation(x.zone); err != nil {
			w.bad("zone", fmt.Errorf("%s is not a time zone: write Europe/Berlin or America/New_York", legible.Quote(x.zone)))
		}
	}
	r.From, r.To = w.moment("from", x.from), w.moment("to", x.to)
	if !r.From.IsZero() && !r.To.IsZero() && !r.To.After(r.From) {
		w.bad("to", errors.New("the period ends before it begins"))
	}
	r.Planned, l.From = w.aboveZero("planned", x.planned, model.Time), w.aboveZero("recorded-from", x.recordedFrom, model.Time)
	r.Line, r.Ignore, r.Strict = x.line, x.ignore, x.strict
	x.targets(&r, &l, w.bad)
	if l.Seed, err = strconv.ParseUint(x.seed, 10, 64); err != nil {
		w.bad("seed", fmt.Errorf("%s is not a whole number, 0 or above", legible.Quote(x.seed)))
	}
	l.Confidence, err = model.ParseQuantity(x.confidence, model.Share)
	if err == nil && (l.Confidence <= 0 || l.Confidence >= 1) {
		err = fmt.Errorf("%s: must be between 0 and 100 %%", legible.Quote(x.confidence))
	}
	w.bad("confidence", err)
	if x.recorded != "stop" && x.recorded != "work" {
		w.bad("recorded", fmt.Errorf("%s is neither stop nor work", legible.Quote(x.recorded)))
	}
	x.metresPerSecond = w.aboveZero("speed", x.speed, model.Speed)
	return r, l, errors.Join(w...)
}

// wrongFlags is all that is wrong with the flags.
type wrongFlags []error

func (w *wrongFlags) bad(flag string, err error) {
	if err != nil {
		*w = append(*w, fmt.Errorf("rollchange fit: --%s: %w", flag, err))
	}
}

// moments are the ways to write the start and the end of a period.
var moments = []string{"2006-01-02 15:04:05", "2006-01-02 15:04", "2006-01-02T15:04", "2006-01-02"}

// moment reads a moment; the zero time where none is given.
func (w *wrongFlags) moment(flag, text string) time.Time {
	for _, layout := range moments {
		if t, err := time.Parse(layout, text); err == nil {
			return t
		}
	}
	if text != "" {
		w.bad(flag, fmt.Errorf("%s: write it as 2026-01-31 06:00", legible.Quote(text)))
	}
	return time.Time{}
}

// aboveZero reads a quantity; 0 where none is given.
func (w *wrongFlags) aboveZero(flag, text string, dim model.Dimension) float64 {
	if text == "" {
		return 0
	}
	v, err := model.ParseQuantity(text, dim)
	if err == nil && v <= 0 {
		err = fmt.Errorf("%s: must be above 0", legible.Quote(text))
	}
	w.bad(flag, err)
	return v
}
