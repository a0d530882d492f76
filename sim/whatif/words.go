package whatif

import (
	"fmt"
	"math"
	"strconv"

	"rollchange/model"
)

// inUnits is a quantity in SI as the reader of the study writes it.
func inUnits(x float64, d model.Dimension, sys model.System) string {
	u := model.Display(d, sys)
	return fmt.Sprintf("%.4g %s", u.From(x), u.Name)
}

// currencyOf is the currency of a line, after a space; "" when it has none.
func currencyOf(l *model.Line) string {
	if l.Economics.Currency == "" {
		return ""
	}
	return " " + l.Economics.Currency
}

// oneIn is a chance in words.
func oneIn(p float64) string {
	if p < 1e-12 {
		return "next to none"
	}
	n := 1 / p
	step := math.Pow(10, math.Floor(math.Log10(n))-2) // three digits
	return "one in " + strconv.FormatFloat(math.Round(n/step)*step, 'f', max(0, 2-int(math.Floor(math.Log10(n)))), 64)
}

// counted is a number of things with its noun: "1 operator", "3 operators".
func counted(n int, noun string) string {
	if n == 1 {
		return "1 " + noun
	}
	return fmt.Sprintf("%d %ss", n, noun)
}
