package main

import (
	"fmt"

	"github.com/spf13/cobra"
)

const start = `rollchange compares ways to change rolls on a roll-to-roll line.
  rollchange new line.toml         write a commented scenario to start from
  rollchange check line.toml       check it, and show what is known before any simulation
  rollchange run line.toml         what the line makes, and where hours and web go
  rollchange compare line.toml     the alternatives side by side        (rollchange help: all commands)
`

func newRoot() *cobra.Command {
	root := &cobra.Command{
		Use:   "rollchange",
		Short: "Compare manual and automatic roll changes on a roll-to-roll line",
		Long: `rollchange reads a TOML description of a roll-to-roll line and of the ways to
change its rolls, simulates each, and reports output, stops, waste and the risk
that the storage runs out during a splice, with confidence limits.

The answer goes to standard output; progress, warnings and cautions go to
standard error. Exit status: 0 answered, 1 a stated target is not met, 2 bad
use or input, 130 interrupted.`,
		Args:          cobra.ArbitraryArgs, // knownCommand has looked at them
		SilenceErrors: true,
		SilenceUsage:  true,
		RunE: func(cmd *cobra.Command, _ []string) error {
			fmt.Fprint(cmd.OutOrStdout(), start)
			return nil
		},
	}
	root.SetFlagErrorFunc(flagError)
	root.AddCommand(newNew(), newCheck(), newRun(), newCompare(), newPlan(), newSweep(), newSize(), newSensitivity(), newMerge(), newPayback(), newFit(), newReport(), newLive(), newPlot(), newTrace(), newKeys(), newVersion())
	completeAll(root)
	return root
}

// oneFile asks for exactly one scenario file.
func oneFile(cmd *cobra.Command, args []string) error {
	if len(args) != 1 {
		return fmt.Errorf("rollchange %s: give one scenario file, or - for standard input; got %d", cmd.Name(), len(args))
	}
	return nil
}
