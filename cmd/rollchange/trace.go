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

func newTrace() *cobra.Command {
	var o options
	var from, to, near, plot string
	var replication, line int
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
		RunE: func(cmd *cobra.Command, args []string) error {
			s, err := o.load(cmd, args[0])
			if err != nil {
				return err
			}
			if plot != "" {
				if err := picture.CheckName(plot); err != nil {
					return fmt.Errorf("rollchange trace: --plot: %w", err)
				}
				if err := writes(cmd, plot, "--plot"); err != nil {
					return err
				}
			}
			if replication < 1 {
				return fmt.Errorf("rollchange trace: --replication: %d; the first is 1", replication)
			}
			a := &s.Study.Alternatives[0]
			if n := max(1, a.Line.Crew.Lines); line < 0 || line > n {
				return fmt.Errorf("rollchange trace: --line: %d; %q has lines 1 to %d", line, a.Name, n)
			}
			begin, end, err := window(cmd, from, to, near, s.Study.Run.Horizon)
			if err != nil {
				return err
			}
			stop := end
			if near != "" {
				stop = s.Study.Run.Horizon
			}
			var records []sim.Record
			v := &vicinity{wanted: around[near], from: begin, drawn: max(0, line-1)}
			keep := func(r *sim.Record) {
				switch {
				case line > 0 && r.Line != line-1:
				case near != "":
					v.see(r)
				case r.Time >= begin && r.Time <= end:
					records = append(records, *r)
				}
			}
			if err := sim.Trace(cmd.Context(), &a.Line, s.Study.Run, replication-1, stop, keep); err != nil {
				return fmt.Errorf("rollchange trace: %w", err)
			}
			if near != "" {
				records = v.records
			}
			if near != "" && !v.found {
				return fmt.Errorf("rollchange trace: no %s in replication %d of %q within the horizon; try another --replication or a longer --horizon", near, replication, a.Name)
			}
			if plot != "" {
				p, err := picture.Trace(records, v.drawn, &a.Line, s.Study.Units)
				if err != nil {
					return fmt.Errorf("rollchange trace: --plot: %w", err)
				}
				if err := p.Save(filesOf(cmd), plot); err != nil {
					return asError(cmd, err)
				}
			}
			return o.write(cmd, func(w io.Writer) error {
				if o.csv {
					return machine.TraceCSV(w, records)
				}
				if err := o.screen(cmd).Set(w, about(s)); err != nil {
					return err
				}
				return table.Trace(w, records, s.Study.Units, o.screen(cmd))
			})
		},
	}
	o.addScenario(cmd)
	f := cmd.Flags()
	f.BoolVar(&o.csv, "csv", false, "print CSV in SI units")
	f.StringVar(&from, "from", "", `start of the log, e.g. "90 min"`)
	f.StringVar(&to, "to", "", `end of the log; default one hour after its start`)
	f.StringVar(&near, "around", "", "the first "+strings.Join(sortedNames(around), ", ")+" after --from")
	f.StringVar(&plot, "plot", "", "draw the same period into this SVG or PNG file")
	f.IntVar(&line, "line", 0, "of several lines only this one, counted from 1; the picture shows one")
	f.IntVar(&replication, "replication", 1, "which replication, counted from 1")
	return cmd
}

// window is the time that the log covers, s.
func window(cmd *cobra.Command, from, to, near string, horizon float64) (begin, end float64, err error) {
	if near != "" && around[near] == nil {
		return 0, 0, fmt.Errorf("rollchange trace: --around %q is not one of %s", near, strings.Join(sortedNames(around), ", "))
	}
	if near != "" && to != "" {
		return 0, 0, fmt.Errorf("rollchange trace: give --around or --to, not both")
	}
	if from != "" {
		if begin, err = model.ParseQuantity(from, model.Time); err != nil {
			return 0, 0, fmt.Errorf("rollchange trace: --from: %w", err)
		}
	}
	end = min(horizon, begin+3600)
	if to != "" {
		if end, err = model.ParseQuantity(to, model.Time); err != nil {
			return 0, 0, fmt.Errorf("rollchange trace: --to: %w", err)
		}
	}
	if begin < 0 || end <= begin || begin >= horizon {
		return 0, 0, fmt.Errorf("rollchange trace: --from must be before --to and before the horizon")
	}
	return begin, min(end, horizon), nil
}
