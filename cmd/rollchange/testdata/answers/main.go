// The least program that reads a scenario, simulates its alternatives and answers in
// money, words and JSON: what a page of another make would need of the packages.
package main

import (
	"context"
	"fmt"
	"io"
	"os"

	"rollchange/out/machine"
	"rollchange/out/words"
	"rollchange/scenarios"
	"rollchange/sim/replicate"
	"rollchange/sim/savings"
)

func main() {
	if err := answer(os.Stdin, os.Stdout); err != nil {
		fmt.Fprintln(os.Stderr, err)
		os.Exit(1)
	}
}

func answer(from io.Reader, to io.Writer) error {
	text, err := io.ReadAll(from)
	if err != nil {
		return err
	}
	s, err := scenarios.Parse("-", text, "")
	if err != nil {
		return err
	}
	rs, err := replicate.Simulate(context.Background(), &s.Study, replicate.Options{})
	if err != nil {
		return err
	}
	opt := savings.Options{}
	cases, _ := savings.Cases(&s.Study, rs, opt)
	for _, c := range cases {
		if c == nil { // the base, or one without prices
			continue
		}
		for _, line := range words.CaseSentences(c, s.Study.Units) {
			fmt.Fprintln(to, line)
		}
	}
	return machine.CompareJSON(to, words.About{Title: s.Study.Title}, rs, savings.Rank(&s.Study, rs, cases, opt), cases)
}
