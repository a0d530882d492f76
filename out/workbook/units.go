package workbook

import (
	"strings"

	"rollchange/model"
	"rollchange/out/words"
)

// measures are the units that a sheet is in. Formulas reckon in a base, m and kg or ft
// and lb; what is shown in another unit is turned into it within the formula.
type measures struct {
	base   string  // m or ft
	area   string  // m2 or ft2
	mass   string  // kg or lb
	length float64 // m of the base
	pound  float64 // kg of the base

	long    model.Unit // of the web of a year
	inLong  string     // base lengths in one of it, as a formula has it
	width   string     // unit of widths
	inWidth string     // widths in a base length
	gram    string     // factor from g/m2 to base mass per base area
	speed   string
}

func measuresOf(sys model.System) measures {
	if sys == model.Imperial {
		return measures{"ft", "ft2", "lb", 0.3048, 0.45359237, words.LongUnit(sys), "1000000", "in", "12", "0.09290304/453.59237", "ft/min"}
	}
	return measures{"m", "m2", "kg", 1, 1, words.LongUnit(sys), "1000", "mm", "1000", "1/1000", "m/min"}
}

// shown is the unit in which an input is shown whose unit is given, and how many of the
// given one it is: 1 EUR/m2 is 0.0929 EUR/ft2.
func (m *measures) shown(unit string) (string, float64) {
	if unit == "m" {
		return m.long.Name, 1 / m.long.SI
	}
	if unit == "%" {
		return unit, 0.01
	}
	i := strings.LastIndexByte(unit, '/')
	if i < 0 {
		return unit, 1
	}
	switch unit[i:] {
	case "/m2":
		return unit[:i] + "/" + m.area, m.length * m.length
	case "/kg":
		return unit[:i] + "/" + m.mass, m.pound
	case "/m":
		return unit[:i] + "/" + m.base, m.length
	}
	return unit, 1
}

// moved is shown of what is moved, simulated figures too; what is told in per cent stays so.
func (m *measures) moved(unit string) (string, float64) {
	switch unit {
	case "%":
		return unit, 1
	case "1":
		return "%", 100
	case "1/s":
		return "/h", 3600
	case "m/s":
		return m.speed, 60 / m.length
	}
	return m.shown(unit)
}

// widths is a width in the unit of widths.
func (m *measures) widths(si float64) float64 {
	if m.width == "in" {
		return si / 0.0254
	}
	return si * 1000
}

// reckoned replaces what stands for units in a formula: LONG base lengths in one of the
// long unit, WIDTH widths in a base length, GRAM the factor of a grammage.
func (m *measures) reckoned(formula string) string {
	return strings.NewReplacer("LONG", m.inLong, "WIDTH", m.inWidth, "GRAM", m.gram).Replace(formula)
}
