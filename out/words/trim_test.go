package words

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"rollchange/model"
	"rollchange/out/invented"
	"rollchange/sim/replicate"
	"rollchange/sim/savings"
)

// What is sold is the width without the trim, and the formula says so where there is
// some; both cases agree with the figures.
func TestFormulaOfTrimmedOutput(t *testing.T) {
	for trim, want := range map[float64]string{0: "price × width × (good web − good web of the first)", 0.03: "price × (width without trim × good web − the same of the first)"} {
		c, _ := invented.Valued(t, func(s *model.Study, _ *replicate.Results) {
			s.Alternatives[0].Line.Rewind.Trim, s.Alternatives[1].Line.Rewind.Trim = trim, trim/2
		})
		assert.Equal(t, want, CauseFormula(c, savings.Contribution))
		assert.Equal(t, "material cost × width × (waste of the first − waste)", CauseFormula(c, savings.Material))
		assert.InDelta(t, 0.28*((0.33-trim/2)*c.Years[1].Good-(0.33-trim)*c.Years[0].Good), c.Save[savings.Contribution].Value, 1e-6)
		assert.InEpsilon(t, 0.55*0.33*(c.Years[0].Waste-c.Years[1].Waste), c.Save[savings.Material].Value, 1e-9)
	}
}
