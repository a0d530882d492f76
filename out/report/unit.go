package report

import (
	"strconv"
	"strings"

	"rollchange/model"
	"rollchange/out/words"
	"rollchange/scenarios"
)

// ofMoney is what an amount of money is counted by, after the currency.
var ofMoney = map[model.Dimension]string{model.Money: "", model.MoneyPerYear: "/year", model.MoneyPerArea: "/m2", model.MoneyPerMass: "/kg", model.MoneyPerHour: "/h", model.MoneyPerMetre: "/m"}

// withUnit is a value of the scenario whose bare numbers, of money or of years, have their
// unit: "0.34 EUR/m2", "triangular, min 8 years, mode 10 years, max 12 years". All else
// stays as it is.
func (c *Content) withUnit(key, text string) string {
	unit := c.bareUnit(key)
	parts := strings.Split(text, ", ")
	if unit == "" || len(parts) > 1 && strings.ContainsAny(parts[0], "0123456789[") { // a list by year
		return text
	}
	for i, p := range parts {
		name, number, named := strings.Cut(p, " ")
		if !named {
			number = name
		}
		if x, err := strconv.ParseFloat(number, 64); err == nil && name != "shape" && name != "observed" {
			parts[i] = p + " " + unit
			if x == 1 && unit == words.SheetYears {
				parts[i] = p + " year"
			}
		}
	}
	return strings.Join(parts, ", ")
}

// bareUnit is the unit of a number of a key that is written without one; empty: none is shown.
func (c *Content) bareUnit(key string) string {
	path := strings.Replace(key, "alternative.", "alternative[].", 1)
	for _, k := range scenarios.Keys() {
		if k.Path != path {
			continue
		}
		if per, is := ofMoney[k.Dim]; is {
			return words.UnitText(c.Scenario.Study.Alternatives[c.Answer].Line.Economics.Currency + per)
		}
		if k.Dim == model.Years {
			return words.SheetYears
		}
	}
	return ""
}
