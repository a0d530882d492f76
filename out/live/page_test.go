package live

import (
	"bytes"
	"encoding/json"
	"fmt"
	"io/fs"
	"os"
	"path"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"golang.org/x/net/html"

	made "rollchange/out/invented"
	"rollchange/out/live/lzma"
	"rollchange/out/picture"
	"rollchange/out/words"
	"rollchange/sim/effort"
)

// mocked is a page around the stand-in for the engine, which is changed: each pair is a
// piece of it and what stands in its place. In the usual form an answer is sure after
// fewer steps, each of which is drawn, where nothing else is changed.
func mocked(t testing.TB, p Page, pairs ...string) []byte {
	t.Helper()
	glue, err := os.ReadFile("testdata/mock.js")
	require.NoError(t, err)
	if !effort.Long() && len(pairs) == 0 {
		pairs = []string{"need: 20", "need: 8", "Math.min(20, mock.done + 1)", "Math.min(8, mock.done + 1)", "mock.done < 20", "mock.done < 8"}
	}
	if effort.Long() {
		pairs = append(pairs, "Atomics.wait(lock, 0, 0, ms)", "{ for (const end = performance.now() + ms; performance.now() < end; ); }")
	}
	text := string(glue)
	for i := 0; i < len(pairs); i += 2 {
		require.Contains(t, text, pairs[i])
		text = strings.ReplaceAll(text, pairs[i], pairs[i+1])
	}
	var page bytes.Buffer
	module := lzma.Pack([]byte("\x00asm\x01\x00\x00\x00")) // the least module there is
	require.NoError(t, p.write(&page, parts{module, text, "a licence"}))
	return page.Bytes()
}

const invented = `title = "Label press, an invented line"
[line]
speed = "150 m/min"
[[alternative]]
name = "by hand"
[[alternative]]
name = "automatic unwind"
[[alternative]]
name = "automatic unwind and rewind"
`

// scriptFiles are all scripts of the page and the worker's, by name.
func scriptFiles(t testing.TB) map[string]string {
	t.Helper()
	files := map[string]string{"worker.js": fileOf("worker.js")}
	list, err := fs.Glob(pageFiles, "script/*.js")
	require.NoError(t, err)
	for _, name := range list {
		files[name] = fileOf(name)
	}
	return files
}

// Every script is in the page, and once.
func TestEveryScriptIsInThePage(t *testing.T) {
	var there []string
	for name := range scriptFiles(t) {
		if name != "worker.js" {
			there = append(there, strings.TrimSuffix(path.Base(name), ".js"))
		}
	}
	assert.ElementsMatch(t, there, scripts)
}

// What a person or a file wrote enters the page as text: no script makes elements or
// code of a text.
func TestNoScriptMakesElementsOfText(t *testing.T) {
	unsafe := regexp.MustCompile(`innerHTML|outerHTML|insertAdjacentHTML|document\.write|\beval\b|new Function|DOMParser|createContextualFragment|setHTML|srcdoc|javascript:|importScripts|\bfetch\b|XMLHttpRequest|WebSocket|sendBeacon|localStorage|console\.`)
	for name, text := range scriptFiles(t) {
		assert.Empty(t, unsafe.FindAllString(text, -1), name)
	}
	assert.Equal(t, []string{"innerHTML", "eval"}, unsafe.FindAllString("x.innerHTML = 1; eval(y); evaluate(z)", -1), "the test sees what it looks for")
}

// pageOf reads a page as a browser does.
func pageOf(t testing.TB, data []byte) *html.Node {
	t.Helper()
	n, err := html.Parse(bytes.NewReader(data))
	require.NoError(t, err)
	return n
}

// all are the elements of a kind, with their text.
func all(n *html.Node, kind string) (list []*html.Node) {
	for x := range n.Descendants() {
		if x.Type == html.ElementNode && x.Data == kind {
			list = append(list, x)
		}
	}
	return list
}

func attribute(n *html.Node, name string) string {
	for _, a := range n.Attr {
		if a.Key == name {
			return a.Val
		}
	}
	return ""
}

func inner(n *html.Node) string {
	var b strings.Builder
	for x := range n.Descendants() {
		if x.Type == html.TextNode {
			b.WriteString(x.Data)
		}
	}
	return b.String()
}

