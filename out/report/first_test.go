package report

import (
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"golang.org/x/net/html"

	"rollchange/model"
	"rollchange/sim/effort"
	"rollchange/sim/match"
	"rollchange/sim/whatif"
)

// partOf is the element with an id.
func partOf(t *testing.T, n *html.Node, id string) *html.Node {
	t.Helper()
	var found *html.Node
	each(n, func(k *html.Node) {
		if attr(k, "id") == id {
			found = k
		}
	})
	require.NotNil(t, found, id)
	return found
}

// firstPage is the text of what is read and signed, each paragraph on a line of its own.
func firstPage(t *testing.T, n *html.Node) string {
	t.Helper()
	var b strings.Builder
	each(n, func(k *html.Node) {
		if k.Data == "header" || attr(k, "class") == "first" {
			each(k, func(x *html.Node) {
				switch x.Data {
				case "h1", "h2", "h3", "p", "th", "td", "dt", "dd":
					b.WriteString(textOf(x) + "\n")
				}
			})
		}
	})
	return b.String()
}

// What a person gave stands at the head and where it is signed; what nobody gave is a line
// to fill in by hand, on the screen of a reader too.
func TestTheHeadIsWhatWasGiven(t *testing.T) {
	if testing.Short() {
		t.Skip("long")
	}
	c := made(t, shipped(t, "label_press"))
	c.Cover = model.Cover{}
	text := firstPage(t, parsed(t, written(t, c)))
	assert.Contains(t, text, "Customer\nto be filled in by hand\nAuthor\nto be filled in by hand\nDate\nto be filled in by hand\n")
	assert.Contains(t, text, "Accepted by\nName\nto be filled in by hand\nDate\nto be filled in by hand\nSignature\nto be filled in by hand\n")
	assert.Contains(t, text, "The question\nWhich of 3 ways to equip or run this line is worth it")
	assert.Equal(t, 9, strings.Count(text, "to be filled in by hand"))

	s := *c.Scenario
	s.Study.Cover = model.Cover{Customer: "Example Labels", Author: "A. Planner", Date: "2026-03-31", Question: "Does it pay in two years?"}
	c.Scenario = &s
	text = firstPage(t, parsed(t, written(t, c)))
	for _, want := range []string{"Customer\nExample Labels\nAuthor\nA. Planner\nDate\n2026-03-31\n", "The question\nDoes it pay in two years?\n", "Written by\nName\nA. Planner\nDate\n2026-03-31\nSignature\nto be filled in by hand\n", "Accepted for Example Labels by\n"} {
		assert.Contains(t, text, want)
	}
	assert.NotContains(t, text, "Which of 3 ways")

	c.Cover = model.Cover{Author: "B. Other"} // a flag
	text = firstPage(t, parsed(t, written(t, c)))
	assert.Contains(t, text, "Customer\nExample Labels\nAuthor\nB. Other\nDate\n2026-03-31\n")
}

// The first line of the answer is money where there are prices, else output; before or
// after tax is named with every amount that hangs on it.
func TestTheFirstLineIsMoney(t *testing.T) {
	for i, x := range []struct {
		of, first string
		has, not  []string
	}{
		{"label_press", `^“[^”]+” saves [0-9,]+ EUR a year before tax`, []string{"payback before tax, years (median)\n", "net present value before tax, over ", "good web sold, km\n", " – ", "planned hours needed, h\n", "web wasted, km\n"}, []string{"availability, %"}},
		{"laminator", `^“[^”]+” saves [0-9,]+ EUR a year before tax`, []string{"payback after tax, years (median)\n", "net present value after tax, over "}, []string{"before tax, years"}},
		{"two", `^(It is not shown that )?“quicker” saves `, []string{"payback before tax, years (median)\n"}, []string{"after tax"}},
		{"little", `^“base” makes [0-9.]+`, []string{"good web, m/min\n", "availability, %\n", "total waste, %\n", "What stops “base” longest"}, []string{"payback", "net present value", "web wasted"}},
	} {
		if i == 1 && testing.Short() {
			continue // it is simulated here alone
		}
		text := map[string]string{"two": two, "little": little}[x.of]
		if text == "" {
			text = shipped(t, x.of)
		}
		page := parsed(t, written(t, made(t, text)))
		first := ""
		each(partOf(t, page, "answer"), func(k *html.Node) {
			if k.Data == "p" && first == "" {
				first = textOf(k)
			}
		})
		assert.Regexp(t, x.first, first, x.of)
		says := firstPage(t, page)
		assert.NotRegexp(t, `[0-9]e[-−+]?[0-9]`, says, x.of)
		for _, s := range x.has {
			assert.Contains(t, says, s, x.of)
		}
		for _, s := range x.not {
			assert.NotContains(t, says, s, x.of)
		}
	}
}

