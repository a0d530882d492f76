package main

import (
	"errors"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"rollchange/model"
	"rollchange/model/legible"
	"rollchange/sim/savings"
)

// measureNames are how measures may be written.
var measureNames = map[string]savings.Measure{"npv": savings.OfNPV, "net present value": savings.OfNPV, "payback": savings.OfPayback, "simple payback": savings.OfPayback,
	"discounted payback": savings.OfDiscounted, "payback at present value": savings.OfDiscounted, "irr": savings.OfIRR, "internal rate of return": savings.OfIRR, "rate of return": savings.OfIRR}

// mostTargetYears is the longest payback, that of the longest life.
const mostTargetYears = 100

// errCurrency says that an amount is in another currency.
var errCurrency = errors.New("another currency")

// errTarget says how a target is written.
var errTarget = errors.New(`write "npv 100000", "payback 2 years", "discounted payback 3 years" or "irr 15 %"`)

// parseTarget reads "npv 100000", "payback 2 years", "discounted payback 3 years" or "irr
// 15 %". An amount may end in the currency.
func parseTarget(text, currency string) (savings.Target, error) {
	t := savings.Target{}
	wrong := func(format string, a ...any) (savings.Target, error) {
		return t, fmt.Errorf("%s: %s: %w", legible.Quote(text), fmt.Sprintf(format, a...), errTarget)
	}
	at := strings.IndexAny(text, "0123456789+-.−")
	if at < 0 {
		return wrong("has no number")
	}
	name, rest := strings.Join(strings.Fields(strings.ToLower(text[:at])), " "), strings.ReplaceAll(text[at:], "−", "-")
	number := model.LeadingDigits(rest, ".,")
	unit := strings.TrimSpace(rest[len(number):])
	x, err := strconv.ParseFloat(ungrouped(number), 64)
	m, known := measureNames[name]
	t.Measure = m
	switch {
	case !known && name == "":
		return wrong("does not say what of")
	case !known:
		return wrong("%s is not known", legible.Quote(name))
	case err != nil || math.IsInf(x, 0):
		return wrong("%s is not a number", legible.Quote(number))
	}
	switch m {
	case savings.OfNPV:
		if unit != "" && !strings.EqualFold(unit, currency) {
			return t, fmt.Errorf("%s: %s is %w, not %s: %w", legible.Quote(text), legible.Quote(unit), errCurrency, legible.Visible(currency), errTarget)
		}
		t.Value = x
	case savings.OfIRR:
		if unit != "%" {
			return wrong("a rate of return is in %%")
		}
		if t.Value = x / 100; t.Value <= -1 || t.Value > 10 {
			return wrong("a rate must be above -100 %% and at most 1000 %%")
		}
	default:
		if !slices.Contains([]string{"year", "years", "y", "a"}, unit) {
			return wrong("a payback is in years")
		}
		if t.Value = x; !(x > 0) || x > mostTargetYears {
			return wrong("a payback must be above 0 and at most %d years", mostTargetYears)
		}
	}
	return t, nil
}

// ungrouped takes the commas out of "100,000"; other commas stay, and are refused.
func ungrouped(number string) string {
	whole, _, _ := strings.Cut(number, ".")
	groups := strings.Split(strings.TrimLeft(whole, "+-"), ",")
	for i, g := range groups {
		if len(groups) > 1 && (i > 0 && len(g) != 3 || i == 0 && (len(g) == 0 || len(g) > 3)) {
			return number
		}
	}
	return strings.ReplaceAll(number, ",", "")
}
