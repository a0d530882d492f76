package words

import (
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"

	"rollchange/model"
	"rollchange/scenarios/fit"
	"rollchange/scenarios/learn"
	"rollchange/scenarios/records"
)

// quiet is a cause of which nothing more is to be said.
func quiet() learn.Cause {
	none := fit.Evenness{P: math.NaN()}
	d := model.Dist{Law: model.Lognormal, A: 300, B: 100}
	known := fit.Result{N: 40, Answer: d, Why: fit.Best, Laws: []fit.Fitted{{Dist: d}}, Judged: fit.Judgement{P: 0.4}, Order: fit.Serial{R: 0.1, P: 0.5}}
	return learn.Cause{Text: "jam", Is: learn.Stop, Stops: 40, Rate: fit.Rate(40, 360000, 0.95), Between: known, Lasts: known, Every: d, Repair: d,
		Trend: fit.Trends{LaplaceP: 0.5, ChanceP: 0.5}, Calendar: fit.ByCalendar{Shift: none, Weekday: none, Month: none}}
}

// Each sentence is said where it is true, and not a little beside.
func TestFitSentences(t *testing.T) {
	uneven := fit.Even([]int{60, 10, 10}, []float64{36000, 36000, 36000}, 0.95, 1)
	values := model.Dist{Law: model.Empirical, Values: []float64{60, 600}}
	for _, x := range []struct {
		says       string
		is, beside func(c *learn.Cause)
	}{
		{"Also spelt JAM.", func(c *learn.Cause) { c.Spellings = []string{"JAM"} }, func(c *learn.Cause) {}},
		{"a rate with its limits, no law of the time between", func(c *learn.Cause) { c.OneRate = true }, func(c *learn.Cause) {}},
		{"No end is given for 2 stops.", func(c *learn.Cause) { c.Open = 2 }, func(c *learn.Cause) { c.Open = 0 }},
		{"12 of 20 durations are multiples of five minutes: they count as rounded to five minutes.", func(c *learn.Cause) { c.Lasts.Heaping = fit.Heaping{Minutes: 20, Fives: 12, Found: true} }, func(c *learn.Cause) { c.Lasts.Heaping = fit.Heaping{Minutes: 20, Fives: 12} }},
		{"3 rows shorter than the recording limit", func(c *learn.Cause) { c.Lasts.Below = 3 }, func(c *learn.Cause) {}},
		{"It became more frequent over the period (Laplace p 0.002, military handbook p 0.5)", func(c *learn.Cause) { c.Trend.Laplace, c.Trend.LaplaceP = 3, 0.002 }, func(c *learn.Cause) { c.Trend.Laplace, c.Trend.LaplaceP = 3, 0.02 }},
		{"It became less frequent over the period", func(c *learn.Cause) { c.Trend.Laplace, c.Trend.LaplaceP = -3, 0.002 }, func(c *learn.Cause) { c.Trend.Laplace, c.Trend.LaplaceP = 3, 0.002 }},
		{"It became less frequent over the period", func(c *learn.Cause) { c.Trend.Handbook, c.Trend.Degrees, c.Trend.ChanceP = 120, 80, 0.001 }, func(c *learn.Cause) { c.Trend.Handbook, c.Trend.Degrees, c.Trend.ChanceP = 40, 80, 0.001 }},
		{"Successive durations are alike (rank correlation 0.50", func(c *learn.Cause) { c.Lasts.Order = fit.Serial{R: 0.5, P: 0.001} }, func(c *learn.Cause) { c.Lasts.Order = fit.Serial{R: 0.5, P: 0.02} }},
		{"Successive times between are unlike", func(c *learn.Cause) { c.Between.Order = fit.Serial{R: -0.5, P: 0.001} }, func(c *learn.Cause) { c.Between.Order = fit.Serial{R: 0.5, P: 0.001} }},
		{"The rate changes by shift: from 06:00 6/h, from 14:00 1/h, from 22:00 1/h (p below 0.001).", func(c *learn.Cause) { c.Calendar.Shift = uneven }, func(c *learn.Cause) { c.Calendar.Weekday = uneven }},
		{"The rate changes by weekday: Su 6/h, Mo 1/h", func(c *learn.Cause) { c.Calendar.Weekday = uneven }, func(c *learn.Cause) { c.Calendar.Month = uneven }},
		{"The rate changes by month: Jan 6/h", func(c *learn.Cause) { c.Calendar.Month = uneven }, func(c *learn.Cause) { c.Calendar.Shift = uneven }},
		{"No duration above the longest recorded, 10 min, will be drawn", func(c *learn.Cause) { c.Repair = values }, func(c *learn.Cause) { c.Every = values }},
		{"No time between above the longest recorded, 10 min, will be drawn", func(c *learn.Cause) { c.Every = values }, func(c *learn.Cause) { c.Repair = values }},
	} {
		c := quiet()
		assert.Empty(t, FitSentences(&c), "a quiet cause")
		x.is(&c)
		assert.Contains(t, strings.Join(FitSentences(&c), "\n"), x.says)
		c = quiet()
		x.beside(&c)
		assert.NotContains(t, strings.Join(FitSentences(&c), "\n"), x.says)
	}
	l := &learn.Line{Causes: []learn.Cause{quiet()}}
	assert.Empty(t, FitUneven(l))
	l.Causes[0].Calendar.Month = uneven
	assert.Empty(t, FitUneven(l), "nobody plans by the month")
	l.Causes[0].Calendar.Shift = uneven
	assert.Contains(t, FitUneven(l), "--planned")
}

