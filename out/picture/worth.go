package picture

import (
	"fmt"
	"math"
	"strings"

	"rollchange/model"
	"rollchange/model/legible"
	"rollchange/out/words"
	"rollchange/sim/savings"
	"rollchange/sim/whatif"
)

// mostMoved is how many inputs of a savings case are drawn.
const mostMoved = 8

// Worth draws what moving one input does to the mean net present value of
// a savings case. It is nil when nothing moves it.
func Worth(c *savings.Case, sys model.System) *Picture {
	var swings []whatif.Swing
	for i, s := range c.Swings {
		if i == mostMoved {
			break
		}
		low, high := ends(s, sys)
		swings = append(swings, whatif.Swing{Key: words.SwungLabel(s), At: [3]whatif.Setting{{Text: low}, {}, {Text: high}}, Low: s.AtLow, Base: c.Random.NPV.Mean, Up: s.AtHigh,
			BaseHalf: math.NaN(), LowHalf: math.NaN(), UpHalf: math.NaN(), Total: math.NaN()})
	}
	list, values := drawable(swings)
	if len(list) == 0 {
		return nil
	}
	most := 0.0
	for _, v := range values {
		if words.Finite(v) {
			most = max(most, math.Abs(v))
		}
	}
	read := words.Reading{Label: fmt.Sprintf(words.TitleMeanNPV, words.TaxWords(c)), Unit: amounts(most, c.Currency)}
	g := newSwingGraph(list, read, sys)
	g.told = words.MeanNPV(c)
	return g.picture(fmt.Sprintf(words.TitleOf, read.Title(), legible.Line(c.Alternative)), words.SwingUnderDrawn, words.SwingHighDrawn)
}

// ends are the two ends of a swing, each with its unit.
func ends(s savings.Swing, sys model.System) (low, high string) {
	text := func(x float64) string {
		u := words.InputUnit(s.Unit, max(math.Abs(s.Low), math.Abs(s.High)), sys)
		return strings.TrimSpace(words.Plain(u.From(x)) + " " + words.UnitText(u.Name))
	}
	return text(s.Low), text(s.High)
}

// amounts is the unit in which amounts up to one are drawn.
func amounts(most float64, currency string) model.Unit {
	switch currency = legible.Line(currency); {
	case most >= 2e6:
		return model.Unit{Name: fmt.Sprintf(words.MillionOf, currency), SI: 1e6}
	case most >= 2e3:
		return model.Unit{Name: fmt.Sprintf(words.ThousandOf, currency), SI: 1e3}
	}
	return model.Unit{Name: currency, SI: 1}
}
