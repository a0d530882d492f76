package main

import (
	"encoding/json"
	"fmt"
	"io"
	"runtime"
	"strings"

	"github.com/spf13/cobra"

	"rollchange/model/legible"
	"rollchange/out/machine"
	"rollchange/out/words"
	"rollchange/sim/parts"
	"rollchange/sim/whatif"
)

func newMerge() *cobra.Command {
	var o options
	cmd := &cobra.Command{
		Use:   "merge PART...",
		Short: "Join the part files of a split run or sweep",
		Long: `Merge joins the files that run --part or sweep --part wrote, on any number of
machines, and prints the result as JSON: the same bytes as the unsplit command with
--json. Parts that are missing, doubled, cut off or from another scenario, version
or seed are named and refused.`,
		Example: "  rollchange merge part-*.jsonl -o result.json",
		Args: func(cmd *cobra.Command, args []string) error {
			if len(args) == 0 {
				return fmt.Errorf("rollchange merge: give the part files")
			}
			return nil
		},
		RunE: func(cmd *cobra.Command, args []string) error { return o.merge(cmd, expanded(runtime.GOOS, args)) },
	}
	cmd.Flags().StringVarP(&o.output, "output", "o", "", "write the result to this file, whole or not at all")
	return cmd
}

// merge joins parts and writes what they are of.
func (o *options) merge(cmd *cobra.Command, files []string) error {
	if err := o.opens(cmd, files); err != nil {
		return err
	}
	h, units, err := parts.Join(files)
	if err != nil {
		return fmt.Errorf("rollchange merge: %s", strings.ReplaceAll(err.Error(), "\n", "\nrollchange merge: "))
	}
	first := legible.Visible(files[0])
	var d partDetails
	if err := json.Unmarshal(h.Details, &d); err != nil {
		return fmt.Errorf("rollchange merge: %s: its header cannot be read", first)
	}
	a := words.About{Version: h.Version, Title: h.Title, File: h.File, SHA256: h.SHA256, Year: d.Year, Set: d.Set}
	switch h.Command {
	case "run":
		rs, err := gathered(h.Run, d.Outlines, units)
		if err != nil {
			return err
		}
		return o.write(cmd, func(w io.Writer) error { return machine.RunJSON(w, a, rs, 0, d.Recorded) })
	case "sweep":
		s, err := mergedSweep(cmd, first, d, units)
		if err != nil {
			return err
		}
		return o.write(cmd, func(w io.Writer) error { return machine.SweepJSON(w, a, h.Run, s) })
	}
	return fmt.Errorf("rollchange merge: %s: is part of %s, which cannot be joined", first, legible.Quote(h.Command))
}

// opens names the files that are read and the one that is written.
func (o *options) opens(cmd *cobra.Command, files []string) error {
	for _, part := range files {
		if err := reads(cmd, part, "a part"); err != nil {
			return err
		}
	}
	if o.output != "" {
		return writes(cmd, o.output, "--output")
	}
	if err := filesOf(cmd).Answers(); err != nil {
		return named(err)
	}
	return nil
}

// mergedSweep is a sweep with the points of all parts, of which the first names what is wrong.
func mergedSweep(cmd *cobra.Command, first string, d partDetails, units []parts.Unit) (*whatif.Sweep, error) {
	s, err := whatif.ReadSweep(d.Sweep)
	if err != nil {
		return nil, fmt.Errorf("rollchange merge: %s: its header cannot be read: %w", first, err)
	}
	if len(s.Points) != len(units) {
		return nil, fmt.Errorf("rollchange merge: %s: says %d points and has %d", first, len(units), len(s.Points))
	}
	return s, takePoints(cmd, s, units)
}