// The policy allows what is inlined by its hash, a compiled engine, a worker of the
// page, and nothing else; the hashes are those of what a browser reads.
func TestPolicyAllowsWhatIsInlined(t *testing.T) {
	page := pageOf(t, mocked(t, Page{Name: "press.toml", Text: invented, Version: "1"}))
	policy := ""
	for _, m := range all(page, "meta") {
		if attribute(m, "http-equiv") == "Content-Security-Policy" {
			policy = attribute(m, "content")
		}
	}
	var script string
	for _, s := range all(page, "script") {
		if attribute(s, "type") == "" {
			require.Empty(t, script, "one script alone runs")
			script = inner(s)
		}
	}
	styles := all(page, "style")
	require.Len(t, styles, 1)
	assert.Equal(t, "default-src 'none'; script-src 'wasm-unsafe-eval' "+hash(script)+"; style-src "+hash(inner(styles[0]))+"; worker-src blob:; child-src blob:; img-src data:; base-uri 'none'; form-action 'none'", policy)
	for x := range page.Descendants() {
		for _, a := range x.Attr {
			assert.False(t, a.Key == "style" || strings.HasPrefix(a.Key, "on") || a.Key == "src", "%s of %s", a.Key, x.Data)
		}
	}
}

// hostiles are names and texts that want to be more than text.
var hostiles = []string{`</script><script>alert(1)</script>`, `<img src=x onerror=alert(1)>`, `<!--<script>`, `]]>`, "\u202eevil", `{{.Data}}`, `'"` + "`" + `${alert(1)}`, strings.Repeat("W", 200), "a\u2028b"}

// A scenario, whatever is in it, comes out of the page as it went in, and is never
// more than data.
func TestScenarioIsData(t *testing.T) {
	want := len(all(pageOf(t, mocked(t, Page{Name: "a", Text: "b", Version: "1"})), "script"))
	for _, x := range hostiles {
		page := pageOf(t, mocked(t, Page{Name: x, Text: x, Title: x, Vary: []string{x}, Files: map[string][]byte{x: []byte(x)}, Version: x}))
		require.Len(t, all(page, "script"), want, "%q", x)
		require.Empty(t, all(page, "img"), "%q", x)
		var read dataOf
		require.NoError(t, json.Unmarshal([]byte(inner(byID(page, "data"))), &read))
		assert.Equal(t, &opened{x, x, []string{x}, map[string][]byte{x: []byte(x)}}, read.Open)
	}
}

func byID(n *html.Node, id string) *html.Node {
	for x := range n.Descendants() {
		if attribute(x, "id") == id {
			return x
		}
	}
	return nil
}

var verbs = regexp.MustCompile(`%[s%]`)

// Every language has every word, with the same things to fill in.
func TestLanguagesHaveTheSameWords(t *testing.T) {
	require.Contains(t, words.Languages(wordFiles), "en")
	want, err := wordsOf("en")
	require.NoError(t, err)
	for _, lang := range words.Languages(wordFiles) {
		is, err := wordsOf(lang)
		require.NoError(t, err)
		require.Len(t, is, len(want), lang)
		for table, phrases := range want {
			require.Len(t, is[table], len(phrases), "%s: %s", lang, table)
			for key, s := range phrases {
				assert.NotEmpty(t, is[table][key], "%s: %s.%s", lang, table, key)
				assert.Equal(t, verbs.FindAllString(s, -1), verbs.FindAllString(is[table][key], -1), "%s: %s.%s", lang, table, key)
				assert.NotRegexp(t, `%[^s%]|%$`, s, "%s.%s", table, key)
			}
		}
	}
	_, err = wordsOf("../en")
	assert.Error(t, err)
}

