package report

import (
	"bytes"
	"fmt"
	"image"
	"image/gif"
	"image/jpeg"
	"image/png"
	"maps"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"golang.org/x/net/html"

	"rollchange/model"
	"rollchange/out/invented"
	"rollchange/sim/effort"
)

// nasty are texts that a person, or somebody else, may have put into a scenario.
func nasty() map[string]string {
	return map[string]string{
		"script":     `<script>alert(1)</script>`,
		"attribute":  `" onmouseover="alert(1)" x="`,
		"end":        `</title></style></svg><img src=https://example.invalid/x onerror=alert(1)>`,
		"formula":    `=cmd("x")!A1`,
		"template":   `{{.Scenario}} %s %d %!`,
		"comment":    `--><!-- ]]>`,
		"right":      "\u202eright to left\u202c שלום مرحبا",
		"combining":  "a" + strings.Repeat("\u0301\u0336", 50000),
		"long":       strings.Repeat("very long name ", 7000),
		"one word":   strings.Repeat("W", 100000),
		"wide":       strings.Repeat("自動", 300),
		"javascript": `javascript:alert(1)`,
	}
}

// Whatever stands in titles, names, notes and sources, the page stays sound and
// below 1 MB, and the text stays text.
func TestHostileText(t *testing.T) {
	effort.NotInRace(t)
	texts := nasty()
	if !effort.Long() { // the usual form has what is markup, what is long and what is wide
		names := []string{"end", "long", "wide"}[:effort.Of(1, 3, 3)]
		maps.DeleteFunc(texts, func(name, _ string) bool { return !slices.Contains(names, name) })
	}
	for what, s := range texts {
		t.Run(what, func(t *testing.T) {
			short := strings.TrimSpace(strings.ToValidUTF8(s[:min(200, len(s))], "")) // names are no longer
			text := strings.NewReplacer(
				`title = "Label press, short runs"`, "title = "+quote(short),
				`name = "by hand"`, "name = "+quote(short),
				`source = "invented for this example: ten changes timed with a stop watch"`, "source = "+quote(s),
				`name = "plate cleaning"`, "name = "+quote(short),
				`currency = "EUR"`, "currency = "+quote(short),
				`source = "invented for this example: one week of the press log"`, "source = "+quote(s),
			).Replace(shipped(t, "label_press"))
			text += fmt.Sprintf("\n[report]\ncustomer = %[1]s\nauthor = %[1]s\nquestion = %[1]s\n", quote(short))
			c := made(t, text)
			for _, cover := range []model.Cover{{}, {Customer: s, Author: s, Date: s, Question: s}} { // of the scenario, of flags, which are as long as they like
				c.Cover = cover
				n := parsed(t, written(t, c))
				assert.Empty(t, faults(n))
				assert.Less(t, len(firstPage(t, n)), 12000, "what is signed is as long as a person can read")
			}
			c.Title, c.About.File = s, s
			c.Plan = invented.Plan(3, 3, func(string, int) string { return s })
			data := written(t, c)
			// The scenario itself stands in the page, and as a link to save it.
			assert.Less(t, len(data)-3*len(text), 1<<20)
			sound(t, data)
			n := parsed(t, data)
			each(n, func(k *html.Node) {
				if k.Data == "text" || k.Data == "title" || k.Data == "th" || k.Data == "td" || k.Data == "h1" {
					assert.Less(t, len(textOf(k)), 6000, "%s: as long as a person can read", k.Data)
				}
			})
			assert.NotContains(t, withoutScenario(n), "\u202e", "no text turns the direction of what follows it")
		})
	}
}

