package main

import (
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"io"
	"os"
	"runtime/debug"
	"strconv"
	"strings"
	"time"

	"github.com/spf13/cobra"

	"rollchange/model"
	"rollchange/model/legible"
	"rollchange/out/machine"
	"rollchange/out/table"
	"rollchange/scenarios"
	"rollchange/scenarios/cells"
	"rollchange/scenarios/learn"
	"rollchange/scenarios/records"
	"rollchange/scenarios/sheets"
)

// fitFlags are the flags of fit as they were written.
type fitFlags struct {
	columns, dates, decimal, zone, from, to, planned, line, sheet string
	ignore, is, same                                              []string
	strict                                                        bool
	recorded, recordedFrom, seed, confidence, speed, into, report string
	production                                                    string
	metresPerSecond                                               float64 // that speed says
	sum                                                           string  // SHA-256 of the log
}

func newFit() *cobra.Command {
	var o options
	var x fitFlags
	cmd := &cobra.Command{
		Use:   "fit LOG",
		Short: "The laws of a line's stops, from its stop log",
		Long: `Fit reads a stop log, a table with a row for each stop, as CSV or XLSX. It prints how
the log was read and what was found in its rows, then for each cause how often and how
long the line stood still, and the distributions of both.

-o NAME.toml writes them as a piece of a scenario, a [[stop]] for each cause. --into SCENARIO
-o NEW.toml writes a whole scenario, its other lines as they were; what the line adds to a
repair by itself (walk, waits and ramps) is then simulated and taken off, unless --recorded
work says that the log holds the work alone. What the line made in the period goes into its
[records], with --production also good web and waste, so that run says whether the model
matches the line. The meaning of causes is also taken from the [[records.cause]] of the scenario.`,
		Example: "  rollchange fit stops.csv\n  rollchange fit stops.csv --map \"paper break=web_breaks\" --planned \"4000 h\"\n  rollchange fit stops.csv --into line.toml -o fitted.toml",
		Args:    oneLog,
		RunE: func(cmd *cobra.Command, args []string) error {
			var s *scenarios.Scenario
			if x.into != "" {
				var err error
				if s, err = x.given(cmd); err != nil {
					return err
				}
			}
			reading, fitting, err := x.read()
			if err != nil {
				return err
			}
			if err := errors.Join(x.fits(&o, &fitting), x.checkPage()); err != nil {
				return err
			}
			if err := reads(cmd, args[0], "the log"); err != nil {
				return err
			}
			if x.into != "" {
				if err := reads(cmd, x.into, "the scenario"); err != nil {
					return err
				}
			}
			if x.production != "" {
				if err := reads(cmd, x.production, "the production figures"); err != nil {
					return err
				}
			}
			if o.output == "" {
				err = named(filesOf(cmd).Answers())
			} else {
				err = writes(cmd, o.output, "--output")
			}
			if err == nil && x.report != "" {
				err = writes(cmd, x.report, "--report")
			}
			if err != nil {
				return err
			}
			// Of a log of 100,000 rows stay 40 MB, and much garbage falls: 110 MB at most instead of 260.
			usual := debug.SetGCPercent(100)
			defer debug.SetGCPercent(usual)
			t, err := x.table(cmd, args[0])
			if err != nil {
				return err
			}
			log, err := records.Read(t, reading)
			if err != nil {
				return err
			}
			made, err := x.made(cmd, log, reading)
			if err != nil {
				return err
			}
			if err := o.willDraw(cmd, logPictures(log)); err != nil {
				return err
			}
			l, err := learn.Of(log, fitting)
			debug.SetGCPercent(usual)
			if err != nil {
				return fmt.Errorf("rollchange fit: %w", err)
			}
			if o.plots != "" {
				if err := o.savePictures(cmd, drawLog(l)); err != nil {
					return err
				}
			}
			if x.report != "" {
				if err := x.page(cmd, args[0], l); err != nil {
					return err
				}
			}
			var text string
			switch {
			case x.into != "":
				text, err = x.whole(cmd, s, l, made)
			case strings.HasSuffix(o.output, ".toml"):
				text, err = x.fragment(l)
			}
			if err != nil {
				return err
			}
			return o.write(cmd, func(w io.Writer) error {
				if text != "" {
					_, err := io.WriteString(w, text)
					return err
				}
				if o.json {
					return machine.FitJSON(w, version, l)
				}
				return table.Fit(w, l, o.screen(cmd))
			})
		},
	}
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
	return cmd
}

// oneLog asks for exactly one log.
func oneLog(cmd *cobra.Command, args []string) error {
	if len(args) != 1 {
		return fmt.Errorf("rollchange %s: give one stop log, CSV or XLSX, or - for standard input; got %d", cmd.Name(), len(args))
	}
	return nil
}

