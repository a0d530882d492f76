package words

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"

	"rollchange/model"
	"rollchange/sim/match"
)

// agreeing is a period in which all agrees.
func agreeing() *match.Answer {
	return &match.Answer{Alternative: "now", Hours: 500 * 3600, Lines: 1, Periods: 199, Confidence: 0.95, Speed: 2, Rows: []match.Row{
		{Figure: match.Good, Unit: "m", Recorded: 1.30e6, Mean: 1.31e6, Low: 1.28e6, High: 1.34e6},
		{Figure: match.Waste, Unit: "m", Recorded: 41e3, Mean: 40e3, Low: 38e3, High: 42e3},
		{Figure: match.RollChanges, Unit: "1", Recorded: 400, Mean: 401.5, Low: 390, High: 410},
		{Figure: match.CauseTime, Hold: "web_break", Unit: "s", Recorded: 9 * 3600, Mean: 9.5 * 3600, Low: 7 * 3600, High: 12 * 3600},
		{Figure: match.CauseStops, Hold: "web_break", Unit: "1", Recorded: 40, Mean: 42, Low: 30, High: 55},
	}}
}

// Each sentence is said where it is true, and not a little beside.
func TestMatchSentences(t *testing.T) {
	for _, x := range []struct {
		says       string
		is, beside func(a *match.Answer)
	}{
		{"Good web, waste and roll changes of the period agree with the model.", func(*match.Answer) {}, func(a *match.Answer) { a.Rows[1].Recorded = 43e3 }},
		{"Good web and waste of the period agree with the model.", func(a *match.Answer) { a.Rows[2].Fitted = true }, func(*match.Answer) {}},
		{"Roll changes of the period agree with the model.", func(a *match.Answer) { a.Rows = a.Rows[2:] }, func(*match.Answer) {}},
		{"Waste of the period agrees with the model.", func(a *match.Answer) { a.Rows = a.Rows[1:2] }, func(*match.Answer) {}},
		{"Nothing recorded tests the model", func(a *match.Answer) { a.Rows = a.Rows[3:] }, func(a *match.Answer) { a.Rows = a.Rows[2:] }},
		{"The line made less good web than the model expects, by 8.4 %.", func(a *match.Answer) { a.Rows[0].Recorded = 1.2e6 }, func(a *match.Answer) { a.Rows[0].Recorded = 1.28e6 }},
		{"The line made more good web than the model expects, by 6.9 %.", func(a *match.Answer) { a.Rows[0].Recorded = 1.4e6 }, func(a *match.Answer) { a.Rows[0].Recorded = 1.34e6 }},
		{"Look first at web break: it stopped the line for 20.0 h, and the model expects 7.0 to 12.0 h.",
			func(a *match.Answer) { a.Rows[0].Recorded, a.Rows[3].Recorded = 1.2e6, 20*3600 }, func(a *match.Answer) { a.Rows[0].Recorded, a.Rows[3].Recorded = 1.2e6, 12*3600 }},
		{"for 3.0 h, and the model expects 7.0 to 12.0 h", func(a *match.Answer) { a.Rows[0].Recorded, a.Rows[3].Recorded = 1.4e6, 3*3600 }, func(a *match.Answer) { a.Rows[0].Recorded, a.Rows[3].Recorded = 1.2e6, 3*3600 }},
		{"and the model has no such stop", func(a *match.Answer) {
			a.Rows[0].Recorded, a.Rows[3] = 1.2e6, match.Row{Figure: match.CauseTime, Hold: "stop.jam", Unit: "s", Recorded: 3600, Missing: true}
		}, func(a *match.Answer) { a.Rows[0].Recorded, a.Rows[3].Recorded = 1.2e6, 20*3600 }},
		{"No recorded cause took more hours than the model expects: look first at the real speed of the line, and at stops that nobody logged.",
			func(a *match.Answer) { a.Rows[0].Recorded = 1.2e6 }, func(a *match.Answer) { a.Rows[0].Recorded, a.Rows[3].Recorded = 1.2e6, 20*3600 }},
		{"No recorded cause took fewer hours", func(a *match.Answer) { a.Rows[0].Recorded = 1.4e6 }, func(a *match.Answer) { a.Rows[0].Recorded = 1.2e6 }},
		{"Hours by cause are not recorded", func(a *match.Answer) { a.Rows[0].Recorded, a.Rows = 1.2e6, a.Rows[:3] }, func(a *match.Answer) { a.Rows[0].Recorded = 1.2e6 }},
		{"The line made more waste than the model expects, by 25 %. Look first at the scrap", func(a *match.Answer) { a.Rows[1].Recorded = 50e3 }, func(a *match.Answer) { a.Rows[1].Recorded = 42e3 }},
		{"The line made fewer roll changes than the model expects, by 25 %. Look first at the length of the parent rolls", func(a *match.Answer) { a.Rows[2].Recorded = 300 }, func(a *match.Answer) { a.Rows[2].Recorded = 390 }},
		{"Look first at the good web: the roll changes follow it.", func(a *match.Answer) { a.Rows[0].Recorded, a.Rows[2].Recorded = 1e6, 300 }, func(a *match.Answer) { a.Rows[2].Recorded = 300 }},
		{"How often \"web break\" stopped the line differs, though distributions were fitted to it", func(a *match.Answer) { a.Rows[4].Recorded, a.Rows[4].Fitted = 60, true },
			func(a *match.Answer) { a.Rows[4].Recorded = 60 }},
	} {
		a := agreeing()
		x.is(a)
		assert.Contains(t, strings.Join(MatchSentences(a, model.Metric), " "), x.says)
		a = agreeing()
		x.beside(a)
		assert.NotContains(t, strings.Join(MatchSentences(a, model.Metric), " "), x.says)
	}
	a := agreeing()
	a.Rows = []match.Row{{Figure: match.Waste, Unit: "m", Recorded: 5}}
	assert.Contains(t, MatchSentences(a, model.Metric)[0], "The line made more waste where the model expects none.")
}

