package savings

import (
	"errors"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"rollchange/model/legible"
)

// Measure is what a target is of.
type Measure int

// The measures. That of a payback or a rate is the median of the draws, as its headline is.
const (
	OfNPV Measure = iota
	OfPayback
	OfDiscounted
	OfIRR
)

// Key is its name for programs.
func (m Measure) Key() string {
	return [...]string{"npv", "simple_payback", "discounted_payback", "irr"}[m]
}

// Target is what a value of an input is to reach; the zero value is a net present value of 0.
type Target struct {
	Measure Measure
	Value   float64 // currency, years, or a share a year
}

// measureNames are how measures may be written.
var measureNames = map[string]Measure{"npv": OfNPV, "net present value": OfNPV, "payback": OfPayback, "simple payback": OfPayback,
	"discounted payback": OfDiscounted, "payback at present value": OfDiscounted, "irr": OfIRR, "internal rate of return": OfIRR, "rate of return": OfIRR}

// ErrCurrency says that an amount is in another currency.
var ErrCurrency = errors.New("another currency")

// errTarget says how a target is written.
var errTarget = errors.New(`write "npv 100000", "payback 2 years", "discounted payback 3 years" or "irr 15 %"`)

// ParseTarget reads "npv 100000", "payback 2 years", "discounted payback 3 years" or "irr
// 15 %". An amount may end in the currency.
func ParseTarget(text, currency string) (Target, error) {
	t := Target{}
	wrong := func(format string, a ...any) (Target, error) {
		return t, fmt.Errorf("%s: %s: %w", legible.Quote(text), fmt.Sprintf(format, a...), errTarget)
	}
	at := strings.IndexAny(text, "0123456789+-.−")
	if at < 0 {
		return wrong("has no number")
	}
	name, rest := strings.Join(strings.Fields(strings.ToLower(text[:at])), " "), strings.ReplaceAll(text[at:], "−", "-")
	end := strings.IndexFunc(rest, func(r rune) bool { return !strings.ContainsRune("0123456789.,+-eE", r) })
	if end < 0 {
		end = len(rest)
	}
	if strings.HasSuffix(rest[:end], "E") || strings.HasSuffix(rest[:end], "e") { // of EUR
		end--
	}
	unit := strings.TrimSpace(rest[end:])
	x, err := strconv.ParseFloat(ungrouped(strings.TrimSpace(rest[:end])), 64)
	m, known := measureNames[name]
	t.Measure = m
	switch {
	case !known && name == "":
		return wrong("does not say what of")
	case !known:
		return wrong("%s is not known", legible.Quote(name))
	case err != nil || math.IsInf(x, 0):
		return wrong("%s is no number", legible.Quote(strings.TrimSpace(rest[:end])))
	}
	switch m {
	case OfNPV:
		if unit != "" && !strings.EqualFold(unit, currency) {
			return t, fmt.Errorf("%s: %s is %w, not %s: %w", legible.Quote(text), legible.Quote(unit), ErrCurrency, legible.Visible(currency), errTarget)
		}
		t.Value = x
	case OfIRR:
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
		if t.Value = x; !(x > 0) || x > mostYears {
			return wrong("a payback must be above 0 and at most %d years", mostYears)
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
