package main

import (
	"fmt"
	"strings"

	"github.com/spf13/cobra"

	"rollchange/out/picture"
	"rollchange/out/report"
)

// plotting is a picture that is asked for.
type plotting struct {
	options
	width, height string
}

func newPlot() *cobra.Command {
	var x plotting
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
		RunE: func(cmd *cobra.Command, args []string) error { return x.plot(cmd, args[0], args[1]) },
	}
	x.addScenario(cmd)
	x.addSimulation(cmd)
	x.addBase(cmd)
	x.addTarget(cmd)
	f := cmd.Flags()
	f.Lookup("output").Usage = "write the picture to this file, whole or not at all (required)"
	f.Lookup("alternative").Usage = "the alternative to show, where the picture shows one"
	f.StringVar(&x.width, "width", "", `width of the picture: "160 mm", "6.3 in", "800 px"`)
	f.StringVar(&x.height, "height", "", "height of the picture, like --width")
	return cmd
}

// plot draws the picture of a kind.
func (x *plotting) plot(cmd *cobra.Command, name, file string) error {
	kind, err := kindOf(name)
	if err != nil {
		return err
	}
	if err := x.check(); err != nil {
		return err
	}
	alternative := x.alternative
	s, err := x.loadAll(cmd, file)
	if err != nil {
		return err
	}
	c, err := x.gather(cmd, s, kind.Needs, alternative)
	if err != nil {
		return err
	}
	p, err := c.Picture(kind.Name)
	if err != nil {
		return fmt.Errorf("rollchange plot: %s: %w", kind.Name, err)
	}
	if p, err = picture.Sized(p, x.width, x.height); err != nil {
		return fmt.Errorf("rollchange plot: %w", err)
	}
	return asError(cmd, p.Save(filesOf(cmd), x.output))
}

// kindOf is the kind of picture of a name.
func kindOf(name string) (report.Kind, error) {
	for _, k := range report.Kinds() {
		if k.Name == name {
			return k, nil
		}
	}
	return report.Kind{}, fmt.Errorf("rollchange plot: no picture %q; choose from %s", name, kindNames())
}

// check says what is wrong with the file and the size, before any work.
func (x *plotting) check() error {
	if x.output == "" {
		return fmt.Errorf("rollchange plot: name the picture: -o NAME.svg, .png or .pdf")
	}
	if err := picture.CheckName(x.output); err != nil {
		return fmt.Errorf("rollchange plot: --output: %w", err)
	}
	for i, size := range []string{x.width, x.height} {
		if size == "" {
			continue
		}
		if _, err := picture.ParseSize(size); err != nil {
			return fmt.Errorf("rollchange plot: --%s: %w", []string{"width", "height"}[i], err)
		}
	}
	return nil
}

func kindNames() string {
	var names []string
	for _, k := range report.Kinds() {
		names = append(names, k.Name)
	}
	return strings.Join(names, ", ")
}
