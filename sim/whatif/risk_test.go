package whatif

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"rollchange/model"
)

func TestRisks(t *testing.T) {
	const year = 4000 * 3600
	for text, want := range map[string]Risk{
		"1e-4": {Share: 1e-4}, "0.01 %": {Share: 1e-4}, " 0.5 ": {Share: 0.5},
		"1 per year": {Rate: 1.0 / year}, "2 per shift": {Rate: 2.0 / (8 * 3600)}, "0.5 per day": {Rate: 0.5 / 86400}, "3 per month": {Rate: 3.0 / (30 * 86400)},
		"1 per week": {Rate: 1.0 / (7 * 86400)}, "1e-3 per hour": {Rate: 1e-3 / 3600},
	} {
		r, err := ParseRisk(text, year)
		require.NoError(t, err, text)
		assert.InDelta(t, want.Share, r.Share, 1e-15, text)
		assert.InDelta(t, want.Rate, r.Rate, 1e-18, text)
		assert.NotEmpty(t, r.Text)
	}
	for text, says := range map[string]string{
		"0": "must be above 0", "0 %": "must be above 0", "-1": "must be above 0", "nan": "must be above 0", "0 per year": "must be above 0", "-1 per day": "must be above 0", "1e-999": "must be above 0",
		"2": "must be below 1", "1": "must be below 1", "200 %": "must be below 1", "inf": "must be below 1", "1e12 per hour": "not a limit", "inf per day": "not a limit",
		"": "write a chance", "never": "write a chance", "1 per decade": "write a chance", "per year": "write a chance", "one per year": "write a chance", "1 in 5": "write a chance", "5 s": "write a chance",
	} {
		_, err := ParseRisk(text, year)
		assert.ErrorContains(t, err, says, text)
	}
}

func TestAYearIsThatOfTheLine(t *testing.T) {
	s := twoWays(t)
	assert.Equal(t, 8760*3600.0, Year(&s.Study.Alternatives[0].Line))
	s = twoWays(t, "[run]", "[economics]\nhours_per_year = \"4000 h\"\n[run]")
	assert.Equal(t, 4000*3600.0, Year(&s.Study.Alternatives[0].Line))
	var l model.Line
	assert.Equal(t, 8760*3600.0, Year(&l))
}