// Each assumption stands with its value and with the note of the scenario, or with the
// number of values that were recorded of it; three at most, those that move the answer most.
func TestAssumptionsHaveTheirSources(t *testing.T) {
	c := made(t, shipped(t, "label_press"))
	base := c.chosen().Random.NPV.Mean
	swing := func(key string, by float64) whatif.Swing {
		return whatif.Swing{Key: key, At: [3]whatif.Setting{{Text: "low"}, {Text: "base"}, {Text: "high"}}, Low: base - by, Base: base, Up: base + by}
	}
	s := *c.Stakes
	s.Swings = map[string][]whatif.Swing{"npv": {swing("line.speed", 9e5), swing("economics.price", 8e5), swing("crew.operators", 0), swing("run.horizon", 7e5), swing("web.width", 6e5)}}
	c.Stakes = &s
	var rows []string
	each(partOf(t, parsed(t, written(t, c)), "assumptions"), func(k *html.Node) {
		if k.Data == "tr" {
			var cells []string
			each(k, func(x *html.Node) {
				if x.Data == "th" || x.Data == "td" {
					cells = append(cells, textOf(x))
				}
			})
			rows = append(rows, strings.Join(cells, " | "))
		}
	})
	require.Len(t, rows, 4, "a head and three")
	assert.Regexp(t, `^line speed \| 120 m/min \| at low: −900,000 EUR; at high: \+900,000 EUR \| `, rows[1])
	for i, key := range []string{"line.speed", "economics.price"} {
		_, source := c.sourceOf(key)
		require.NotEmpty(t, source, key)
		assert.True(t, strings.HasSuffix(rows[1+i], " | "+source), rows[1+i])
	}
	assert.True(t, strings.HasSuffix(rows[3], " | no source given"), rows[3])
	given, source := c.sourceOf("first.hours_per_year")
	assert.Equal(t, "4000 h", given)
	assert.NotEmpty(t, source)
	assert.Equal(t, "37", observed("lognormal, mean 4 min, sd 1 min, observed 37"))
	assert.Empty(t, observed("normal, mean 7500 m"))
	for law, says := range map[string]string{
		"120 m/min": "120 m/min",
		"triangular, min 50000 km, mode 56000 km, max 64000 km": "50000 km to 64000 km, most likely 56000 km",
		"uniform, min 0.15, max 0.21":                           "0.15 to 0.21, evenly",
		"normal, mean 7500 m, sd 250 m, observed 40":            "mean 7500 m, standard deviation 250 m, observed 40",
		"normal, mean 7500 m, cv 0.1":                           "normal, mean 7500 m, cv 0.1",
		"lognormal, mean 9 min, sd 3 min":                       "lognormal, mean 9 min, sd 3 min",
	} {
		assert.Equal(t, says, plainLaw(law))
	}
}

// What the line made stands beside the model where it is recorded, and no head of it where not.
func TestRecordedStandsBesideModelled(t *testing.T) {
	c := made(t, shipped(t, "label_press"))
	assert.NotContains(t, firstPage(t, parsed(t, written(t, c))), "Does the model match the line?")
	c.Match = &match.Answer{Alternative: "by hand", Hours: 3.6e6, Lines: 1, Periods: 199, Confidence: 0.95, Rows: []match.Row{
		{Figure: match.Good, Unit: "m", Recorded: 9e5, Mean: 1e6, Low: 9.5e5, High: 1.05e6}, {Figure: match.CauseTime, Hold: "web_break", Unit: "s", Recorded: 1, Mean: 1}}}
	text := firstPage(t, parsed(t, written(t, c)))
	assert.Contains(t, text, "good web\n900 km\n1000 km\n950–1050 km\nless\n")
	assert.NotContains(t, text, "web break\n")
}