// quote writes a basic string of TOML.
func quote(s string) string {
	return `"` + strings.NewReplacer(`\`, `\\`, `"`, `\"`).Replace(s) + `"`
}

func withoutScenario(n *html.Node) string {
	var b strings.Builder
	var walk func(*html.Node)
	walk = func(k *html.Node) {
		if k.Type == html.TextNode {
			b.WriteString(k.Data)
		}
		if k.Data == "pre" {
			return
		}
		for x := k.FirstChild; x != nil; x = x.NextSibling {
			walk(x)
		}
	}
	walk(n)
	return b.String()
}

func TestLogos(t *testing.T) {
	small := image.NewGray(image.Rect(0, 0, 8, 8))
	encode := func(f func(*bytes.Buffer) error) []byte {
		var b bytes.Buffer
		require.NoError(t, f(&b))
		return b.Bytes()
	}
	pngData := encode(func(b *bytes.Buffer) error { return png.Encode(b, small) })
	huge := encode(func(b *bytes.Buffer) error { return png.Encode(b, image.NewGray(image.Rect(0, 0, 5000, 2))) })
	svg := `<svg xmlns="http://www.w3.org/2000/svg" width="9" height="9"><script>alert(1)</script><image href="https://example.invalid/x.png"/></svg>`
	for _, x := range []struct {
		name string
		data []byte
		kind string // or, after !, what is said against it
	}{
		{"png", pngData, "data:image/png;"},
		{"jpeg", encode(func(b *bytes.Buffer) error { return jpeg.Encode(b, small, nil) }), "data:image/jpeg;"},
		{"svg", []byte(svg), "data:image/svg+xml;"},
		{"svg with a head", []byte("<?xml version=\"1.0\"?>\n<!-- a -->\n" + svg), "data:image/svg+xml;"},
		{"gif", encode(func(b *bytes.Buffer) error { return gif.Encode(b, small, nil) }), "!not a PNG, JPEG or SVG"},
		{"html", []byte("<!DOCTYPE html><html></html>"), "!document type"},
		{"html as svg", []byte("<html><svg xmlns=\"http://www.w3.org/2000/svg\"/></html>"), "!not a PNG, JPEG or SVG"},
		{"entities", []byte("<!DOCTYPE svg [<!ENTITY a \"b\">]>" + svg), "!document type"},
		{"broken", pngData[:len(pngData)-20], "!damaged"},
		{"broken svg", []byte(svg[:60]), "!not a PNG, JPEG or SVG"},
		{"text", []byte("logo"), "!not a PNG, JPEG or SVG"},
		{"empty", nil, "!not a PNG, JPEG or SVG"},
		{"large", append(pngData, make([]byte, mostLogo)...), "!larger than 500 kB"},
		{"huge", huge, "!at most 4000 a side"},
	} {
		path := filepath.Join(t.TempDir(), "logo")
		require.NoError(t, os.WriteFile(path, x.data, 0o600))
		l, err := ReadLogo(path)
		if says, bad := strings.CutPrefix(x.kind, "!"); bad {
			assert.ErrorContains(t, err, says, x.name)
			continue
		}
		require.NoError(t, err, x.name)
		assert.True(t, strings.HasPrefix(string(l.url), x.kind), x.name)
	}
	_, err := ReadLogo("/no/such/logo")
	assert.ErrorContains(t, err, "cannot be read")

	c := made(t, shipped(t, "label_press"))
	c.Logo, _ = newLogo([]byte(svg))
	data := written(t, c)
	sound(t, data)
	found := false
	each(parsed(t, data), func(k *html.Node) {
		found = found || k.Data == "img" && strings.HasPrefix(attr(k, "src"), "data:image/svg+xml;base64,")
	})
	assert.True(t, found, "an SVG logo is an image, nothing that could run")
}

// Text of the page has a contrast of 4.5 to what is behind it, on white and on
// the tint of code; what marks the focus and draws lines of controls 3.
// Source: W3C, Web Content Accessibility Guidelines 2.2, 1.4.3 and 1.4.11.
func TestContrast(t *testing.T) {
	css, err := pageFiles.ReadFile("style.css")
	require.NoError(t, err)
	colours := map[string][3]float64{}
	for _, m := range regexp.MustCompile(`--(\w+): #([0-9a-f]{6});`).FindAllStringSubmatch(string(css), -1) {
		var c [3]float64
		for i := range c {
			v, err := strconv.ParseUint(m[2][2*i:2*i+2], 16, 8)
			require.NoError(t, err)
			c[i] = float64(v) / 255
		}
		colours[m[1]] = c
	}
	for _, text := range []string{"ink", "quiet", "link", "accent"} {
		for _, ground := range []string{"paper", "tint"} {
			require.Contains(t, colours, text)
			assert.GreaterOrEqual(t, invented.Contrast(colours[text], colours[ground]), 4.5, "%s on %s", text, ground)
		}
	}
	used := regexp.MustCompile(`(?:^|[ ;{])color: ([^;]+);`).FindAllStringSubmatch(string(css), -1)
	for _, m := range used {
		assert.Contains(t, []string{"var(--ink)", "var(--quiet)", "var(--link)", "var(--accent)", "inherit"}, m[1], "every colour of text is one that is tested")
	}
	assert.InDelta(t, 21, invented.Contrast([3]float64{}, [3]float64{1, 1, 1}), 1e-9)
}

// The colours of the text in the pictures of a page, too; white text stands on fills.
func TestContrastInPictures(t *testing.T) {
	effort.NotInRace(t)
	style := regexp.MustCompile(`fill:#([0-9A-Fa-f]{6})`)
	seen := map[string]bool{}
	each(parsed(t, written(t, made(t, shipped(t, "label_press")))), func(k *html.Node) {
		if m := style.FindStringSubmatch(attr(k, "style")); k.Data == "text" && m != nil {
			seen[m[1]] = true
		}
	})
	require.Greater(t, len(seen), 2)
	for c := range seen {
		var x [3]float64
		_, err := fmt.Sscanf(c[:2]+" "+c[2:4]+" "+c[4:], "%x %x %x", new(int), new(int), new(int))
		require.NoError(t, err)
		for i := range x {
			v, _ := strconv.ParseUint(c[2*i:2*i+2], 16, 8)
			x[i] = float64(v) / 255
		}
		if c != "FFFFFF" {
			assert.GreaterOrEqual(t, invented.Contrast(x, [3]float64{1, 1, 1}), 4.5, "#%s on white", c)
		}
	}
}