func TestFitLaw(t *testing.T) {
	c := quiet()
	assert.Equal(t, "lognormal, mean 5 min, sd 100 s; p 0.4", FitLaw(c.Lasts))
	r := c.Lasts
	weibull := model.Dist{Law: model.Weibull, A: 2, B: 60, Least: 30}
	r.Why, r.Laws = fit.Tied, []fit.Fitted{{Dist: c.Repair, Tied: true}, {Dist: weibull, Tied: true}, {Dist: model.Dist{Law: model.Gamma, A: 1, B: 1}}}
	assert.Equal(t, "lognormal, mean 5 min, sd 100 s; p 0.4; as good: Weibull from 30 s (the longest tail is taken)", FitLaw(r))
	r.Why, r.Answer, r.Judged.P = fit.NoLaw, model.Dist{Law: model.Empirical, Values: []float64{60, 120}}, 0.0001
	assert.Equal(t, "2 values as they are, mean 90 s: the best law, lognormal, is refused (p below 0.001)", FitLaw(r))
	r.Why = fit.TooFew
	assert.Equal(t, "2 values as they are, mean 90 s; too few for a law", FitLaw(r))
	assert.Equal(t, "always 10 min, in every row", FitLaw(fit.Result{Why: fit.Same, Answer: model.Const(600)}))
	assert.Equal(t, "not known: none has ended", FitLaw(fit.Result{Why: fit.NoValue}))
	rate, limits := FitRateText(fit.Rate(2, 6*3600, 0.95))
	assert.Equal(t, "0.33", rate)
	assert.Equal(t, "0.04–1.20", limits)
	rate, limits = FitRateText(fit.Rate(1, 6*3600, 0.95))
	assert.Equal(t, [2]string{"0.167", "too wide"}, [2]string{rate, limits})
	_, limits = FitRateText(fit.Rate(0, 6*3600, 0.95))
	assert.Equal(t, "0.00–0.61", limits)
}

