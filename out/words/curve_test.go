package words

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"rollchange/model"
	"rollchange/sim/whatif"
)

func TestCurveIsSaidToBeReckoned(t *testing.T) {
	a := &whatif.Answer{Dim: model.Length, Value: 34.4567}
	assert.Empty(t, CurveHead(a, model.Metric))
	assert.Empty(t, AgainSentence(a, model.Metric))
	a.Curve = []whatif.CurvePoint{{X: 34}}
	assert.Equal(t, "Calculated from the changes recorded at 34.46 m", CurveHead(a, model.Metric))
	a.Again = []float64{50}
	assert.Equal(t, "More is not always better here: the target is missed again from 50 m on.", AgainSentence(a, model.Metric))
	a.Again = []float64{50, 120}
	assert.Equal(t, "More is not always better here: the target is missed again from 50 m on, met again from 120 m on.", AgainSentence(a, model.Metric))
	speed := &whatif.Answer{Kind: whatif.Speed, Dim: model.Speed}
	assert.Empty(t, AgainSentence(speed, model.Metric))
	speed.Again = []float64{5}
	assert.Equal(t, "Faster is not always worse here: every limit holds again above 300.0 m/min.", AgainSentence(speed, model.Metric))
	speed.Again = []float64{5, 5.5}
	assert.Equal(t, "Faster is not always worse here: every limit holds again above 300.0 m/min, but no longer above 330.0 m/min.", AgainSentence(speed, model.Metric))
}