// No target is shown that nobody set.
func TestNoTargetThatNobodySet(t *testing.T) {
	c := made(t, shipped(t, "label_press"))
	w := *c.Storage
	c.Storage = &w
	for _, x := range []struct {
		risk whatif.Risk
		said bool
	}{{whatif.Risk{}, false}, {whatif.Risk{Share: 1e-3, Text: "0.1 %"}, true}} {
		w.Limits.Risk = x.risk
		n := parsed(t, written(t, c))
		assert.Equal(t, x.said, strings.Contains(textOf(n), "The horizontal line is the target that was set, 0.1 %."))
		assert.Equal(t, x.said, strings.Contains(textOf(partOf(t, n, "fig-storage")), "target: "), "in the picture")
	}
}

// quantity is a figure by what it is of, wherever it stands.
func quantity(of string) string {
	return strings.NewReplacer(".row.", ".", ".first.", ".", ".mean", "", ".median", "").Replace(of)
}

// A figure reads the same wherever it stands: in the tables of the first page, in those of the
// appendix, in the sentences and at the base of the pictures.
func TestOneFigureReadsTheSameEverywhere(t *testing.T) {
	effort.NotInRace(t)
	for _, name := range effort.Some([]string{"label_press", "laminator"}, 1) {
		c := made(t, shipped(t, name))
		n := parsed(t, written(t, c))
		texts := map[string]map[string]bool{}
		count := map[string]int{}
		each(n, func(k *html.Node) {
			of := attr(k, "data-of")
			if of == "" || strings.HasSuffix(of, ".median") && !strings.Contains(of, ".simple.") && !strings.Contains(of, ".discounted.") ||
				strings.HasSuffix(of, ".mean") && (strings.Contains(of, ".simple.") || strings.Contains(of, ".discounted.") || strings.Contains(of, ".irr.") || strings.Contains(of, ".mirr.") || strings.Contains(of, ".sir.")) {
				return // the median of an amount is another figure than its mean, and so is the mean of a payback
			}
			q := quantity(of)
			if texts[q] == nil {
				texts[q] = map[string]bool{}
			}
			texts[q][textOf(k)], count[q] = true, count[q]+1
		})
		several := 0
		for q, t1 := range texts {
			assert.Len(t, t1, 1, "%s: %s", name, q)
			if count[q] > 1 {
				several++
			}
		}
		assert.Greater(t, several, 8, "figures that stand in several places")

		of := func(figure string) string {
			for text := range texts[ofCase(c.Answer, figure)] {
				return text
			}
			t.Fatal(figure)
			return ""
		}
		all := strings.ReplaceAll(textOf(n), "\n", " ")
		currency := c.chosen().Currency
		recommended := name2(c.chosen().Alternative)
		for _, x := range []struct{ pattern, want string }{
			{recommended + ` saves ([0-9,]+) ` + currency + ` a year before tax`, of("savings.total")},
			{`of them lie in ([0-9,−]+ – [0-9,−]+)\)`, of("savings.total.span")},
			{`The investment of ([0-9,]+) ` + currency, of("investment")},
			{regexp.QuoteMeta(c.chosen().Alternative) + `: investment ([0-9,]+) ` + currency, of("investment")},
			{`is paid back in ([0-9.]+) years`, of("simple")},
			{`at [0-9.]+ %(?: \(mean\))? is ([0-9,−]+) ` + currency + ` \(mean;`, of("npv")},
			{`base ([0-9,−]+) ` + currency, of("npv")},
		} {
			found := regexp.MustCompile(x.pattern).FindAllStringSubmatch(all, -1)
			assert.NotEmpty(t, found, x.pattern)
			for _, m := range found {
				assert.Equal(t, x.want, m[1], "%s: %s", name, m[0])
			}
		}
	}
}

func name2(s string) string { return regexp.QuoteMeta("“" + name(s) + "”") }
