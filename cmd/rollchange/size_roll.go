package main

import (
	"fmt"

	"github.com/spf13/cobra"

	"rollchange/model"
	"rollchange/scenarios"
	"rollchange/sim/whatif"
)

func newSizeRoll() *cobra.Command {
	var o sizeOptions
	var length string
	cmd := o.command("roll FILE", "The longest finished roll that the ridge of a seam allows, or the oscillation it needs",
		`Size roll finds the longest finished roll whose seam, wound on itself in every
wrap, stays within the ridge that [rewind.build] allows; with --length, the least
oscillation with which a roll of that length does. Both are closed forms; the
longest roll is simulated beside that of the scenario.`,
		"  rollchange size roll line.toml\n  rollchange size roll line.toml --length \"3000 m\"",
		func(cmd *cobra.Command, s *scenarios.Scenario, opt whatif.Options) ([]*whatif.Answer, error) {
			err := keepWith(cmd, s, func(l *model.Line) bool { return l.Rewind.Change != model.None && l.Rewind.Build.Given() }, "with a seam on its finished rolls (rewind.build)")
			if err != nil {
				return nil, err
			}
			q := whatif.RollQuestion{}
			if length != "" {
				if q.Length, err = model.ParseQuantity(length, model.Length); err != nil || q.Length <= 0 {
					return nil, fmt.Errorf("--length: %q: write a length above 0, as in \"3000 m\"", length)
				}
			}
			a, err := whatif.SizeRoll(cmd.Context(), s, q, opt)
			return []*whatif.Answer{a}, err
		})
	cmd.Flags().StringVar(&length, "length", "", "find the least oscillation for a finished roll of this length, as in \"3000 m\"")
	return cmd
}
