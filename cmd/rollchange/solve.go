package main

import (
	"errors"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"github.com/spf13/cobra"

	"rollchange/model/legible"
	"rollchange/scenarios"
	"rollchange/sim/savings"
)

// aim is a key whose break-even value is asked for; a key of the line has a
// range to look in.
type aim struct {
	key       string
	of        string  // the alternative that it is of; empty: all
	low, high float64 // in unit
	unit      string
}

// newAim reads "price", "economics.price" or "line.speed=100 m/min..200 m/min".
func newAim(text string) (aim, error) {
	given := scenarios.ParseSet(text)
	a, span := aim{key: given.Key}, given.Value
	if a.key == "" {
		if a.key = strings.TrimSpace(text); a.key == "" || a.key[0] == '=' {
			return a, fmt.Errorf("%q names no key", text)
		}
		return a, nil
	}
	from, to, ok := strings.Cut(span, "..")
	low, u1, err1 := amount(from)
	high, u2, err2 := amount(to)
	if !ok || err1 != nil || err2 != nil || !(low < high) || u1 != "" && u2 != "" && u1 != u2 {
		return a, fmt.Errorf("%q is not a range: write it as %s=LOW..HIGH, rising and in one unit, such as \"unwind.splice_success=80 %%..100 %%\"", text, legible.Visible(a.key))
	}
	if a.unit = u2; u2 == "" {
		a.unit = u1
	}
	a.low, a.high = low, high
	return a, nil
}

// amount splits "80 %" into its number and its unit.
func amount(s string) (float64, string, error) {
	s = strings.TrimSpace(s)
	end := strings.IndexFunc(s, func(r rune) bool { return !strings.ContainsRune("0123456789.+-eE", r) })
	if end < 0 {
		end = len(s)
	}
	x, err := strconv.ParseFloat(strings.TrimSpace(s[:end]), 64)
	return x, strings.TrimSpace(s[end:]), err
}

// solveAll finds the break-even values that were asked for.
func (o *paybackOptions) solveAll(cmd *cobra.Command, s *scenarios.Scenario, c *savings.Case, at int) ([]savings.Solution, error) {
	var list []savings.Solution
	target, err := parseTarget(o.target, c.Currency)
	if err != nil {
		return nil, fmt.Errorf("rollchange payback: --for: %w", err)
	}
	for _, text := range o.solve {
		a, err := newAim(text)
		if err != nil {
			return nil, err
		}
		x, err := o.solveOne(cmd, s, c, at, a, target)
		if err != nil {
			return nil, err
		}
		list = append(list, x)
	}
	return list, nil
}

// solveOne finds the break-even value of one key, as --set takes it.
func (o *paybackOptions) solveOne(cmd *cobra.Command, s *scenarios.Scenario, c *savings.Case, at int, a aim, target savings.Target) (savings.Solution, error) {
	x, err := c.Solve(a.key, target)
	if !errors.Is(err, savings.ErrNotMoney) {
		return x, err
	}
	shown := legible.Visible(a.key)
	if name := strings.TrimPrefix(a.key, "alternative[]."); slices.Contains(scenarios.OfAlternative(), name) {
		return x, fmt.Errorf("rollchange payback: --solve: %s is not a single amount; solve for investment or start_up_cost", shown)
	}
	path, of, err := s.PathOf(a.key)
	if err != nil {
		return x, fmt.Errorf("rollchange payback: --solve: %s: %w", shown, err)
	}
	if rest, ok := strings.CutPrefix(path, "alternative["); ok { // what it costs
		if of != s.Study.Alternatives[at].Name {
			return x, fmt.Errorf("rollchange payback: --solve: %s is not of the alternative that is solved for: give --alternative too", shown)
		}
		_, a.key, _ = strings.Cut(rest, "].")
		return o.solveOne(cmd, s, c, at, a, target)
	}
	a.key, a.of = path, of
	return o.solveLine(cmd, s, c, at, a, target)
}

// solveLine finds the break-even value of a key of the line, with a simulation
// for each value that is tried.
func (o *paybackOptions) solveLine(cmd *cobra.Command, s *scenarios.Scenario, c *savings.Case, at int, a aim, target savings.Target) (savings.Solution, error) {
	none := savings.Solution{}
	if a.low == a.high {
		return none, fmt.Errorf("rollchange payback: --solve: %s changes the line, so give the range to search: --solve \"%[1]s=LOW..HIGH\"", legible.Visible(a.key))
	}
	name := s.Study.Alternatives[at].Name
	try := func(x float64) (savings.Reached, error) {
		none := savings.Reached{}
		value := strings.TrimSpace(strconv.FormatFloat(x, 'g', 12, 64) + " " + a.unit)
		changed, err := s.Again(scenarios.Override{Key: a.key, Of: a.of, Value: value})
		if err != nil {
			return none, savings.LeftOut{Why: err}
		}
		if err := withFirst(&changed.Study, name); err != nil {
			return none, err
		}
		rs, err := o.simulate(cmd, &changed.Study)
		if err != nil {
			return none, err
		}
		reached, err := savings.ReachedOf(&changed.Study, rs, 1, o.savings(), target)
		if err != nil {
			return none, needs(err, s.Study.Units)
		}
		return reached, nil
	}
	const points = 5
	var grid []float64
	for i := range points {
		grid = append(grid, a.low+(a.high-a.low)*float64(i)/(points-1))
	}
	asked := savings.Solution{Target: target, Key: a.key, Of: s.NameOf(a.key), Unit: a.unit, Base: math.NaN()}
	if a.of != "" {
		asked.Key, asked.Of = "alternative["+a.of+"]."+a.key, ""
	}
	x, err := savings.SolveBy(asked, grid, try)
	if err != nil && cmd.Context().Err() == nil {
		return none, fmt.Errorf("rollchange payback: --solve: %w", err)
	}
	return x, err
}
