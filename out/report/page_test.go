package report

import (
	"bytes"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"golang.org/x/net/html"

	"rollchange/sim/effort"
)

// Every page of a shipped scenario is sound HTML that anybody can read.
func TestPagesAreSound(t *testing.T) {
	effort.NotInRace(t)
	for _, name := range effort.Some([]string{"label_press", "laminator", "bagger", "slitter"}, 1) {
		t.Run(name, func(t *testing.T) {
			c := made(t, shipped(t, name))
			data := written(t, c)
			assert.Less(t, len(data), 1<<20, "a page is below 1 MB")
			sound(t, data)
			assert.Equal(t, data, written(t, c), "the same content gives the same bytes")
			figures := 0
			each(parsed(t, data), func(n *html.Node) {
				if n.Data == "figure" {
					figures++
				}
			})
			assert.GreaterOrEqual(t, figures, 9)
		})
	}
}

var void = []string{"meta", "link", "img", "br", "hr"}

// sound checks what a parser forgives and a reader does not.
func sound(t *testing.T, data []byte) {
	t.Helper()
	balanced(t, data)
	ids := map[string]int{}
	var refs, levels []string
	tables := 0
	each(parsed(t, data), func(n *html.Node) {
		assert.NotContains(t, []string{"script", "iframe", "object", "embed", "form", "base", "audio", "video", "foreignobject", "use", "image"}, strings.ToLower(n.Data), "an element that has no place in a page")
		for _, a := range n.Attr {
			assert.False(t, strings.HasPrefix(a.Key, "on"), "%s has %s", n.Data, a.Key)
			switch a.Key {
			case "id":
				ids[a.Val]++
			case "href", "src", "action", "srcset", "poster", "background":
				assert.True(t, strings.HasPrefix(a.Val, "#") || strings.HasPrefix(a.Val, "data:"), "%s asks for %.60s", n.Data, a.Val)
				if strings.HasPrefix(a.Val, "#") && n.Data == "a" {
					refs = append(refs, a.Val[1:])
				}
			case "aria-labelledby", "aria-describedby":
				refs = append(refs, a.Val)
			case "style":
				assert.NotContains(t, a.Val, "url(")
			}
		}
		switch n.Data {
		case "html":
			assert.Equal(t, "en", attr(n, "lang"))
		case "h1", "h2", "h3", "h4":
			levels = append(levels, n.Data[1:])
			assert.NotEmpty(t, strings.TrimSpace(textOf(n)))
		case "img":
			assert.NotEmpty(t, attr(n, "alt"))
		case "svg":
			assert.Equal(t, "img", attr(n, "role"))
			require.NotNil(t, n.FirstChild)
			assert.Equal(t, "title", n.FirstChild.Data)
			assert.Greater(t, len(textOf(n.FirstChild)), 10)
			assert.Equal(t, "desc", n.FirstChild.NextSibling.Data)
			assert.Greater(t, len(textOf(n.FirstChild.NextSibling)), 40)
		case "table":
			tables++
			even(t, n)
		case "th":
			assert.Contains(t, []string{"col", "row", "rowgroup"}, attr(n, "scope"))
		case "figure":
			found := map[string]int{}
			each(n, func(k *html.Node) { found[k.Data]++ })
			for _, tag := range []string{"svg", "figcaption"} {
				assert.Equal(t, 1, found[tag], "%s has one %s", attr(n, "id"), tag)
			}
			data := n.NextSibling
			for data != nil && data.Type != html.ElementNode {
				data = data.NextSibling
			}
			if assert.NotNil(t, data) {
				assert.Equal(t, "details", data.Data, "the data of %s stand behind it", attr(n, "id"))
				each(data, func(k *html.Node) { found[k.Data]++ })
				assert.Equal(t, 1, found["table"], "%s has one table", attr(n, "id"))
			}
		case "style":
			assert.NotContains(t, textOf(n), "url(")
			assert.NotContains(t, textOf(n), "@import")
		}
	})
	for id, n := range ids {
		assert.Equal(t, 1, n, "id %s", id)
	}
	for _, r := range refs {
		assert.Contains(t, ids, r, "a reference to nothing")
	}
	assert.Greater(t, tables, 4)
	require.NotEmpty(t, levels)
	assert.Equal(t, "1", levels[0])
	for i := 1; i < len(levels); i++ {
		a, _ := strconv.Atoi(levels[i-1])
		b, _ := strconv.Atoi(levels[i])
		assert.True(t, b > 1 && b <= a+1, "heading %d: h%d after h%d", i, b, a)
	}
}