// moments are the ways to write the start and the end of a period.
var moments = []string{"2006-01-02 15:04:05", "2006-01-02 15:04", "2006-01-02T15:04", "2006-01-02"}

// read reads the flags; an error lists all that is wrong with them.
func (x *fitFlags) read() (r records.Options, l learn.Options, err error) {
	var wrong []error
	bad := func(flag string, err error) {
		if err != nil {
			wrong = append(wrong, fmt.Errorf("rollchange fit: --%s: %w", flag, err))
		}
	}
	if x.columns != "" {
		r.Columns, err = records.ParseColumns(x.columns)
		bad("columns", err)
	}
	r.Dates, err = records.ParseDates(x.dates)
	bad("dates", err)
	r.Decimal, err = records.ParseDecimal(x.decimal)
	bad("decimal", err)
	if x.zone != "" {
		if r.Zone, err = time.LoadLocation(x.zone); err != nil {
			bad("zone", fmt.Errorf("%s is not a time zone: write Europe/Berlin or America/New_York", legible.Quote(x.zone)))
		}
	}
	moment := func(flag, text string) time.Time {
		for _, layout := range moments {
			if t, err := time.Parse(layout, text); err == nil {
				return t
			}
		}
		if text != "" {
			bad(flag, fmt.Errorf("%s: write it as 2026-01-31 06:00", legible.Quote(text)))
		}
		return time.Time{}
	}
	r.From, r.To = moment("from", x.from), moment("to", x.to)
	if !r.From.IsZero() && !r.To.IsZero() && !r.To.After(r.From) {
		bad("to", errors.New("the period ends before it begins"))
	}
	span := func(flag, text string) float64 {
		if text == "" {
			return 0
		}
		v, err := model.ParseQuantity(text, model.Time)
		if err == nil && v <= 0 {
			err = fmt.Errorf("%s: must be above 0", legible.Quote(text))
		}
		bad(flag, err)
		return v
	}
	r.Planned, l.From = span("planned", x.planned), span("recorded-from", x.recordedFrom)
	r.Line, r.Ignore, r.Strict = x.line, x.ignore, x.strict
	x.targets(&r, &l, bad)
	if l.Seed, err = strconv.ParseUint(x.seed, 10, 64); err != nil {
		bad("seed", fmt.Errorf("%s is not a whole number, 0 or above", legible.Quote(x.seed)))
	}
	l.Confidence, err = model.ParseQuantity(x.confidence, model.Share)
	if err == nil && (l.Confidence <= 0 || l.Confidence >= 1) {
		err = fmt.Errorf("%s: must be between 0 and 100 %%", legible.Quote(x.confidence))
	}
	bad("confidence", err)
	if x.recorded != "stop" && x.recorded != "work" {
		bad("recorded", fmt.Errorf("%s is neither stop nor work", legible.Quote(x.recorded)))
	}
	if x.speed != "" {
		if x.metresPerSecond, err = model.ParseQuantity(x.speed, model.Speed); err == nil && x.metresPerSecond <= 0 {
			err = fmt.Errorf("%s: must be above 0", legible.Quote(x.speed))
		}
		bad("speed", err)
	}
	return r, l, errors.Join(wrong...)
}

// table reads the log as a table.
func (x *fitFlags) table(cmd *cobra.Command, path string) (*cells.Table, error) {
	name, shown := path, legible.Visible(path)
	var data []byte
	var err error
	if path == "-" {
		name, shown = "standard input", "standard input"
		data, err = io.ReadAll(io.LimitReader(cmd.InOrStdin(), cells.MostBytes+1))
	} else {
		var f *os.File
		if f, err = os.Open(path); err == nil {
			defer f.Close()
			data, err = io.ReadAll(io.LimitReader(f, cells.MostBytes+1))
		}
	}
	switch {
	case errors.Is(err, os.ErrNotExist):
		return nil, fmt.Errorf("rollchange fit: %s: no such file", shown)
	case err != nil:
		return nil, fmt.Errorf("rollchange fit: %s: cannot be read", shown)
	case len(data) > cells.MostBytes:
		return nil, fmt.Errorf("rollchange fit: %s: has more than %d MB", shown, cells.MostBytes>>20)
	}
	sum := sha256.Sum256(data)
	x.sum = hex.EncodeToString(sum[:])
	var t *cells.Table
	if sheets.Is(data) {
		t, err = sheets.Read(name, data, x.sheet)
	} else if t, err = cells.Read(name, data); err == nil && x.sheet != "" {
		return nil, fmt.Errorf("rollchange fit: --sheet: %s is not a workbook", shown)
	}
	if err != nil {
		return nil, fmt.Errorf("rollchange fit: %s: %w", shown, err)
	}
	return t, nil
}
