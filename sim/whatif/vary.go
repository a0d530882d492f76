package whatif

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"rollchange/model"
	"rollchange/model/legible"
	"rollchange/model/portable"
	"rollchange/scenarios"
)

// mostValues is the most that one key may take in a sweep.
const mostValues = 1000

// ParseAxis reads what a key is varied over, "KEY=FROM..TO/STEPS" or
// "KEY=A,B,C", one value or more, with the units of the scenario file. With log the steps
// are equal ratios. The key is one as --set takes it, of all alternatives, that some
// alternative of the scenario uses.
func ParseAxis(s *scenarios.Scenario, spec string, log bool) (Axis, error) {
	given := scenarios.ParseSet(spec)
	a := Axis{Log: log}
	if given.Key == "" {
		return a, fmt.Errorf("%q: write KEY=FROM..TO/STEPS or KEY=A,B,C, as in line.speed=\"100 m/min..250 m/min/7\"", spec)
	}
	shown, values := legible.Visible(given.Key), given.Value
	bad := func(what string) error { return fmt.Errorf("%s: %s", shown, what) }
	key, of, err := s.PathOf(given.Key)
	if err != nil {
		return a, bad(err.Error())
	}
	k, err := scenarios.Numeric(key)
	switch {
	case err != nil:
		return a, bad(err.Error())
	case of != "":
		return a, bad("is varied in every alternative: write it without alternative[]; --alternative takes one alone")
	case !s.Uses(key):
		return a, bad("no alternative uses it: it is for " + k.UsedBy)
	case scenarios.IsParameter(key) && !s.Varies(key):
		return a, bad("no alternative has a distribution with that parameter")
	}
	a.Key, a.Dim = key, k.Dim
	if from, rest, ok := strings.Cut(values, ".."); ok {
		err = a.span(k, strings.TrimSpace(from), strings.TrimSpace(rest), bad)
	} else {
		err = a.list(k, strings.Split(values, ","), bad)
	}
	return a, err
}

// unread says what is wrong with a value, and which unless the error says it.
func unread(text string, err error) string {
	if strings.Contains(err.Error(), text) && text != "" {
		return err.Error()
	}
	return fmt.Sprintf("%q %v", text, err)
}

// span fills the axis with equal steps from one value to another.
func (a *Axis) span(k *scenarios.Key, from, rest string, bad func(string) error) error {
	i := strings.LastIndexByte(rest, '/')
	steps := 0
	if i > 0 {
		steps, _ = strconv.Atoi(strings.TrimSpace(rest[i+1:]))
	}
	if i <= 0 || strings.TrimSpace(rest[i+1:]) != strconv.Itoa(steps) {
		return bad("give the number of values: FROM..TO/STEPS, as in 100 m/min..250 m/min/7")
	}
	to := strings.TrimSpace(rest[:i])
	low, share, err := k.Read(from)
	if err != nil {
		return bad(unread(from, err))
	}
	high, shareToo, err := k.Read(to)
	if err != nil {
		return bad(unread(to, err))
	}
	switch {
	case share != shareToo:
		return bad("one end is a share of the capacity and the other is not")
	case steps < 2:
		return bad("a range needs 2 values or more; one is written KEY=A")
	case steps > mostValues:
		return bad(fmt.Sprintf("%d values: the most is %d", steps, mostValues))
	case low >= high:
		return bad(fmt.Sprintf("the range runs backwards: %s is not below %s", from, to))
	case a.Log && low <= 0:
		return bad("steps of equal ratio cannot start at 0")
	}
	whole := k.Kind == "whole number"
	unit := unitOf(from, k, share)
	for n := range steps {
		f := float64(n) / float64(steps-1)
		x := low + (high-low)*f
		if a.Log {
			x = low * portable.Pow(high/low, f)
		}
		if n == steps-1 {
			x = high
		}
		if whole {
			x = math.Round(x)
			if len(a.Values) > 0 && a.Values[len(a.Values)-1] == x {
				continue
			}
		}
		// What is simulated is what is written: a value is rounded first.
		text := strconv.FormatFloat(unit.From(x), 'g', 6, 64)
		if unit.Name != "" {
			text += " " + unit.Name
		}
		si, _, err := k.Read(text)
		if err != nil {
			return bad(unread(text, err))
		}
		if len(a.Values) > 0 && si <= a.Values[len(a.Values)-1] {
			return bad(fmt.Sprintf("%d values from %s to %s are too near together", steps, from, to))
		}
		a.Values, a.Texts = append(a.Values, si), append(a.Texts, text)
	}
	if share {
		a.Dim = model.Share
	}
	return nil
}

// list fills the axis with the values given one by one.
func (a *Axis) list(k *scenarios.Key, texts []string, bad func(string) error) error {
	if len(texts) > mostValues {
		return bad(fmt.Sprintf("%d values: the most is %d", len(texts), mostValues))
	}
	shares := 0
	for i, text := range texts {
		text = strings.TrimSpace(text)
		x, share, err := k.Read(text)
		if err != nil {
			return bad(unread(text, err))
		}
		if share {
			shares++
		}
		if i > 0 && x <= a.Values[i-1] {
			return bad(fmt.Sprintf("the values must rise: %s is not above %s", text, a.Texts[i-1]))
		}
		a.Values, a.Texts = append(a.Values, x), append(a.Texts, text)
	}
	if a.Log && a.Values[0] <= 0 {
		return bad("steps of equal ratio cannot start at 0")
	}
	if shares == len(texts) {
		a.Dim = model.Share
	} else if shares > 0 {
		return bad("some values are shares of the capacity and some are not")
	}
	return nil
}

// unitOf is the unit that a text is written in.
func unitOf(text string, k *scenarios.Key, share bool) model.Unit {
	_, name, _ := scenarios.SplitQuantity(text)
	if share {
		return model.Unit{Name: "%", SI: 0.01}
	}
	if name == "" {
		return model.Unit{SI: 1}
	}
	one, err := model.ParseQuantity("1 "+name, k.Dim)
	if err != nil {
		return model.Unit{SI: 1}
	}
	return model.Unit{Name: name, SI: one}
}