func TestMatchTexts(t *testing.T) {
	a := agreeing()
	text := func(r match.Row, sys model.System) string {
		x, y, z := MatchTexts(r, sys)
		return x + " | " + y + " | " + z + " | " + MatchVerdictOf(r)
	}
	assert.Equal(t, "1300 km | 1310 km | 1280–1340 km | agrees", text(a.Rows[0], model.Metric))
	assert.Equal(t, "4265 thousand ft | 4298 thousand ft | 4199–4396 thousand ft | agrees", text(a.Rows[0], model.Imperial))
	assert.Equal(t, "41.0 km | 40.0 km | 38.0–42.0 km | agrees", text(a.Rows[1], model.Metric))
	assert.Equal(t, "400 | 401.5 | 390–410 | agrees", text(a.Rows[2], model.Metric))
	assert.Equal(t, "9.0 h | 9.5 h | 7.0–12.0 h | agrees", text(a.Rows[3], model.Metric))
	for r, says := range map[match.Row]string{{Recorded: 5, Low: 1, High: 4}: "more", {Recorded: 0, Low: 1, High: 4}: "less", {Recorded: 4, Low: 1, High: 4}: "agrees",
		{Recorded: 5, Low: 1, High: 4, Fitted: true}: "fitted", {Recorded: 5, Missing: true}: "not in the model"} {
		assert.Equal(t, says, MatchVerdictOf(r))
	}
	assert.Contains(t, MatchNote(a), "one recorded figure in 20 differs by chance")
	assert.Contains(t, MatchNote(a), "of 199 simulated periods; 95 %")
	a.Records = true
	assert.Contains(t, MatchNote(a), "of 199 simulated periods, each with distributions as another record of as many values would have given them; 95 %")
	assert.Equal(t, "Recorded in 500 h", MatchTitle(a))
	a.Lines = 3
	assert.Equal(t, "Recorded in 500 h on 3 lines", MatchTitle(a))
	assert.Contains(t, LastsAsLong(nil, 0.01), "within 1 %")
	assert.Contains(t, LastsAsLong([]LastsLonger{{"jam", 60, 90}}, 0.01), `"jam" 90 s, recorded 1 min`)
}

func TestRecordedFacts(t *testing.T) {
	x := func(v float64) *float64 { return &v }
	r := &model.Period{Hours: 100 * 3600, Good: x(500e3), Waste: x(20e3), RollChanges: x(150), Stopped: x(12 * 3600)}
	facts, below := RecordedFacts(r, 1, 1.5, model.Metric)
	assert.Equal(t, []Fact{{"good web", "500 km", "83.33 m/min a line; at best 90 m/min"}, {"waste", "20.0 km", "3.85 % of good web and waste"},
		{"roll changes", "150", "1.5 a planned hour"}, {"stopped", "12.0 h", "12 % of the planned hours"}}, facts)
	assert.Empty(t, below)
	_, below = RecordedFacts(r, 1, 1.3, model.Metric)
	assert.Equal(t, "The records say 83.33 m/min of good web and the line as described makes 78 m/min at best: look at its speed, and at the hours and the unit of the records.", below)
	_, below = RecordedFacts(r, 2, 1.3, model.Metric)
	assert.Empty(t, below, "two lines share it")
}