// What was taken off is said, and where nothing is left; a law that was assumed too.
func TestLogComments(t *testing.T) {
	c := quiet()
	say := LogComments{}
	assert.Equal(t, "observed = 40; maximum likelihood, p 0.4", say.Repair(&c, 0, true))
	assert.Equal(t, "observed = 40; maximum likelihood, p 0.4; 31.5 s of walk, waits and ramps taken off a mean of 5 min", say.Repair(&c, 31.5, true))
	assert.Contains(t, say.Repair(&c, 400, false), "a twentieth of it is left")
	assert.NotContains(t, say.Every(&c), "assumed")
	c.OneRate = true
	assert.Contains(t, say.Every(&c), "too few for a law, exponential is assumed")
	c.Is = learn.WebBreak
	assert.Contains(t, say.Every(&c), "running time by the speed of the line")
}

// Every kind of finding has words, and says that its row was left out where it was.
func TestFindingTexts(t *testing.T) {
	seen := map[string]bool{}
	for k := records.NoStart; k <= records.NextDay; k++ {
		s := FindingText(records.Finding{Kind: k, Row: 3, Text: "x", Other: 2, Seconds: -60})
		assert.NotEmpty(t, strings.TrimSuffix(s, ": left out"), k.String())
		assert.Equal(t, k.LeftOut(), strings.HasSuffix(s, ": left out"), s)
		assert.False(t, seen[s], s)
		seen[s] = true
	}
	assert.Equal(t, "Found by row (2; 1 row left out)", LogFindings([]records.Finding{{Kind: records.Double}, {Kind: records.Zero}}))
	assert.Equal(t, "Nothing was found wrong in any row", LogFindings(nil))
	assert.Empty(t, LogApart(&records.Log{}))
	assert.Equal(t, "Left out as told: 2 rows of causes that are not stops, 1 row of other lines", LogApart(&records.Log{Ignored: 2, OtherLines: 1}))
}

// How a log was read is said as it is: what was decided by the data, what was assumed.
func TestLogUnderstood(t *testing.T) {
	text := func(u records.Understood) string {
		var b strings.Builder
		for _, p := range LogUnderstood(&u) {
			b.WriteString(p.Label + ": " + p.Text + "\n")
		}
		return b.String()
	}
	none := text(records.Understood{})
	for _, s := range []string{"dates", "decimal", "rounding", "midnight", "order", "sheet", "durations"} {
		assert.NotContains(t, none, s+":")
	}
	assert.Contains(t, none, "head: none")
	all := text(records.Understood{Sheet: "S1", HeadRow: 2, Above: 1, Columns: []records.Column{{Role: records.Start, At: 2, Head: "Beginn", Why: records.ByHead}}, Dates: records.DayFirst, DatesWhy: records.ByDay, DatesRow: 9,
		Decimal: ',', DecimalWhy: records.Given, Unit: 60, UnitWhy: records.Assumed, Pair: 3600, PairWhy: records.ByEnd, Falling: true, Swapped: true, Zone: "Europe/Berlin", Midnight: 1, Start: records.Step{Seconds: 60, Fives: 0.5}})
	for _, s := range []string{"sheet: \"S1\"", "head: row 2; 1 row above it not read", "start: column 2 \"Beginn\", by its head", "dates: day first, a day is above 12 (row 9)", "decimal: comma, as given", "a number alone is 1 min, assumed",
		"before a single colon are hours, it agrees with the time from start to end", "the newest row is first", "clock: Europe/Berlin", "midnight: 1 stop ended on the next day", "rounding: each start to 1 min; 50 % are multiples of five minutes", "the columns headed start and end are swapped"} {
		assert.Contains(t, all, s)
	}
	assert.NotContains(t, all, "on the wall")
}

