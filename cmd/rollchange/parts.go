package main

import (
	"crypto/sha256"
	"encoding/gob"
	"encoding/hex"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"strings"

	"github.com/spf13/cobra"

	"rollchange/model"
	"rollchange/model/legible"
	"rollchange/scenarios"
	"rollchange/sim"
	"rollchange/sim/match"
	"rollchange/sim/parts"
	"rollchange/sim/replicate"
)

// addParts adds the flags of work that can be split and taken up again.
func (o *options) addParts(cmd *cobra.Command) {
	f := cmd.Flags()
	f.StringVar(&o.part, "part", "", "do only part K of N and write it as a part file for merge")
	f.StringVar(&o.resume, "resume", "", "keep finished work in this file, and continue from it if it exists")
	for _, other := range []string{"json", "csv", "plots"} {
		cmd.MarkFlagsMutuallyExclusive("part", other)
	}
}

// identity is the hash of what is simulated, with what files it was read from.
func identity(study *model.Study) (string, error) {
	h := sha256.New()
	err := gob.NewEncoder(h).Encode(study.Alternatives)
	return hex.EncodeToString(h.Sum(nil)), err
}

// partDetails is what a part file tells of its command beyond the header.
type partDetails struct {
	Study    string              `json:"study"` // hash of the lines as they were read
	Year     float64             `json:"year_s"`
	Set      [][2]string         `json:"set,omitempty"`      // on the command line
	Outlines []replicate.Outline `json:"outlines,omitempty"` // of a run
	Sweep    json.RawMessage     `json:"sweep,omitempty"`    // axes and limits of a sweep
	Recorded *match.Answer       `json:"recorded,omitempty"` // of a run: what the line really made beside the model
}

// newHeader begins the header of the parts of a command.
func (o *options) newHeader(s *scenarios.Scenario, command string, run replicate.RunInfo, units int, d partDetails) (parts.Header, error) {
	a := about(s)
	study, err := identity(&s.Study)
	if err != nil {
		return parts.Header{}, err
	}
	d.Study, d.Year, d.Set = study, a.Year, a.Set
	text, err := json.Marshal(d)
	if err != nil {
		return parts.Header{}, err
	}
	h := parts.Header{Format: parts.Format, Version: a.Version, Command: command, Title: a.Title, File: a.File, SHA256: a.SHA256,
		Run: run, Units: units, Details: text, Part: 1, Of: 1}
	if o.part != "" {
		if h.Part, h.Of, err = parts.ParsePart(o.part); err != nil {
			return h, fmt.Errorf("rollchange: --part: %w", err)
		}
	}
	return h, nil
}

// work does the units of a part, those that a journal has not finished already,
// and returns all of them. do does the units from first to before end and hands
// over each as it is finished, in order.
func (o *options) work(cmd *cobra.Command, h parts.Header, do func(first, end int, keep func(unit int, data json.RawMessage) error) error) ([]parts.Unit, error) {
	first, end := h.Range()
	var units []parts.Unit
	var journal *parts.Journal
	if o.resume != "" {
		var err error
		if journal, err = parts.Open(o.resume, h); err != nil {
			return nil, fmt.Errorf("rollchange: --resume: %w", err)
		}
		defer journal.Close()
		filesOf(cmd).Keeps(o.resume)
		units = journal.Done
		if len(units) > 0 {
			fmt.Fprintf(cmd.ErrOrStderr(), "%s: %d of %d already done\n", legible.Visible(o.resume), len(units), end-first)
		}
	}
	err := do(first+len(units), end, func(unit int, data json.RawMessage) error {
		u := parts.Unit{Unit: unit, Data: data}
		units = append(units, u)
		if journal != nil {
			return journal.Add(u)
		}
		return nil
	})
	if err != nil {
		if cmd.Context().Err() != nil && journal != nil {
			fmt.Fprintf(cmd.ErrOrStderr(), "%d of %d done and kept in %s; the same command continues from there\n", len(units), end-first, legible.Visible(o.resume))
		}
		return nil, err
	}
	return units, nil
}

// finish takes the journal away when the answer is written.
func (o *options) finish(cmd *cobra.Command) error {
	if o.resume == "" {
		return nil
	}
	filesOf(cmd).Keeps("")
	// Another process that did the same part may have taken it away.
	if err := os.Remove(o.resume); err != nil && !errors.Is(err, fs.ErrNotExist) {
		return fmt.Errorf("rollchange: --resume: %s: cannot be removed", legible.Visible(o.resume))
	}
	return nil
}

// runInParts runs the replications of a study that --part or --resume ask for.
// Without --part it returns the results of the whole.
func (o *options) runInParts(cmd *cobra.Command, s *scenarios.Scenario) (*replicate.Results, error) {
	study := &s.Study
	run, err := replicate.Prepare(cmd.Context(), study)
	if err != nil {
		return nil, asError(cmd, err)
	}
	outlines := replicate.OutlinesOf(study)
	h, err := o.newHeader(s, "run", run, run.Replications, partDetails{Outlines: outlines, Recorded: o.recorded})
	if err != nil {
		return nil, err
	}
	first, end := h.Range()
	bar := newProgress(cmd.ErrOrStderr(), cmd.Name(), (end-first)*len(study.Alternatives))
	defer bar.Done()
	units, err := o.work(cmd, h, func(first, end int, keep func(int, json.RawMessage) error) error {
		return replicate.Each(cmd.Context(), study, run, first, end, replicate.Options{Workers: o.workers, Progress: bar.Set}, func(r int, x []*sim.Sample) error {
			data, err := json.Marshal(x)
			if err != nil {
				return err
			}
			return keep(r, data)
		})
	})
	if err != nil {
		return nil, asError(cmd, err)
	}
	if o.part != "" {
		if err := o.write(cmd, func(w io.Writer) error { return parts.Write(w, h, units) }); err != nil {
			return nil, err
		}
		return nil, o.finish(cmd)
	}
	return gathered(run, outlines, units)
}

// gathered makes results from the units of a whole run.
func gathered(run replicate.RunInfo, outlines []replicate.Outline, units []parts.Unit) (*replicate.Results, error) {
	g := replicate.NewGathering(run, outlines)
	for _, u := range units {
		var samples []*sim.Sample
		err := json.Unmarshal(u.Data, &samples)
		if err == nil {
			err = g.Add(samples)
		}
		if err != nil {
			return nil, fmt.Errorf("rollchange: replication %d cannot be read: %w", u.Unit+1, err)
		}
	}
	return g.Results(), nil
}

// asError puts the name of the tool before an error, but leaves an interrupt as it is.
func asError(cmd *cobra.Command, err error) error {
	if err == nil || cmd.Context().Err() != nil || errors.Is(err, errNotMet) {
		return err
	}
	if strings.HasPrefix(err.Error(), "rollchange") {
		return err
	}
	return fmt.Errorf("rollchange: %w", err)
}
