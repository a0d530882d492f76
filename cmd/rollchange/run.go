package main

import (
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"io"
	"strings"

	"github.com/spf13/cobra"

	"rollchange/model"
	"rollchange/out/machine"
	"rollchange/out/table"
	"rollchange/out/words"
	"rollchange/scenarios"
	"rollchange/scenarios/observed"
	"rollchange/sim/match"
	"rollchange/sim/replicate"
)

func newRun() *cobra.Command {
	var o options
	cmd := &cobra.Command{
		Use:   "run FILE",
		Short: "Run one alternative: what it makes, where its hours and its web go",
		Long: `Run simulates one alternative, the first of the scenario unless --alternative
names another, and prints one table: what the line makes, where the hours go,
where the web goes, what the roll changes do, what the crew does. Every figure
comes with the half width of its confidence interval.`,
		Example: "  rollchange run line.toml\n  rollchange run line.toml --alternative \"automatic\" --replications 50\n  rollchange run line.toml --json -o result.json",
		Args:    oneFile,
		RunE: func(cmd *cobra.Command, args []string) error {
			s, err := o.load(cmd, args[0])
			if err != nil {
				return err
			}
			if n := len(s.Study.Alternatives); n > 1 {
				first := s.Study.Alternatives[0].Name
				fmt.Fprintf(cmd.ErrOrStderr(), "%q, the first of %d alternatives; --alternative NAME runs another, compare runs all\n", first, n)
				s.Study.Alternatives = s.Study.Alternatives[:1]
			}
			var recorded *match.Answer
			if !o.csv || o.part != "" || o.resume != "" { // CSV has no place for it, the parts of a run keep it
				if recorded, err = o.matched(cmd, s); err != nil {
					return err
				}
			}
			return o.answer(cmd, s, func(w io.Writer, rs *replicate.Results) error {
				switch {
				case o.json:
					return machine.RunJSON(w, about(s), rs, 0, recorded)
				case o.csv:
					return machine.RunCSV(w, rs, 0)
				}
				if err := table.Run(w, about(s), rs, 0, s.Study.Units, o.screen(cmd)); err != nil || recorded == nil {
					return err
				}
				return table.Match(w, recorded, s.Study.Units, o.screen(cmd))
			})
		},
	}
	o.addRun(cmd)
	o.addRecords(cmd)
	o.addPrecision(cmd)
	o.addParts(cmd)
	o.alonePrecision(cmd)
	return cmd
}

// answer simulates the study of a scenario, warns of what should be known,
// writes the answer and draws the pictures that were asked for.
func (o *options) answer(cmd *cobra.Command, s *scenarios.Scenario, write func(io.Writer, *replicate.Results) error) error {
	if err := o.willDraw(cmd, resultPictures(&s.Study)); err != nil {
		return err
	}
	if _, err := o.recordsOf(&s.Study); err != nil { // before any work
		return err
	}
	cautions(cmd.ErrOrStderr(), s, false)
	var rs *replicate.Results
	var err error
	if o.part != "" || o.resume != "" {
		rs, err = o.runInParts(cmd, s)
	} else {
		rs, err = o.simulate(cmd, &s.Study)
	}
	if err == nil {
		err = o.leaveOpen(cmd, &s.Study, rs)
	}
	if err != nil || rs == nil {
		return err
	}
	if o.plots != "" {
		if err := o.savePictures(cmd, drawResults(s, rs)); err != nil {
			return err
		}
	}
	if err := o.write(cmd, func(w io.Writer) error { return write(w, rs) }); err != nil {
		return err
	}
	if o.notMet {
		return errNotMet
	}
	return o.finish(cmd)
}

// about says what made the results of a scenario; a hash in hex stands for its text.
func about(s *scenarios.Scenario) words.About {
	sum := sha256.Sum256(s.Text)
	records := s.Study.Run.Records != model.RecordsNone && observed.Of(&s.Study).Said()
	return words.About{Records: records, Version: version, Title: s.Study.Title, File: strings.ToValidUTF8(s.Name, "\ufffd"), SHA256: hex.EncodeToString(sum[:]),
		Year: s.Study.Alternatives[0].Line.Economics.HoursPerYear.Mean(), Set: s.Set()}
}
