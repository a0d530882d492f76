package main

import (
	"fmt"
	"strings"

	"github.com/spf13/cobra"

	"rollchange/out/picture"
	"rollchange/out/report"
)

func newPlot() *cobra.Command {
	var o options
	var width, height string
	var list strings.Builder
	for _, k := range report.Kinds() {
		fmt.Fprintf(&list, "  %-12s %s\n", k.Name, k.Means)
	}
	cmd := &cobra.Command{
		Use:   "plot KIND FILE",
		Short: "Draw one picture of the report, as SVG, PNG or PDF",
		Long: `Plot draws one picture of the report of a scenario; the file name ending sets the
format. Kinds:
` + list.String() + `
A picture of one alternative shows the one that is recommended, or makes most;
--alternative names another. --width and --height scale the picture in proportion.`,
		Example: "  rollchange plot hours line.toml -o hours.svg\n  rollchange plot cash line.toml -o cash.pdf --width \"160 mm\"\n  rollchange plot cycle line.toml -o cycle.png --width \"1600 px\" --alternative \"automatic unwind\"",
		Args: func(cmd *cobra.Command, args []string) error {
			if len(args) != 2 {
				return fmt.Errorf("rollchange plot: give a kind of picture and one scenario file; got %d words. Kinds: %s", len(args), kindNames())
			}
			return nil
		},
		RunE: func(cmd *cobra.Command, args []string) error {
			var kind *report.Kind
			for _, k := range report.Kinds() {
				if k.Name == args[0] {
					kind = &k
				}
			}
			if kind == nil {
				return fmt.Errorf("rollchange plot: no picture %q; choose from %s", args[0], kindNames())
			}
			if o.output == "" {
				return fmt.Errorf("rollchange plot: name the picture: -o NAME.svg, .png or .pdf")
			}
			if err := picture.CheckName(o.output); err != nil {
				return fmt.Errorf("rollchange plot: --output: %w", err)
			}
			for i, x := range []string{width, height} {
				if x == "" {
					continue
				}
				if _, err := picture.ParseSize(x); err != nil {
					return fmt.Errorf("rollchange plot: --%s: %w", []string{"width", "height"}[i], err)
				}
			}
			name := o.alternative
			s, err := o.loadAll(cmd, args[1])
			if err != nil {
				return err
			}
			c, err := o.gather(cmd, s, kind.Needs, name)
			if err != nil {
				return err
			}
			p, err := c.Picture(kind.Name)
			if err != nil {
				return fmt.Errorf("rollchange plot: %s: %w", kind.Name, err)
			}
			if p, err = picture.Sized(p, width, height); err != nil {
				return fmt.Errorf("rollchange plot: %w", err)
			}
			return asError(cmd, p.Save(filesOf(cmd), o.output))
		},
	}
	o.addScenario(cmd)
	o.addSimulation(cmd)
	o.addBase(cmd)
	o.addTarget(cmd)
	f := cmd.Flags()
	f.Lookup("output").Usage = "write the picture to this file, whole or not at all (required)"
	f.Lookup("alternative").Usage = "the alternative to show, where the picture shows one"
	f.StringVar(&width, "width", "", `width of the picture: "160 mm", "6.3 in", "800 px"`)
	f.StringVar(&height, "height", "", "height of the picture, like --width")
	return cmd
}

func kindNames() string {
	var names []string
	for _, k := range report.Kinds() {
		names = append(names, k.Name)
	}
	return strings.Join(names, ", ")
}
