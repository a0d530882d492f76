package main

import (
	"fmt"
	"io"
	"strings"

	"github.com/spf13/cobra"

	"rollchange/model"
	"rollchange/out/machine"
	"rollchange/out/picture"
	"rollchange/out/table"
	"rollchange/sim"
)

// tracing is what trace is asked for.
type tracing struct {
	options
	from, to, near, plot string
	replication, line    int
}

func newTrace() *cobra.Command {
	var x tracing
	cmd := &cobra.Command{
		Use:   "trace FILE",
		Short: "Print the log of one replication: what happened, when and why",
		Long: `Trace runs one replication of one alternative (the first unless --alternative names
another) and prints its log: time, station, event, processed length, storage
contents, holds, operators. --around shows the first event of a kind, from two
minutes before to five after, or until the line runs steadily again, whichever is
later. --plot draws speeds, storage contents and events over the same time.`,
		Example: "  rollchange trace line.toml --to 2h\n  rollchange trace line.toml --around depletion --plot splice.svg\n  rollchange trace line.toml --from 1h --to 3h --csv -o log.csv",
		Args:    oneFile,
		RunE:    func(cmd *cobra.Command, args []string) error { return x.trace(cmd, args[0]) },
	}
	x.addScenario(cmd)
	f := cmd.Flags()
	f.BoolVar(&x.csv, "csv", false, "print CSV in SI units")
	f.StringVar(&x.from, "from", "", `start of the log, e.g. "90 min"`)
	f.StringVar(&x.to, "to", "", `end of the log; default one hour after its start`)
	f.StringVar(&x.near, "around", "", "the first "+strings.Join(sortedNames(around), ", ")+" after --from")
	f.StringVar(&x.plot, "plot", "", "draw the same period into this SVG or PNG file")
	f.IntVar(&x.line, "line", 0, "of several lines only this one, counted from 1; the picture shows one")
	f.IntVar(&x.replication, "replication", 1, "which replication, counted from 1")
	return cmd
}

// trace follows one replication and writes its log.
func (x *tracing) trace(cmd *cobra.Command, file string) error {
	s, err := x.load(cmd, file)
	if err != nil {
		return err
	}
	a := &s.Study.Alternatives[0]
	if err := x.checkFlags(cmd, a); err != nil {
		return err
	}
	records, drawn, err := x.follow(cmd, a, s.Study.Run)
	if err != nil {
		return err
	}
	if x.plot != "" {
		p, err := picture.Trace(records, drawn, &a.Line, s.Study.Units)
		if err != nil {
			return fmt.Errorf("rollchange trace: --plot: %w", err)
		}
		if err := p.Save(filesOf(cmd), x.plot); err != nil {
			return asError(cmd, err)
		}
	}
	return x.write(cmd, func(w io.Writer) error {
		if x.csv {
			return machine.TraceCSV(w, records)
		}
		if err := x.screen(cmd).Set(w, about(s)); err != nil {
			return err
		}
		return table.Trace(w, records, s.Study.Units, x.screen(cmd))
	})
}

// checkFlags says what is wrong with the flags.
func (x *tracing) checkFlags(cmd *cobra.Command, a *model.Alternative) error {
	if x.plot != "" {
		if err := picture.CheckName(x.plot); err != nil {
			return fmt.Errorf("rollchange trace: --plot: %w", err)
		}
		if err := writes(cmd, x.plot, "--plot"); err != nil {
			return err
		}
	}
	if x.replication < 1 {
		return fmt.Errorf("rollchange trace: --replication: %d; the first is 1", x.replication)
	}
	if n := max(1, a.Line.Crew.Lines); x.line < 0 || x.line > n {
		return fmt.Errorf("rollchange trace: --line: %d; %q has lines 1 to %d", x.line, a.Name, n)
	}
	return nil
}

// follow runs the replication: its records in the time that is asked for, and the number
// of the line that is drawn.
func (x *tracing) follow(cmd *cobra.Command, a *model.Alternative, run model.Run) (records []sim.Record, drawn int, err error) {
	begin, end, err := x.window(run.Horizon)
	if err != nil {
		return nil, 0, err
	}
	v := &vicinity{wanted: around[x.near], from: begin, drawn: max(0, x.line-1)}
	see := func(r *sim.Record) {
		if r.Time >= begin && r.Time <= end {
			records = append(records, *r)
		}
	}
	if x.near != "" {
		end, see = run.Horizon, v.see
	}
	keep := func(r *sim.Record) {
		if x.line == 0 || r.Line == x.line-1 {
			see(r)
		}
	}
	if err := sim.Trace(cmd.Context(), &a.Line, run, x.replication-1, end, keep); err != nil {
		return nil, 0, fmt.Errorf("rollchange trace: %w", err)
	}
	switch {
	case x.near == "":
		return records, v.drawn, nil
	case !v.found:
		return nil, 0, fmt.Errorf("rollchange trace: no %s in replication %d of %q within the horizon; try another --replication or a longer --horizon", x.near, x.replication, a.Name)
	}
	return v.records, v.drawn, nil
}

// window is the time that the log covers, s.
func (x *tracing) window(horizon float64) (begin, end float64, err error) {
	if x.near != "" && around[x.near] == nil {
		return 0, 0, fmt.Errorf("rollchange trace: --around %q is not one of %s", x.near, strings.Join(sortedNames(around), ", "))
	}
	if x.near != "" && x.to != "" {
		return 0, 0, fmt.Errorf("rollchange trace: give --around or --to, not both")
	}
	if x.from != "" {
		if begin, err = model.ParseQuantity(x.from, model.Time); err != nil {
			return 0, 0, fmt.Errorf("rollchange trace: --from: %w", err)
		}
	}
	end = min(horizon, begin+3600)
	if x.to != "" {
		if end, err = model.ParseQuantity(x.to, model.Time); err != nil {
			return 0, 0, fmt.Errorf("rollchange trace: --to: %w", err)
		}
	}
	if begin < 0 || end <= begin || begin >= horizon {
		return 0, 0, fmt.Errorf("rollchange trace: --from must be before --to and before the horizon")
	}
	return begin, min(end, horizon), nil
}
