package scenarios

import (
	"fmt"
	"slices"
	"strings"
	"unicode/utf8"

	"rollchange/model"
	"rollchange/model/legible"
)

// The kinds of keys that hold several values.
const (
	texts  kind = "list of texts"         // ["packing", "stop jam"]
	wholes kind = "list of whole numbers" // [1, 2]
	days   kind = "days of the week"      // "Monday to Friday, Sunday"
)

// mostListed is how many values a list may have.
const mostListed = 200

// readList reads the value of a key that holds several.
func (k *Key) readList(raw any) (value, error) {
	if k.kind == days {
		s, ok := raw.(string)
		if !ok {
			return value{}, fmt.Errorf("must be days in quotes")
		}
		list, err := readDays(s)
		return value{wholes: list}, err
	}
	list, ok := raw.([]any)
	switch {
	case !ok:
		return value{}, fmt.Errorf("must be a list in square brackets")
	case len(list) == 0:
		return value{}, fmt.Errorf("names nothing; without the key it is all")
	case len(list) > mostListed:
		return value{}, fmt.Errorf("has %d values: at most %d", len(list), mostListed)
	}
	var v value
	for _, x := range list {
		switch x := x.(type) {
		case string:
			if k.kind != texts {
				return v, fmt.Errorf("must be whole numbers, without quotes")
			}
			if utf8.RuneCountInString(x) > mostText {
				return v, fmt.Errorf("has a text longer than %d characters", mostText)
			}
			if among(v.texts, x) {
				return v, fmt.Errorf("names %s twice", legible.Quote(x))
			}
			v.texts = append(v.texts, x)
		case int64:
			if k.kind != wholes {
				return v, fmt.Errorf("must be texts in quotes")
			}
			if err := k.inRange(float64(x)); err != nil {
				return v, err
			}
			if slices.Contains(v.wholes, int(x)) {
				return v, fmt.Errorf("names %d twice", x)
			}
			v.wholes = append(v.wholes, int(x))
		default:
			return v, fmt.Errorf("must be %s", map[kind]string{texts: "texts in quotes", wholes: "whole numbers, without quotes"}[k.kind])
		}
	}
	return v, nil
}

// readDays reads "Monday to Friday, Sunday", Monday 0. A span may go over the end
// of the week.
func readDays(s string) ([]int, error) {
	on := [7]bool{}
	for _, part := range strings.Split(s, ",") {
		from, until, span := strings.Cut(strings.TrimSpace(part), " to ")
		a, err := readDay(from)
		if err != nil {
			return nil, err
		}
		b := a
		if span {
			if b, err = readDay(until); err != nil {
				return nil, err
			}
		}
		for ; ; a = (a + 1) % 7 {
			on[a] = true
			if a == b {
				break
			}
		}
	}
	var list []int
	for d, is := range on {
		if is {
			list = append(list, d)
		}
	}
	return list, nil
}

// readDay reads the name of a day, in full or its first three letters.
func readDay(s string) (int, error) {
	s = strings.TrimSpace(s)
	for d, name := range model.DayNames {
		if strings.EqualFold(s, name) || strings.EqualFold(s, name[:3]) {
			return d, nil
		}
	}
	if s == "" {
		return 0, fmt.Errorf("names no day")
	}
	return 0, fmt.Errorf("%s is not a day of the week%s", legible.Quote(s), DidYouMean(s, model.DayNames))
}

// listSchema is the schema of a key that holds several values.
func listSchema(k *Key) object {
	switch k.kind {
	case texts:
		return object{"type": "array", "minItems": 1, "maxItems": mostListed, "uniqueItems": true, "items": object{"type": "string", "maxLength": mostText}}
	case wholes:
		o := object{"type": "integer"}
		limits(o, k)
		return object{"type": "array", "minItems": 1, "maxItems": mostListed, "uniqueItems": true, "items": o}
	}
	var names []string // in any case
	for _, d := range model.DayNames {
		name := ""
		for i, c := range d {
			if name += "[" + strings.ToUpper(string(c)) + strings.ToLower(string(c)) + "]"; i == 2 {
				names = append(names, name)
			}
		}
		names = append(names, name)
	}
	day := `\s*(` + strings.Join(names, "|") + `)\s*`
	return object{"type": "string", "pattern": `^` + day + `( to` + day + `)?(,` + day + `( to` + day + `)?)*$`}
}
