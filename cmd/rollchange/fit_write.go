package main

import (
	"errors"
	"fmt"
	"strings"

	"github.com/spf13/cobra"

	"rollchange/model/legible"
	"rollchange/scenarios"
	"rollchange/scenarios/learn"
	"rollchange/scenarios/records"
)

// fits says which flags do not go together.
func (x *fitFlags) fits(o *options, l *learn.Options) error {
	var wrong []error
	bad := func(flag, what string) { wrong = append(wrong, fmt.Errorf("rollchange fit: --%s: %s", flag, what)) }
	toml := strings.HasSuffix(o.output, ".toml")
	switch {
	case x.into != "" && !toml:
		bad("into", "say where the new scenario goes: -o NEW.toml")
	case x.production != "" && x.into == "":
		bad("production", "it goes into a scenario with the laws: --into SCENARIO")
	case x.into != "" && x.speed != "":
		bad("speed", "--into takes the speed of the scenario")
	}
	if toml && o.json {
		bad("json", "-o of a name that ends in .toml writes a scenario")
	}
	for _, to := range l.Is {
		if to == learn.WebBreak && toml && x.into == "" && x.speed == "" {
			bad("map", "web_breaks.mean_length is known with the speed only: --speed, or --into a scenario")
		}
	}
	return errors.Join(wrong...)
}

// whole is a scenario with the laws of the log in it.
func (x *fitFlags) whole(cmd *cobra.Command, s *scenarios.Scenario, l *learn.Line, made *records.Production) (string, error) {
	text, err := x.waited(cmd, s, l, learn.How{Work: x.recorded == "work", Made: made})
	if err != nil {
		return "", err
	}
	if !strings.Contains(text, "[records]") {
		fmt.Fprintf(cmd.ErrOrStderr(), "what the line made is not written as [records]: the log is of %d lines, the scenario of %d\n", max(1, len(l.Log.Lines)), max(1, s.Study.Alternatives[0].Line.Crew.Lines))
	}
	for _, name := range learn.Kept(s, l) {
		fmt.Fprintf(cmd.ErrOrStderr(), "the stop %s is not in the log and stays as it was\n", legible.Quote(name))
	}
	return text, nil
}

// targets reads what causes are and which are one. A key has one law, so further causes
// that are the same key are other ways to write the first.
func (x *fitFlags) targets(r *records.Options, l *learn.Options, bad func(flag string, err error)) {
	l.Is, r.Same = map[string]learn.Target{}, map[string]string{}
	first := map[learn.Target]string{}
	for _, text := range x.is {
		cause, to, err := learn.ParseMap(text)
		if err != nil {
			bad("map", err)
			continue
		}
		name, known := first[to]
		switch {
		case to == learn.NotAStop:
			r.Ignore = append(r.Ignore, cause)
		case to == learn.Stop:
			l.Is[cause] = to
		case known && name != cause:
			r.Same[cause] = name
		default:
			first[to], l.Is[cause] = cause, to
		}
	}
	for _, text := range x.same {
		from, to, ok := strings.Cut(text, "=")
		if from, to = strings.TrimSpace(from), strings.TrimSpace(to); !ok || from == "" || to == "" {
			bad("same", fmt.Errorf("%s: write TEXT=CAUSE, as in \"knive jam=Knife jam\"", legible.Quote(text)))
			continue
		}
		r.Same[from] = to
	}
}
