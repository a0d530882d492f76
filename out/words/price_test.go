package words

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"rollchange/model"
	"rollchange/sim/savings"
)

// A price is the same money for the same web in the units of both systems: that of
// 1 ft2 buys 0.3048 m by 0.3048 m, that of a pound 0.45359237 kg.
func TestPricesAreReadInTheUnitsOfTheSystem(t *testing.T) {
	for unit, want := range map[string]struct {
		name string
		of   float64
	}{"USD/m2": {"USD/ft2", 0.3048 * 0.3048}, "USD/kg": {"USD/lb", 0.45359237}, "USD/m": {"USD/ft", 0.3048}, "USD/h": {"USD/h", 1}, "USD/year": {"USD/year", 1}, "%": {"%", 1}, "USD": {"USD", 1}} {
		u := PriceUnit(unit, model.Imperial)
		assert.Equal(t, want.name, u.Name)
		assert.InEpsilon(t, want.of, u.From(1), 1e-12, unit)
		assert.Equal(t, model.Unit{Name: unit, SI: 1}, PriceUnit(unit, model.Metric))
	}
	assert.Equal(t, "0.0333 – 0.0407 USD/ft2", Between(0.0333/0.3048/0.3048, 0.0407/0.3048/0.3048, "USD/m2", model.Imperial))
	s := savings.Solution{Key: "economics.price", Unit: "USD/m2", Value: 0.02 / 0.3048 / 0.3048, Base: 0.1 / 0.3048 / 0.3048, GainsAbove: true}
	assert.Contains(t, SolveText(s, &savings.Case{}, model.Imperial), "of 0.02 USD/ft2. There")
	assert.Contains(t, SolveText(s, &savings.Case{}, model.Imperial), "the scenario has 0.1 USD/ft2")
}