// even checks that every row of a table has as many cells as its head.
func even(t *testing.T, n *html.Node) {
	want := 0
	each(n, func(r *html.Node) {
		if r.Data != "tr" {
			return
		}
		cells := 0
		for k := r.FirstChild; k != nil; k = k.NextSibling {
			if k.Type != html.ElementNode {
				continue
			}
			span, err := strconv.Atoi(attr(k, "colspan"))
			if err != nil {
				span = 1
			}
			cells += span
		}
		if want == 0 {
			want = cells
		}
		assert.Equal(t, want, cells, "cells of %q", textOf(r))
	})
	assert.Greater(t, want, 1)
}

// balanced checks that every element that is opened is closed, in order.
func balanced(t *testing.T, data []byte) {
	t.Helper()
	var open []string
	z := html.NewTokenizer(bytes.NewReader(data))
	for {
		kind := z.Next()
		if kind == html.ErrorToken {
			break
		}
		name, _ := z.TagName()
		tag := string(name)
		switch {
		case kind == html.StartTagToken && !slices.Contains(void, tag):
			open = append(open, tag)
		case kind == html.EndTagToken:
			require.NotEmpty(t, open, "</%s> closes nothing", tag)
			require.Equal(t, open[len(open)-1], tag, "closed out of order")
			open = open[:len(open)-1]
		}
	}
	assert.Empty(t, open)
}

// A page begins with a way past the head, and every box that scrolls can be
// reached by keyboard and has a name.
func TestKeyboard(t *testing.T) {
	n := parsed(t, written(t, made(t, shipped(t, "label_press"))))
	first := (*html.Node)(nil)
	boxes := 0
	each(n, func(k *html.Node) {
		if k.Data == "a" && first == nil {
			first = k
		}
		if attr(k, "class") == "scroll" {
			boxes++
			assert.Equal(t, "0", attr(k, "tabindex"))
			assert.NotEmpty(t, attr(k, "aria-label"))
			assert.Equal(t, "group", attr(k, "role"))
		}
	})
	assert.Equal(t, "#report", attr(first, "href"))
	assert.Greater(t, boxes, 10)
}

// The page holds the whole text of the scenario, what made it and the command
// that makes it again.
func TestPageCanBeMadeAgain(t *testing.T) {
	c := made(t, shipped(t, "label_press"))
	n := parsed(t, written(t, c))
	all := textOf(n)
	for _, s := range []string{c.About.SHA256, c.About.Version, c.Command, "seed"} {
		assert.Contains(t, all, s)
	}
	found := false
	each(n, func(k *html.Node) { found = found || k.Data == "pre" && textOf(k) == string(c.Scenario.Text) })
	assert.True(t, found, "the text of the scenario, to the byte")
}

// One alternative, no prices, one replication: the page says what it lacks.
func TestPageOfLittle(t *testing.T) {
	c := made(t, little)
	data := written(t, c)
	sound(t, data)
	all := textOf(parsed(t, data))
	for _, s := range []string{"What does this line make", "No savings are calculated", "the scenario has only one", "no source given", "No alternative uses a storage", "line.toml"} {
		assert.Contains(t, all, s)
	}
	c.Results.Run.Replications = 1
	assert.Contains(t, textOf(parsed(t, written(t, c))), "One replication gives no confidence interval")
}

// paragraphs is the text of a page, each element on a line of its own; the
// scenario, styles and what stands for pictures left out.
func paragraphs(t *testing.T, data []byte) string {
	t.Helper()
	var b strings.Builder
	var walk func(*html.Node)
	walk = func(n *html.Node) {
		if n.Type == html.TextNode {
			b.WriteString(n.Data)
		}
		for k := n.FirstChild; k != nil; k = k.NextSibling {
			switch k.Data {
			case "pre", "style", "nav", "svg", "head":
				continue
			case "p", "li", "td", "th", "caption", "figcaption", "h1", "h2", "h3", "dd", "tr":
				b.WriteString("\n")
			}
			walk(k)
		}
	}
	walk(parsed(t, data))
	return b.String()
}
