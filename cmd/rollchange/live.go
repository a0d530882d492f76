package main

import (
	"errors"
	"fmt"
	"io"
	"path/filepath"
	"strings"

	"github.com/spf13/cobra"

	"rollchange/model/legible"
	"rollchange/out/files"
	"rollchange/out/live"
)

// liveOptions are the flags of live.
type liveOptions struct {
	options
	vary []string
}

func newLive() *cobra.Command {
	var o liveOptions
	cmd := &cobra.Command{
		Use:   "live [FILE]",
		Short: "Write a page that answers on the spot: sliders, alternatives, prices",
		Long: `Live writes one HTML file that holds the scenario and the engine of this tool. It opens
in a browser, also offline and from a mail, and answers at once when a slider is moved:
first roughly, then with the figures of compare and payback of the same seed. It loads
nothing and sends nothing.

What can be moved is named by --vary, by [[live]] in the scenario, or else found: the
inputs that move the answer most. Prices can always be moved.

Without FILE the page is a tool of its own: scenarios are opened in it, or chosen from
those that the tool has, errors shown at their lines, keys looked up, and saved again.`,
		Example: "  rollchange live line.toml -o line.html\n  rollchange live line.toml -o line.html --vary \"line.speed=100 m/min..250 m/min\" --vary \"unwind.dwell=3 s..15 s\"\n  rollchange live -o tool.html",
		Args: func(_ *cobra.Command, args []string) error {
			if len(args) > 1 {
				return fmt.Errorf("rollchange live: give one scenario file, - for standard input, or none; got %d", len(args))
			}
			return nil
		},
		RunE: func(cmd *cobra.Command, args []string) error { return o.run(cmd, args) },
	}
	o.addScenario(cmd)
	f := cmd.Flags()
	f.Lookup("output").Usage = "write the page to this file, whole or not at all (required)"
	f.StringArrayVar(&o.vary, "vary", nil, "what can be moved, KEY=FROM..TO; repeat for others")
	return cmd
}

// check names what is wrong with the flags, before any work.
func (o *liveOptions) check(args []string) error {
	var errs []error
	if o.output == "" {
		errs = append(errs, errors.New("rollchange live: name the page: -o NAME.html"))
	} else if ext := strings.ToLower(filepath.Ext(o.output)); ext != ".html" && ext != ".htm" && !files.Straight(o.output) {
		errs = append(errs, fmt.Errorf("rollchange live: --output: the name of a page ends in .html: %s", legible.Quote(o.output)))
	}
	if len(args) == 0 && len(o.vary) > 0 {
		errs = append(errs, errors.New("rollchange live: --vary is for a scenario: give its FILE"))
	}
	return errors.Join(errs...)
}

func (o *liveOptions) run(cmd *cobra.Command, args []string) error {
	if err := o.check(args); err != nil {
		return err
	}
	p := live.Page{Version: version, Vary: o.vary}
	if len(args) == 1 {
		s, err := o.load(cmd, args[0])
		if err != nil {
			return err
		}
		for _, v := range o.vary {
			if _, err := s.ParseMovers(v); err != nil {
				return fmt.Errorf("rollchange live: --vary: %w", err)
			}
		}
		p.Name, p.Text, p.Title = filepath.Base(s.Name), string(s.Text), s.Study.Title
	}
	return save(cmd, o.output, func(w io.Writer) error { return live.Write(w, p) })
}
