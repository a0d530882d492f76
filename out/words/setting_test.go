package words

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"rollchange/model"
	"rollchange/sim/whatif"
)

// What an input is moved to, as a share of it, as a whole or as a number of its own.
func TestSettingsAreSaid(t *testing.T) {
	for says, s := range map[string]whatif.Setting{
		"135 m/min": {Text: "135 m/min"}, "mean 7.2 s": {How: whatif.Mean, Text: "7.2 s"}, "sd 2.7 m": {How: whatif.SD, Text: "2.7 m"},
		"x 1.1": {How: whatif.Times, Amount: 1.1}, "shortfall x 0.9": {How: whatif.Shortfall, Amount: 0.9}, "+1": {How: whatif.Step, Amount: 1}, "−1": {How: whatif.Step, Amount: -1},
		"0.22 EUR/m2": {Amount: 0.22, Unit: "EUR/m2"}, "110,000 EUR": {Amount: 110000, Unit: "EUR"}, "mean 23,467 km": {How: whatif.Mean, Amount: 23466666.7, Unit: "m"}, "30": {Amount: 30}, "": {},
	} {
		assert.Equal(t, says, SettingText(s, model.Metric))
	}
	assert.Equal(t, "1 million ft", SettingText(whatif.Setting{Amount: 304800, Unit: "m"}, model.Imperial))
}

func TestWhatIsNotMovedOrKnownIsSaid(t *testing.T) {
	s := &whatif.Sensitivities{}
	assert.Nil(t, UnmovedTexts(s))
	assert.Nil(t, LackTexts(s))
	for _, why := range []whatif.Obstacle{whatif.AtMinimum, whatif.FromFile, whatif.AtWhole, whatif.AtZero, whatif.NeitherEnd} {
		s.Skipped = append(s.Skipped, whatif.Unmoved{Key: "k", Why: why})
	}
	assert.Equal(t, []string{"k: it is already at its minimum", "k: its values come from a file", "k: it is 100 %", "k: it is 0", "k: neither end of its range is possible"}, UnmovedTexts(s))
	s.Lacking = []whatif.Lack{{Metric: "payback", Why: whatif.NoInvestment}, {Metric: "oee", Why: whatif.NothingToCount}}
	assert.Equal(t, []string{"payback: nothing more is invested", "how oee varies: in some period there was nothing to count"}, LackTexts(s))
}