// What to do next is said where it helps, and not a little beside.
func TestFitNext(t *testing.T) {
	line := func(change func(l *learn.Line)) string {
		l := &learn.Line{Log: &records.Log{}, Planned: 360000, Stopped: 36000, Causes: []learn.Cause{quiet()}}
		if change != nil {
			change(l)
		}
		return strings.Join(FitNext(l), "\n")
	}
	assert.Empty(t, line(nil))
	for _, x := range []struct {
		says       string
		is, beside func(l *learn.Line)
	}{
		{"left out (2)", func(l *learn.Line) {
			l.Log.Findings = []records.Finding{{Kind: records.Double}, {Kind: records.NoClock}}
		}, func(l *learn.Line) { l.Log.Findings = []records.Finding{{Kind: records.Zero}} }},
		{"the order of day and month, which was assumed; --dates", func(l *learn.Line) {
			l.Log.Understood.Dates, l.Log.Understood.DatesWhy = records.DayFirst, records.Assumed
		}, func(l *learn.Line) {
			l.Log.Understood.Dates, l.Log.Understood.DatesWhy = records.DayFirst, records.ByDay
		}},
		{"the decimal mark, which was assumed; --decimal", func(l *learn.Line) { l.Log.Understood.Decimal, l.Log.Understood.DecimalWhy = ',', records.Assumed }, func(l *learn.Line) { l.Log.Understood.Decimal, l.Log.Understood.DecimalWhy = ',', records.Given }},
		{"unless --planned gives", func(l *learn.Line) { l.Causes[0].Calendar.Shift.P = 1e-4 }, func(l *learn.Line) { l.Causes[0].Calendar.Month.P = 1e-4 }},
		{`No law fits "jam": there may be two kinds`, func(l *learn.Line) { l.Causes[0].Lasts.Why = fit.NoLaw }, func(l *learn.Line) { l.Causes[0].Lasts.Why, l.Causes[0].Lasts.Taken = fit.NoLaw, -1 }},
		{`The rate of "jam" changed`, func(l *learn.Line) { l.Causes[0].Trend.LaplaceP = 0.001 }, func(l *learn.Line) { l.Causes[0].Trend.LaplaceP = 0.02 }},
		{`Too few stops for a law of the time between: "jam".`, func(l *learn.Line) { l.Causes[0].OneRate = true }, func(l *learn.Line) {}},
	} {
		assert.Contains(t, line(x.is), x.says)
		assert.NotContains(t, line(x.beside), x.says)
	}
	assert.Equal(t, []string{"rollchange fit 'my stops.csv' --into line.toml -o fitted.toml", "rollchange compare fitted.toml"}, FitUse("my stops.csv"))
}

func TestFitAnswer(t *testing.T) {
	l := &learn.Line{Planned: 360000, Stopped: 36000, Causes: []learn.Cause{quiet()}}
	assert.Equal(t, []string{"The line stood still for 10 h of 4.167 d planned, 10 %."}, FitAnswer(l), "one cause takes all")
	l.Causes[0].Lost, l.Causes[0].Share = 18000, 0.5
	for _, share := range []float64{0.35, 0.15} {
		c := quiet()
		c.Share = share
		l.Causes = append(l.Causes, c)
	}
	assert.Equal(t, `Most was lost to "jam": 5 h in 40 stops, 50 % of what was lost; the first 2 of 3 causes took 85 %.`, FitAnswer(l)[1])
}

func TestFitProposals(t *testing.T) {
	l := &learn.Line{}
	for _, text := range []string{"Bahnriss", "it's a roll change", "Kein Auftrag", "make-ready", "knife jam", "knive jam"} {
		c := quiet()
		c.Text = text
		l.Causes = append(l.Causes, c)
	}
	assert.Equal(t, []Pair{{"--map 'Bahnriss=web_breaks'", "its name is that of a web break"}, {`--map "it's a roll change=unwind.change_time"`, "its name is that of a roll change at the unwind"},
		{"--map 'Kein Auftrag=not a stop'", "its name says that no production was planned"}, {"--map 'make-ready=jobs.changeover'", "its name is that of a changeover"}, {"--same 'knive jam=knife jam'", "the two are spelt nearly alike"}}, FitProposals(l))
	l.Causes = l.Causes[4:5]
	assert.Empty(t, FitProposals(l))
}
