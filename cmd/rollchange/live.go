package main

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"rollchange/model/legible"
	"rollchange/out/live"
	"rollchange/out/report"
	"rollchange/scenarios"
	"rollchange/sim/metric"
	"rollchange/sim/whatif"
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
in a browser, also offline and from an e-mail, and answers at once when a slider is moved:
first roughly, then with the figures of compare and payback of the same seed. It loads
nothing and sends nothing.

What can be moved is named by --vary, by [[live]] in the scenario, or else found: the
inputs that move the answer most. Prices can always be moved.

Without FILE the page is a tool of its own: open a scenario in it or choose one that
comes with the tool, see errors at their lines, look up keys, and save the scenario.`,
		Example: "  rollchange live line.toml -o line.html\n  rollchange live line.toml -o line.html --vary \"line.speed=100 m/min..250 m/min\" --vary \"unwind.dwell=3 s..15 s\"\n  rollchange live -o tool.html",
		Args: func(_ *cobra.Command, args []string) error {
			if len(args) > 1 {
				return fmt.Errorf("rollchange live: give one scenario file, - for standard input, or none; got %d", len(args))
			}
			return nil
		},
		RunE: func(cmd *cobra.Command, args []string) error { return o.run(cmd, args) },
	}
	f := cmd.Flags()
	f.StringArrayVar(&o.vary, "vary", nil, "what can be moved, KEY=FROM..TO, or KEY; repeat for more")
	f.BoolVar(&o.anywhere, "read-anywhere", false, "let the scenario read data files outside its own folder")
	f.StringVarP(&o.output, "output", "o", "", "write the page to this file, whole or not at all (required)")
	o.addWork(cmd)
	return cmd
}

// check names what is wrong with the flags, before any work.
func (o *liveOptions) check(args []string) error {
	var errs []error
	if o.output == "" {
		errs = append(errs, errors.New("rollchange live: name the page: -o NAME.html"))
	} else if err := checkPageName("rollchange live: --output", o.output); err != nil {
		errs = append(errs, err)
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
	if len(args) == 0 {
		if err := writes(cmd, o.output, "--output"); err != nil {
			return err
		}
		return o.page(cmd, p)
	}
	s, err := o.load(cmd, args[0])
	if err != nil {
		return err
	}
	for _, v := range o.vary {
		if _, err := s.ParseMovers(v); err != nil {
			return fmt.Errorf("rollchange live: --vary: %w", err)
		}
	}
	if p.Name = filepath.Base(s.Name); args[0] == "-" {
		p.Name = "line.toml"
	}
	p.Text, p.Title = string(s.Text), s.Study.Title
	if p.Files, err = held(s); err != nil {
		return err
	}
	if len(p.Vary) == 0 && len(s.Study.Live) == 0 {
		if p.Vary, err = o.found(cmd, s); err != nil {
			return err
		}
	}
	return o.page(cmd, p)
}

func (o *liveOptions) page(cmd *cobra.Command, p live.Page) error {
	return save(cmd, o.output, func(w io.Writer) error { return live.Write(w, p) })
}

// held are the data files of a scenario, which the page holds too.
func held(s *scenarios.Scenario) (map[string][]byte, error) {
	files := map[string][]byte{}
	for _, f := range s.Files() {
		data, err := os.ReadFile(f.Path)
		switch {
		case err != nil:
			return nil, fmt.Errorf("rollchange live: %s: cannot be read", legible.Visible(f.Name))
		case bytes.HasPrefix(data, []byte("PK\x03\x04")):
			return nil, fmt.Errorf("rollchange live: %s: is a workbook, which a page cannot read: save its sheet as CSV", legible.Visible(f.Name))
		}
		files[f.Name] = data
	}
	return files, nil
}

// mostFound is how many inputs are found that can be moved.
const mostFound = 8

// found are the inputs of the line that move the answer most, in a few replications: the
// net present value of the alternative that is told of, else its good web.
func (o *liveOptions) found(cmd *cobra.Command, s *scenarios.Scenario) ([]string, error) {
	few, err := fewer(s, mostMoved)
	if err != nil {
		return nil, err
	}
	c, err := o.gather(cmd, few, report.NeedResults|report.NeedCases, "")
	if err != nil {
		return nil, err
	}
	looked, metrics := whatif.Only(few, c.Answer), []string{metric.GoodRate}
	if c.Answer < len(c.Cases) && c.Cases[c.Answer] != nil {
		looked, metrics = whatif.Pair(few, c.Answer), []string{"npv", metric.GoodRate}
	}
	bar := newProgress(cmd.ErrOrStderr(), "inputs moved", 0)
	defer bar.Done()
	moved, err := whatif.Sensitivity(cmd.Context(), looked, whatif.SensitivityQuestion{Metrics: metrics, Share: movedBy, Most: mostFound}, whatif.Options{Workers: o.workers, Progress: bar.Show})
	if err != nil {
		return nil, asError(cmd, err)
	}
	var list []string
	for rank := range mostFound { // by turns the largest of each metric
		for _, m := range metrics {
			if swings := moved.Swings[m]; rank < len(swings) && swings[rank].Size() > 0 && !strings.HasPrefix(swings[rank].Key, "economics.") {
				list = append(list, varyTexts(s, swings[rank].Key, list)...)
			}
		}
	}
	return list[:min(len(list), mostFound)], nil
}

// varyTexts are the movers of a key as --vary takes them, without those of a list.
func varyTexts(s *scenarios.Scenario, key string, but []string) []string {
	movers, _ := s.ParseMovers(key) // what cannot be moved as a whole is left out
	var list []string
	for _, m := range movers {
		if text := fmt.Sprintf("%s=%s..%s", m.Key, m.TextOf(m.From), m.TextOf(m.To)); !slices.Contains(but, text) {
			list = append(list, text)
		}
	}
	return list
}
