// Browser is a small program with the engine inside: it reads a scenario and writes
// its comparison as JSON, CSV and words, and the savings of each alternative. Its
// arguments are keys and their values, "run.seed=7". What it imports is what a page in a
// browser needs; tests hold how large that is, and that it comes to the same as here.
package main

import (
	"context"
	"fmt"
	"io"
	"os"
	"strings"

	"rollchange/out/machine"
	"rollchange/out/words"
	"rollchange/scenarios"
	"rollchange/sim/replicate"
	"rollchange/sim/savings"
)

func main() {
	if err := compare(os.Args[1:], os.Stdin, os.Stdout); err != nil {
		fmt.Fprintln(os.Stderr, err)
		os.Exit(2)
	}
}

func compare(args []string, r io.Reader, w io.Writer) error {
	text, err := io.ReadAll(r)
	if err != nil {
		return err
	}
	var set []scenarios.Override
	for _, a := range args {
		key, value, _ := strings.Cut(a, "=")
		set = append(set, scenarios.Override{Key: key, Value: value})
	}
	s, err := scenarios.Parse("line.toml", text, "", set...)
	if err != nil {
		return err
	}
	rs, err := replicate.Simulate(context.Background(), &s.Study, replicate.Options{})
	if err != nil {
		return err
	}
	opt := savings.Options{Draws: savings.DefaultDraws}
	cases := make([]*savings.Case, len(rs.Alternatives))
	for i := 1; i < len(cases); i++ {
		if c, err := savings.New(&s.Study, rs, i, opt); err == nil {
			cases[i] = c
		}
	}
	about := words.About{Title: s.Study.Title, File: "line.toml", Version: "browser"}
	if err := machine.CompareJSON(w, about, rs, savings.Rank(&s.Study, rs, cases, opt), cases); err != nil {
		return err
	}
	if err := machine.CompareCSV(w, rs); err != nil {
		return err
	}
	for _, c := range cases {
		if c == nil {
			continue
		}
		if err := machine.PaybackJSON(w, about, c); err != nil {
			return err
		}
		for _, line := range words.CaseSentences(c, s.Study.Units) {
			fmt.Fprintln(w, line)
		}
	}
	for _, line := range words.Sentences(rs, s.Study.Units) {
		fmt.Fprintln(w, line)
	}
	for _, row := range words.Compare(rs, s.Study.Units).ForPeople() {
		fmt.Fprintln(w, words.MetricLabel(row.Name), row.Shown.Name)
		for i := range row.Cells {
			fmt.Fprintln(w, " ", row.Text(i), row.Difference(i))
		}
	}
	return nil
}
