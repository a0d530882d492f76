package scenarios

import (
	"fmt"
	"math"
	"strconv"
	"strings"
	"unicode/utf8"

	"rollchange/model"
)

// mostText is the most of a text, characters.
const mostText = 200

// read turns a raw value into the value of a key. data is where the files of
// empirical laws are looked for; a level may be a share of the capacity (m).
func (k *Key) read(raw any, data *data, capacity float64) (value, error) {
	switch k.kind {
	case text:
		return k.readText(raw)
	case choice:
		s, _ := raw.(string)
		if !among(k.Choices, s) {
			return value{}, fmt.Errorf("must be one of %s", quoted(k.Choices))
		}
		return value{text: s}, nil
	case flag:
		b, ok := raw.(bool)
		if !ok {
			return value{}, fmt.Errorf("must be true or false, without quotes")
		}
		return value{flag: b}, nil
	case integer:
		n, ok := raw.(int64)
		if !ok {
			return value{}, fmt.Errorf("must be a whole number, without quotes or unit")
		}
		return value{integer: n, dist: model.Const(float64(n))}, k.inRange(float64(n))
	case perRoll:
		return k.readRolls(raw)
	case texts, wholes, days:
		return k.readList(raw)
	case shares, amounts:
		return k.readYears(raw)
	case special:
		if s, ok := raw.(string); ok && s == "auto" {
			return value{text: s, dist: model.Const(0)}, nil
		}
	case level:
		if s, ok := raw.(string); ok && strings.HasSuffix(strings.TrimSpace(s), "%") {
			return readShare(s, capacity)
		}
	case fraction:
		if f, ok := toFloat(raw); ok {
			return value{dist: model.Const(f)}, k.inRange(f)
		}
	case varying, vnumber:
		if m, ok := raw.(map[string]any); ok {
			d, err := k.readLaw(m, data)
			return value{dist: d}, err
		}
	}
	v, err := k.readNumber(raw)
	if err == nil {
		err = k.inRange(v)
	}
	return value{dist: model.Dist{Law: model.Fixed, A: v, Signed: k.signed}}, err
}

// readText reads a text, or a day.
func (k *Key) readText(raw any) (value, error) {
	s, ok := raw.(string)
	if !ok {
		return value{}, fmt.Errorf("must be text in quotes")
	}
	if utf8.RuneCountInString(s) > mostText && !k.long {
		return value{}, fmt.Errorf("is longer than %d characters", mostText)
	}
	if k.dated {
		if err := CheckDay(s); err != nil {
			return value{}, err
		}
	}
	return value{text: s}, nil
}

// readRolls reads a number of finished rolls, or true for each of them.
func (k *Key) readRolls(raw any) (value, error) {
	if b, ok := raw.(bool); ok && b {
		return value{integer: 1}, nil
	}
	n, ok := raw.(int64)
	if !ok {
		return value{}, fmt.Errorf("must be true, or a whole number of finished rolls")
	}
	return value{integer: n}, k.inRange(float64(n))
}

// readShare reads a level that is a share of the capacity, m.
func readShare(s string, capacity float64) (value, error) {
	share, err := model.ParseQuantity(s, model.Share)
	if err == nil && (share < 0 || share > 1) {
		err = fmt.Errorf("a share of the capacity must be within 0 %% to 100 %%")
	}
	return value{share: true, dist: model.Const(share * capacity)}, err
}

// readNumber reads a quantity with its unit, or a plain number where the key
// has none, in SI.
func (k *Key) readNumber(raw any) (float64, error) {
	_, written := raw.(string)
	if k.Dim.Plain() && !(written && k.Dim.Units() != "") {
		f, ok := toFloat(raw)
		if !ok {
			return 0, fmt.Errorf("must be a number, without quotes")
		}
		if math.IsNaN(f) || math.IsInf(f, 0) {
			return 0, fmt.Errorf("must be a finite number")
		}
		return f, believable(k.Dim, f)
	}
	if f, ok := toFloat(raw); ok {
		return 0, fmt.Errorf("%v is a bare number; give it a unit in quotes: %s", f, k.Dim.Units())
	}
	if _, law := raw.(map[string]any); law {
		return 0, fmt.Errorf("cannot vary; it must be one quantity in quotes")
	}
	s, ok := raw.(string)
	if !ok {
		return 0, fmt.Errorf("must be a quantity in quotes")
	}
	v, err := model.ParseQuantity(s, k.Dim)
	if err == nil {
		err = believable(k.Dim, v)
	}
	return v, err
}

func toFloat(raw any) (float64, bool) {
	switch n := raw.(type) {
	case int64:
		return float64(n), true
	case float64:
		return n, true
	}
	return 0, false
}

func (k *Key) inRange(v float64) error {
	if math.IsNaN(v) || math.IsInf(v, 0) {
		return fmt.Errorf("must be a finite number")
	}
	if k.bounded && (v < k.low || v > k.high || k.lowOpen && v == k.low) {
		return fmt.Errorf("must be %s", k.Range)
	}
	return nil
}

func quoted(list []string) string {
	q := make([]string, len(list))
	for i, s := range list {
		q[i] = strconv.Quote(s)
	}
	return strings.Join(q, ", ")
}
