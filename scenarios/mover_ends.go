package scenarios

import (
	"errors"
	"fmt"
	"math"
	"sort"
	"strconv"
	"strings"

	"rollchange/model/portable"
)

// Between gives the mover the ends that a person gives, "100 m/min..250 m/min".
func (m *Mover) Between(text string) error {
	from, to, ok := strings.Cut(text, "..")
	if !ok {
		return fmt.Errorf("write KEY=FROM..TO, as in %s=%s..%s", m.Key, m.TextOf(m.From), m.TextOf(m.To))
	}
	var ends [2]float64
	for i, end := range []string{from, to} {
		if _, law := fromText(strings.TrimSpace(end)).(map[string]any); law {
			return errors.New("the ends are values, not distributions")
		}
		x, _, _, err := m.Read(end)
		if err != nil {
			if strings.Contains(err.Error(), strings.TrimSpace(end)) {
				return err
			}
			return fmt.Errorf("%s: %w", strings.TrimSpace(end), err)
		}
		ends[i] = x
	}
	if !(ends[0] < ends[1]) {
		return fmt.Errorf("the range runs backwards: %s is not below %s", strings.TrimSpace(from), strings.TrimSpace(to))
	}
	m.From, m.To = min(ends[0], m.Value), max(ends[1], m.Value) // the value may have been set
	if m.Step = niceStep(ends[1] - ends[0]); m.Whole {
		m.Step = max(1, math.Round(m.Step))
	}
	return nil
}

// near are the ends of a mover to which nobody gave any: half as much again either way,
// within the range of the key; of a share near all the fivefold of what it falls short.
func (m *Mover) near() {
	low, high := m.Unit.From(m.Row.limits()[0]), m.Unit.From(m.Row.limits()[1])
	reach := math.Abs(m.Value) / 2
	switch {
	case m.Whole:
		reach = max(3, math.Round(reach))
	case m.Unit.Name == "%" && m.Value > 90 && m.Value < 100:
		reach, high = 5*(100-m.Value), min(high, 100)
	case m.Unit.Name == "%":
		high = min(high, 100)
		if m.Value == 100 {
			reach = 10
		}
	}
	if reach == 0 { // what is none may become some: as much as is usual
		reach = m.Unit.From(m.Row.usual())
	}
	m.Step = niceStep(2 * reach)
	if m.Whole {
		m.Step = 1
	}
	steps := func(room float64) float64 { return m.Step * math.Floor(min(reach, room)/m.Step+1e-9) }
	m.From, m.To = rounded(m.Value-steps(m.Value-low), 12), rounded(m.Value+steps(high-m.Value), 12)
	if m.From <= low && m.Row.lowOpen {
		m.From = rounded(m.From+m.Step, 12)
	}
}

// allow draws the ends of a mover in to what the scenario takes with all else as it stands:
// above the top speed of an unwind, for one, a line speed is no possible line. There is
// always one end that differs from the value.
func (s *Scenario) allow(m *Mover) {
	takes := func(steps int) bool {
		list, err := m.Set(m.TextOf(rounded(m.Value+float64(steps)*m.Step, 12)))
		if err == nil {
			_, err = s.Again(list...)
		}
		return err == nil
	}
	within := func(sign int, end float64) float64 {
		n := int(math.Round(math.Abs(end-m.Value) / m.Step))
		if n == 0 || takes(sign*n) {
			return end
		}
		k := sort.Search(n, func(i int) bool { return !takes(sign * (i + 1)) })
		return rounded(m.Value+float64(sign*k)*m.Step, 12)
	}
	if from, to := within(-1, m.From), within(1, m.To); from < to {
		m.From, m.To = from, to
	}
}

// usual is a usual value of the key, SI.
func (k *Key) usual() float64 {
	if x, _, err := k.Read(unquoted(k.Dim.Example())); err == nil && x > 0 {
		return x
	}
	return 1
}

// niceStep is a step of 1, 2 or 5 that goes into a range 50 to 125 times.
func niceStep(span float64) float64 {
	place := portable.Pow(10, math.Floor(portable.Log10(span/50)))
	for _, n := range []float64{1, 2, 5} {
		if span/(n*place) <= 125 {
			return rounded(n*place, 3)
		}
	}
	return rounded(10*place, 3)
}

// rounded is a figure to so many digits.
func rounded(x float64, digits int) float64 {
	r, err := strconv.ParseFloat(strconv.FormatFloat(x, 'g', digits, 64), 64)
	if err != nil {
		return x
	}
	return r
}
