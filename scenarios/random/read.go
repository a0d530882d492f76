package random

import (
	"fmt"
	"regexp"
	"slices"
	"strconv"
	"strings"

	"github.com/BurntSushi/toml"

	"rollchange/model"
	"rollchange/scenarios"
)

// Read reads a scenario that somebody wrote, so that it can be changed as a
// drawn one. It must be one that scenarios.Parse takes.
func Read(text string) (*Scenario, error) {
	var raw map[string]any
	if _, err := toml.Decode(text, &raw); err != nil {
		return nil, err
	}
	s := &Scenario{Values: map[string]Value{}}
	if m := drawnFrom.FindStringSubmatch(text); m != nil {
		s.Seed, _ = strconv.ParseUint(m[1], 10, 64)
	}
	return s, s.read("", raw)
}

// drawnFrom finds the seed that Text writes above a scenario.
var drawnFrom = regexp.MustCompile(`(?m)^# drawn by scenarios/random, seed (\d+)$`)

// read takes over the values of a table. Notes on sources are left out.
func (s *Scenario) read(prefix string, raw map[string]any) error {
	for name, x := range raw {
		path := prefix + name
		if k := row(path); k != nil {
			v, err := readValue(k, x)
			if err != nil {
				return fmt.Errorf("%s: %w", path, err)
			}
			s.Values[path] = v
			continue
		}
		var err error
		switch x := x.(type) {
		case map[string]any:
			err = s.read(path+".", x)
		case []map[string]any:
			for i, element := range x {
				if err == nil {
					err = s.read(fmt.Sprintf("%s[%d].", path, i), element)
				}
			}
		}
		if err != nil {
			return err
		}
	}
	return nil
}

// paramsOf are the parameters of a law, nil when there is no such law.
func paramsOf(law string) []string {
	for _, l := range scenarios.Laws() {
		if l.Name == law {
			return slices.Concat(l.Params, l.May)
		}
	}
	return nil
}

func readValue(k *scenarios.Key, raw any) (Value, error) {
	if law, ok := raw.(map[string]any); ok {
		v := Value{Law: fmt.Sprint(law["dist"])}
		for _, p := range append([]string{"mean", "sd"}, paramsOf(v.Law)...) {
			x, given := law[p]
			if !given || p == "mean" && len(v.Nums) > 0 {
				continue
			}
			delete(law, p)
			list, several := x.([]any)
			if !several {
				list = []any{x}
			}
			n := Num{Name: p, Dim: k.Dim}
			if p == "shape" {
				n.Dim = model.Number
			}
			for _, x := range list {
				one, err := readNumber(n.Dim, x)
				if err != nil {
					return v, err
				}
				if n.Unit == "" {
					n.Unit = one.Unit
				}
				n.X = append(n.X, convert(one.X[0], n.Dim, one.Unit, n.Unit))
			}
			v.Nums = append(v.Nums, n)
		}
		return v, nil
	}
	switch k.Kind {
	case "text", "one of":
		return Value{Word: strconv.Quote(fmt.Sprint(raw))}, nil
	case "list of texts", "list of whole numbers", "days of the week", "list of shares", "list of amounts or shares":
		return Value{Word: written(raw)}, nil
	case "true or false", "whole number", "true or a number of finished rolls":
		return Value{Word: fmt.Sprint(raw)}, nil
	}
	if raw == "auto" {
		return Value{Word: `"auto"`}, nil
	}
	n, err := readNumber(k.Dim, raw)
	return Value{Nums: []Num{n}}, err
}

// written is a text or a list as TOML.
func written(raw any) string {
	switch v := raw.(type) {
	case string:
		return strconv.Quote(v)
	case []any:
		list := make([]string, len(v))
		for i, x := range v {
			list[i] = written(x)
		}
		return "[" + strings.Join(list, ", ") + "]"
	}
	return fmt.Sprint(raw)
}

// readNumber reads "90 s" or a bare number.
func readNumber(dim model.Dimension, raw any) (Num, error) {
	n := Num{Dim: dim}
	x, unit, ok := scenarios.SplitQuantity(fmt.Sprint(raw))
	if !ok {
		return n, fmt.Errorf("%v is no quantity", raw)
	}
	if unit == "%" {
		n.Dim = model.Share
	}
	if unit != "" {
		if _, err := model.ParseQuantity("1 "+unit, n.Dim); err != nil {
			return n, err
		}
	}
	n.X, n.Unit = []float64{x}, unit
	return n, nil
}
