package report

import (
	"bytes"
	"context"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
	"golang.org/x/net/html"

	"rollchange/model"
	"rollchange/out/words"
	"rollchange/scenarios"
	"rollchange/sim/replicate"
	"rollchange/sim/whatif"
)

// kept are the contents of pages by the text of their scenario.
var kept = map[string]*Content{}

// made simulates, in short, all that a page of a scenario is made from; once for
// all tests.
func made(t testing.TB, text string) *Content {
	t.Helper()
	if kept[text] == nil {
		kept[text] = simulated(t, text)
	}
	return copied(kept[text])
}

func simulated(t testing.TB, text string) *Content {
	t.Helper()
	s, err := scenarios.Parse("line.toml", []byte(text), ".", scenarios.Override{Key: "run.replications", Value: "3"}, scenarios.Override{Key: "run.horizon", Value: "4 d"})
	require.NoError(t, err)
	ctx := context.Background()
	rs, err := replicate.Simulate(ctx, &s.Study, replicate.Options{})
	require.NoError(t, err)
	c := &Content{About: words.About{Version: "0.0.0-test", Title: s.Study.Title, File: s.Name, SHA256: "0123456789abcdef"}, Lang: "en", Scenario: s, Results: rs, Command: "rollchange report line.toml -o report.html"}
	c.Answer = -1
	value(c, &s.Study)
	sweep := func(of *scenarios.Scenario, axis whatif.Axis) *whatif.Sweep {
		w, err := whatif.NewSweep(of, []whatif.Axis{axis}, whatif.Usual())
		require.NoError(t, err)
		for k := range w.Points {
			require.NoError(t, w.Simulate(ctx, of, k, replicate.Options{}))
		}
		return w
	}
	axis, ends, err := whatif.SpeedAxis(s)
	require.NoError(t, err)
	c.Speed, c.SpeedEnds = sweep(s, axis), ends
	for i := range s.Study.Alternatives {
		if whatif.Tells(&s.Study.Alternatives[i].Line) == 2 {
			one := whatif.Only(s, i)
			axis, ok, err := whatif.StorageAxis(one, 0)
			require.NoError(t, err)
			require.True(t, ok)
			c.Storage, c.StorageOf, c.CycleOf = sweep(one, axis), i, i
		}
	}
	c.Cycle, err = whatif.RollChange(ctx, &s.Study.Alternatives[c.CycleOf].Line, s.Study.Run)
	require.NoError(t, err)
	c.SweptHow, c.SwungHow = words.Head(rs.Run), words.Head(rs.Run)
	good := rs.Alternatives[c.Answer].Metrics["good_rate"]
	moved := func(base, half float64) []whatif.Swing {
		return []whatif.Swing{{Key: "line.speed", At: [3]whatif.Setting{{Text: "108 m/min"}, {Text: "120 m/min"}, {Text: "132 m/min"}}, Low: 0.9 * base, Base: base, Up: 1.1 * base, BaseHalf: half}}
	}
	c.Stakes = &whatif.Sensitivities{Alternative: rs.Alternatives[c.Answer].Alternative, Share: 0.1, Metrics: []string{"good_rate"}, Swings: map[string][]whatif.Swing{"good_rate": moved(good.Mean, good.HalfWidth)}}
	if k := c.chosen(); k != nil {
		c.Stakes.Against, c.Stakes.Currency, c.Stakes.Taxed = k.Against, k.Currency, k.Taxed()
		c.Stakes.Metrics = append(c.Stakes.Metrics, "npv")
		c.Stakes.Swings["npv"] = moved(k.Random.NPV.Mean, 0)
	}
	c.Chance = &whatif.Sensitivities{Alternative: rs.Alternatives[c.Answer].Alternative, Period: 4 * 86400, Varies: map[string]whatif.Varies{
		"good_rate": {SD: 0.02, Periods: 60, Sources: []whatif.Source{{Key: "jobs.length", Share: 0.8, Half: 0.2}, {Key: "unwind.dwell", Share: 0.3, Half: 0.4}}}}}
	return c
}

// value makes the savings cases of a study, and chooses the one that is told of in full
// where none is.
func value(c *Content, study *model.Study) {
	c.Cases, c.NoCase, c.Rank = Cases(study, c.Results)
	if c.Answer < 0 {
		c.Answer = Choose(c.Results, &c.Rank.Steps)
	}
	if k := c.chosen(); k != nil {
		k.Explain()
	}
}

// shipped is the text of a shipped scenario.
func shipped(t testing.TB, name string) string {
	for _, x := range scenarios.Templates() {
		if x.Name == name {
			return string(x.Text)
		}
	}
	t.Fatalf("no shipped scenario %q", name)
	return ""
}

func written(t testing.TB, c *Content) []byte {
	t.Helper()
	var b bytes.Buffer
	require.NoError(t, Write(&b, c))
	return b.Bytes()
}

func parsed(t testing.TB, data []byte) *html.Node {
	t.Helper()
	n, err := html.Parse(bytes.NewReader(data))
	require.NoError(t, err)
	return n
}

// each visits the elements of a page in order.
func each(n *html.Node, visit func(*html.Node)) {
	if n.Type == html.ElementNode {
		visit(n)
	}
	for k := n.FirstChild; k != nil; k = k.NextSibling {
		each(k, visit)
	}
}

func attr(n *html.Node, key string) string {
	for _, a := range n.Attr {
		if a.Key == key {
			return a.Val
		}
	}
	return ""
}

func textOf(n *html.Node) string {
	if n.Type == html.TextNode {
		return n.Data
	}
	var b strings.Builder
	for k := n.FirstChild; k != nil; k = k.NextSibling {
		b.WriteString(textOf(k))
	}
	return b.String()
}
