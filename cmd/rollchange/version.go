package main

import (
	"fmt"
	"runtime/debug"

	"github.com/spf13/cobra"
)

// version is the version of the tool and of its results: the same version,
// scenario and seed give the same bytes.
const version = "0.1.0"

func newVersion() *cobra.Command {
	return &cobra.Command{
		Use:   "version",
		Short: "Print the version",
		Args:  cobra.NoArgs,
		RunE: func(cmd *cobra.Command, _ []string) error {
			built := ""
			if info, ok := debug.ReadBuildInfo(); ok {
				built = ", " + info.GoVersion
			}
			_, err := fmt.Fprintf(cmd.OutOrStdout(), "rollchange %s%s\n", version, built)
			return err
		},
	}
}