// Every phrase is used by a script or the page, and every phrase that they use is there.
func TestEveryPhraseIsUsed(t *testing.T) {
	said, err := wordsOf("en")
	require.NoError(t, err)
	used := map[string]bool{"page.made": true} // by page.go
	for _, text := range scriptFiles(t) {
		for _, m := range regexp.MustCompile(`say\(\w*\W{0,20}"([a-z]+\.[a-z_]+)"`).FindAllStringSubmatch(text, -1) {
			used[m[1]] = true
		}
		for _, m := range regexp.MustCompile(`"([a-z]+\.[a-z_]+)"`).FindAllStringSubmatch(text, -1) { // chosen between
			if table, key, _ := strings.Cut(m[1], "."); said[table][key] != "" {
				used[m[1]] = true
			}
		}
	}
	for _, m := range regexp.MustCompile(`\.W\.([a-z]+\.[a-z_]+)`).FindAllStringSubmatch(fileOf("page.html"), -1) {
		used[m[1]] = true
	}
	// Those that are put together: the states and the parts of an answer.
	for _, kind := range []string{"rough", "nearly", "sure", "waiting", "working"} {
		used["status."+kind] = true
	}
	for _, part := range regexp.MustCompile(`\["(\w+)", (?:\w+Part\(|sentences)`).FindAllStringSubmatch(fileOf("script/answer.js"), -1) {
		used["answer."+part[1]] = true
	}
	for table, phrases := range said {
		for key := range phrases {
			assert.True(t, used[table+"."+key], "%s.%s is not used", table, key)
			delete(used, table+"."+key)
		}
	}
	assert.Empty(t, used, "phrases that are not there")
}

// Text on the page stands out from its ground in light and dark (W3C, Web Content
// Accessibility Guidelines 2.2, criteria 1.4.3 and 1.4.11), and no text is smaller than 11 px.
func TestColoursAndSizesCanBeRead(t *testing.T) {
	style := fileOf("style.css")
	blocks := regexp.MustCompile(`(?s):root \{(.*?)\}`).FindAllStringSubmatch(style, -1)
	require.Len(t, blocks, 3, "light, dark and print")
	for i, block := range blocks {
		c := map[string][3]float64{}
		for _, m := range regexp.MustCompile(`--(\w+): (#[0-9a-f]{3,6})\b`).FindAllStringSubmatch(block[1], -1) {
			c[m[1]] = colourOf(m[2])
		}
		least := func(what, on string, want float64) {
			assert.GreaterOrEqual(t, made.Contrast(c[what], c[on]), want, "%d: %s on %s", i, what, on)
		}
		for _, ink := range []string{"ink", "quiet", "accent", "fault"} {
			least(ink, "paper", 4.5)
			least(ink, "tint", 4.5)
		}
		if i < 2 {
			least("link", "paper", 4.5)
			least("link", "tint", 4.5)
			least("edge", "paper", 3)
			least("bar", "paper", 3)
		}
		for _, line := range []string{"deep", "sum", "limit"} {
			least(line, "paper", 3)
		}
	}
	for _, m := range regexp.MustCompile(`font(?:-size)?: (?:[a-z]+ )?([\d.]+)(px|rem|pt)`).FindAllStringSubmatch(style, -1) {
		var size float64
		_, err := fmt.Sscan(m[1], &size)
		require.NoError(t, err)
		size *= map[string]float64{"px": 1, "rem": 15, "pt": 96. / 72}[m[2]] // 1 rem is 15 px on a telephone
		assert.GreaterOrEqual(t, size, 10.5, m[0])
		if m[2] != "pt" {
			assert.GreaterOrEqual(t, size, 11.0, m[0])
		}
	}
}

func colourOf(s string) (c [3]float64) {
	s = s[1:]
	if len(s) == 3 {
		s = s[:1] + s[:1] + s[1:2] + s[1:2] + s[2:] + s[2:]
	}
	var r, g, b int
	fmt.Sscanf(s, "%02x%02x%02x", &r, &g, &b)
	return [3]float64{float64(r) / 255, float64(g) / 255, float64(b) / 255}
}

// Fills of the page are those of the pictures, and a hatching that the page cannot draw
// is not among them.
func TestFillsCanBeDrawn(t *testing.T) {
	var read dataOf
	require.NoError(t, json.Unmarshal([]byte(inner(byID(pageOf(t, mocked(t, Page{Version: "1"})), "data"))), &read))
	require.Contains(t, read.Fills.Causes, "web_break")
	fills := slices.Concat(read.Fills.Stops, []picture.Fill{read.Fills.Other})
	for _, f := range read.Fills.Causes {
		fills = append(fills, f)
	}
	for _, f := range fills {
		assert.Regexp(t, `^#[0-9a-f]{6}$`, f.Colour)
		assert.Contains(t, fileOf("script/fills.js"), f.Hatch+": [", f.Hatch)
	}
}
