package main

import (
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"io"
	"os"
	"runtime/debug"
	"strings"

	"github.com/spf13/cobra"

	"rollchange/model/legible"
	"rollchange/out/machine"
	"rollchange/out/table"
	"rollchange/out/words"
	"rollchange/scenarios"
	"rollchange/scenarios/cells"
	"rollchange/scenarios/learn"
	"rollchange/scenarios/records"
	"rollchange/scenarios/sheets"
)

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
		RunE:    func(cmd *cobra.Command, args []string) error { return x.fit(cmd, &o, args[0]) },
	}
	x.add(cmd, &o)
	return cmd
}

// oneLog asks for exactly one log.
func oneLog(cmd *cobra.Command, args []string) error {
	if len(args) != 1 {
		return fmt.Errorf("rollchange %s: give one stop log, CSV or XLSX, or - for standard input; got %d", cmd.Name(), len(args))
	}
	return nil
}

// fitting is one log on its way to the laws of a line.
type fitting struct {
	*fitFlags
	o        *options
	cmd      *cobra.Command
	path     string              // of the log
	sum      string              // SHA-256 of its bytes, in hex
	scenario *scenarios.Scenario // that the laws go into; nil: none
	reading  records.Options
	learning learn.Options
	produced *records.Production // in the period of the log; nil: not known
}

// fit reads a log and writes the laws of its line.
func (x *fitFlags) fit(cmd *cobra.Command, o *options, path string) (err error) {
	r := &fitting{fitFlags: x, o: o, cmd: cmd, path: path}
	if x.into != "" {
		if r.scenario, err = x.given(cmd); err != nil {
			return err
		}
	}
	if r.reading, r.learning, err = x.read(); err != nil {
		return err
	}
	if err := errors.Join(x.fits(o, &r.learning), x.checkPage()); err != nil {
		return err
	}
	if err := r.readsFiles(); err != nil {
		return err
	}
	if err := r.writesFiles(); err != nil {
		return err
	}
	l, err := r.learn()
	if err != nil {
		return err
	}
	if o.plots != "" {
		if err := o.savePictures(cmd, drawLog(l)); err != nil {
			return err
		}
	}
	if x.report != "" {
		if err := r.page(l); err != nil {
			return err
		}
	}
	return r.answer(l)
}

// readsFiles says which files are read.
func (r *fitting) readsFiles() error {
	for _, f := range []struct{ path, what string }{{r.path, "the log"}, {r.into, "the scenario"}, {r.production, "the production figures"}} {
		if f.path != "" {
			if err := reads(r.cmd, f.path, f.what); err != nil {
				return err
			}
		}
	}
	return nil
}

// writesFiles says which files are written.
func (r *fitting) writesFiles() error {
	if r.o.output == "" {
		if err := filesOf(r.cmd).Answers(); err != nil {
			return named(err)
		}
	} else if err := writes(r.cmd, r.o.output, "--output"); err != nil {
		return err
	}
	if r.report == "" {
		return nil
	}
	return writes(r.cmd, r.report, "--report")
}

// learn reads the log and finds the laws of its causes.
func (r *fitting) learn() (*learn.Line, error) {
	// Of a log of 100,000 rows stay 40 MB, and much garbage falls: 110 MB at most instead of 260.
	defer debug.SetGCPercent(debug.SetGCPercent(100))
	t, sum, err := r.table(r.cmd, r.path)
	if err != nil {
		return nil, err
	}
	r.sum = sum
	log, err := records.Read(t, r.reading)
	if err != nil {
		return nil, err
	}
	if r.produced, err = r.made(r.cmd, log, r.reading); err != nil {
		return nil, err
	}
	if err := r.o.willDraw(r.cmd, logPictures(log)); err != nil {
		return nil, err
	}
	l, err := learn.Of(log, r.learning)
	if err != nil {
		return nil, fmt.Errorf("rollchange fit: %w", err)
	}
	return l, nil
}

// answer writes a whole scenario, a piece of one, or what was found.
func (r *fitting) answer(l *learn.Line) error {
	text := ""
	switch {
	case r.scenario != nil:
		var err error
		if text, err = r.whole(r.cmd, r.scenario, l, r.produced); err != nil {
			return err
		}
	case strings.HasSuffix(r.o.output, ".toml"):
		text = learn.Fragment(l, words.LogComments{}, r.metresPerSecond)
	}
	return r.o.write(r.cmd, func(w io.Writer) error {
		if text != "" {
			_, err := io.WriteString(w, text)
			return err
		}
		if r.o.json {
			return machine.FitJSON(w, version, l)
		}
		return table.Fit(w, l, r.o.screen(r.cmd))
	})
}

// table reads a file as a table, with the SHA-256 of its bytes.
func (x *fitFlags) table(cmd *cobra.Command, path string) (t *cells.Table, sum string, err error) {
	name, shown := path, legible.Visible(path)
	var data []byte
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
		return nil, "", fmt.Errorf("rollchange fit: %s: no such file", shown)
	case err != nil:
		return nil, "", fmt.Errorf("rollchange fit: %s: cannot be read", shown)
	case len(data) > cells.MostBytes:
		return nil, "", fmt.Errorf("rollchange fit: %s: has more than %d MB", shown, cells.MostBytes>>20)
	}
	if sheets.Is(data) {
		t, err = sheets.Read(name, data, x.sheet)
	} else if t, err = cells.Read(name, data); err == nil && x.sheet != "" {
		return nil, "", fmt.Errorf("rollchange fit: --sheet: %s is not a workbook", shown)
	}
	if err != nil {
		return nil, "", fmt.Errorf("rollchange fit: %s: %w", shown, err)
	}
	bytes := sha256.Sum256(data)
	return t, hex.EncodeToString(bytes[:]), nil
}
