package scenarios

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"rollchange/model"
)

// mostYears is how many years a list may have: year 0 and the longest life.
const mostYears = 101

// readYears reads a list with a value for each year: shares, or amounts where the key
// takes them too.
func (k *Key) readYears(raw any) (value, error) {
	list, ok := raw.([]any)
	switch {
	case !ok:
		return value{}, fmt.Errorf("must be a list in square brackets, a value for each year")
	case len(list) == 0:
		return value{}, fmt.Errorf("has no year")
	case len(list) > mostYears:
		return value{}, fmt.Errorf("has %d years: at most %d", len(list), mostYears)
	}
	var v value
	for i, x := range list {
		text, quoted := x.(string)
		share := k.kind == shares || quoted && strings.HasSuffix(strings.TrimSpace(text), "%")
		if i > 0 && share != v.share {
			return v, fmt.Errorf("has amounts and shares: it must have one of them")
		}
		of := *k
		of.kind = quantity
		if v.share = share; share {
			of.Dim = model.Share
			shareKey(&of)
		}
		one, err := of.readNumber(x)
		if err == nil {
			err = of.inRange(one)
		}
		if err != nil {
			return v, fmt.Errorf("value %d: %s", i+1, sayOf(err, model.Metric))
		}
		v.numbers = append(v.numbers, one)
	}
	return v, nil
}

// OfAlternative are the keys that stand in an alternative itself, by their short names.
func OfAlternative() []string {
	var list []string
	for i := range economicKeys {
		if name, ok := strings.CutPrefix(economicKeys[i].Path, "alternative[]."); ok {
			list = append(list, name)
		}
	}
	return list
}

// spent is the key of a list of what is spent by year.
func spent(path, meaning string, field func(*model.Alternative) *[]float64, options ...func(*Key)) *Key {
	return key(path, amounts, model.Money, meaning, func(t *target, v value) {
		*field(t.alt) = v.numbers
		if t.parts == nil {
			t.parts = map[string]bool{}
		}
		t.parts[path] = v.share
	}, options...)
}

// years is the schema of such a list.
func (s *schema) years(k *Key) object {
	of := func(items object) object {
		return object{"type": "array", "minItems": 1, "maxItems": mostYears, "items": items}
	}
	list := of(s.amount(model.Share, upTo100))
	if k.kind == amounts {
		return object{"anyOf": []any{of(s.amount(k.Dim, spanOf(k))), list}}
	}
	return list
}

// money turns what is given by year into a sum and its shares.
func (c *checker) money() {
	a := c.t.alt
	c.byYear("alternative[].investment_by_year", "alternative[].investment", &a.Investment, &a.InvestmentByYear)
	c.byYear("alternative[].start_up_by_year", "alternative[].start_up_cost", &a.StartUp, &a.StartUpByYear)
	h := c.t.line().Economics.HoursPerYear
	if x := a.Installation; x.Given() && h.Given() && x.Mean() >= h.Mean() {
		c.bad("alternative[].installation_time", fmt.Sprintf("must be below economics.hours_per_year, %.4g h", h.Mean()/3600), `installation_time = "120 h"`)
	}
}

// byYear makes shares of the amounts of each year, whose sum the whole is then.
func (c *checker) byYear(years, whole string, sum *model.Dist, list *[]float64) {
	if len(*list) == 0 {
		return
	}
	name := func(path string) string { return path[strings.LastIndexByte(path, '.')+1:] }
	total := 0.0
	for _, x := range *list {
		total += x
	}
	switch amounts, given := !c.t.parts[years], c.t.given[whole]; {
	case amounts && given:
		c.bad(years, fmt.Sprintf("contradicts %s: amounts stand in its place", name(whole)), name(years)+" without "+name(whole)+`, or shares of it: ["60 %", "40 %"]`)
		return
	case amounts:
		*sum = model.Const(total)
		if total == 0 {
			*list = nil
			return
		}
	case !given:
		c.bad(years, fmt.Sprintf("has shares of %s, which is not given", name(whole)), rowOf[whole].Example())
		return
	case math.Abs(total-1) > 1e-6:
		c.bad(years, fmt.Sprintf("must add up to 100 %%, and its shares add up to %.6g %%", 100*total), rowOf[years].Example())
		return
	}
	own := slices.Clone(*list)
	for i := range own {
		own[i] /= total
	}
	*list = own
}
