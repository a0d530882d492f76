package report

import (
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"golang.org/x/net/html"
)

// What a page may be made of, for the elements that it uses: where an element may stand,
// what may stand in it, and its attributes beside the global ones. Source: WHATWG, HTML
// Living Standard, 4 (content models) and 3.2.6 (global attributes); SVG 2 for what is in
// a picture; from memory, held against the Nu checker (TestTheNuChecker).
const phrasing = "a abbr b bdi br code img small span svg #text"

const flow = phrasing + " header nav main section div dl p ul ol figure details pre table h1 h2 h3"

var contents = map[string]string{
	"html": "head body", "head": "meta link title style", "title": "#text", "style": "#text", "body": flow,
	"header": flow, "nav": flow, "main": flow, "section": flow, "div": flow, "li": flow, "dd": flow, "td": flow, "figcaption": flow,
	"figure": flow + " figcaption", "details": flow + " summary", "summary": phrasing + " h2 h3",
	"h1": phrasing, "h2": phrasing, "h3": phrasing, "p": phrasing, "pre": phrasing, "a": phrasing, "b": phrasing, "bdi": phrasing, "code": phrasing, "small": phrasing, "span": phrasing,
	"dt": phrasing, "caption": flow, "th": flow, "ul": "li", "ol": "li", "dl": "div dt dd",
	"table": "caption thead tbody", "thead": "tr", "tbody": "tr", "tr": "th td",
	"svg": "title desc g path text", "g": "title desc g path text", "text": "#text", "path": "", "desc": "#text",
	"meta": "", "link": "", "img": "", "br": "",
}

var attributes = map[string]string{
	"html": "", "meta": "charset name content http-equiv", "link": "rel href", "a": "href download", "img": "src alt", "th": "scope colspan", "td": "colspan",
	"svg": "viewbox", "g": "transform", "path": "d", "text": "x y transform",
}

const globals = "id class lang style tabindex role title aria-label aria-labelledby aria-describedby"

// faults are what a page breaks of the rules above.
func faults(n *html.Node) []string {
	var list []string
	say := func(format string, a ...any) { list = append(list, fmt.Sprintf(format, a...)) }
	ids := map[string]int{}
	each(n, func(k *html.Node) { ids[attr(k, "id")]++ })
	each(n, func(k *html.Node) {
		allowed, known := contents[k.Data]
		if !known {
			say("no such element in a page: %s", k.Data)
			return
		}
		var kids []*html.Node
		for x := k.FirstChild; x != nil; x = x.NextSibling {
			name := x.Data
			switch {
			case x.Type == html.TextNode && strings.TrimSpace(x.Data) == "":
				continue
			case x.Type == html.TextNode:
				name = "#text"
			}
			kids = append(kids, x)
			in := allowed
			if k.Data == "div" && k.Parent.Data == "dl" {
				in = "dt dd"
			}
			if !slices.Contains(strings.Fields(in), name) {
				say("%s in %s: %.40q", name, k.Data, textOf(x))
			}
		}
		for _, a := range k.Attr {
			if !slices.Contains(strings.Fields(globals+" "+attributes[k.Data]), strings.ToLower(a.Key)) && !strings.HasPrefix(a.Key, "data-") {
				say("%s has an attribute %s", k.Data, a.Key)
			}
			switch a.Key {
			case "id":
				if ids[a.Val] > 1 || a.Val == "" || strings.ContainsAny(a.Val, " \t\n") {
					say("id %q: twice, empty or with a space", a.Val)
				}
			case "aria-labelledby", "aria-describedby", "for":
				for _, id := range strings.Fields(a.Val) {
					if ids[id] == 0 {
						say("%s refers to no id: %s", a.Key, id)
					}
				}
			}
		}
		first := func(tag string, least int) { // at most one, and before all others
			for i, x := range kids {
				if x.Data == tag && i > 0 {
					say("%s is not the first in %s", tag, k.Data)
				}
			}
			if least > 0 && (len(kids) == 0 || kids[0].Data != tag) {
				say("%s has no %s", k.Data, tag)
			}
		}
		switch k.Data {
		case "figure":
			for i, x := range kids {
				if x.Data == "figcaption" && i > 0 && i < len(kids)-1 {
					say("figcaption stands in the middle of a figure")
				}
			}
		case "details":
			first("summary", 1)
		case "table":
			first("caption", 0)
		case "dl":
			for _, x := range kids {
				if x.Data != kids[0].Data {
					say("dl mixes div with dt and dd")
				}
			}
		case "div":
			if k.Parent.Data == "dl" && (len(kids) < 2 || kids[0].Data != "dt" || kids[len(kids)-1].Data != "dd") {
				say("a group of dl is no dt before dd")
			}
		case "img":
			if attr(k, "alt") == "" {
				say("img has no alt")
			}
		case "section":
			if attr(k, "aria-labelledby") == "" {
				say("section has no name")
			}
		case "a":
			for x := k.Parent; x != nil; x = x.Parent {
				if x.Data == "a" {
					say("a in a")
				}
			}
		case "span", "p", "bdi", "small":
			if attr(k, "aria-label") != "" && attr(k, "role") == "" {
				say("%s of no role has a label", k.Data)
			}
		}
	})
	return list
}

// The pages break no rule of HTML that is known here; each rule is broken by a text that
// shows it.
func TestPagesAreValid(t *testing.T) {
	for name, data := range validated(t) {
		assert.Empty(t, faults(parsed(t, data)), name)
	}
	page := func(body string) string {
		return `<!DOCTYPE html><html lang="en"><head><title>x</title></head><body>` + body + `</body></html>`
	}
	assert.Empty(t, faults(parsed(t, []byte(page(`<p>a <b>b</b></p>`)))))
	for _, x := range [][2]string{
		{`<figure><div>a</div><figcaption>b</figcaption><details><summary>c</summary></details></figure>`, "in the middle"},
		{`<figure><details><p>a</p></details></figure>`, "details has no summary"},
		{`<p id="a">a</p><p id="a">b</p>`, `id "a"`},
		{`<ul><p>a</p></ul>`, "p in ul"},
		{`<span><p>a</p></span>`, "p in span"},
		{`<dl><div><dd>a</dd><dt>b</dt></div></dl>`, "no dt before dd"},
		{`<dl><p>a</p></dl>`, "p in dl"},
		{`<p align="left">a</p>`, "attribute align"},
		{`<p aria-label="x">a</p>`, "of no role"},
		{`<blink>a</blink>`, "no such element"},
		{`<section><h2>a</h2></section>`, "no name"},
		{`<section aria-labelledby="x"><h2>a</h2></section>`, "no id: x"},
		{`<img src="data:,">`, "no alt"},
	} {
		assert.Contains(t, strings.Join(faults(parsed(t, []byte(page(x[0])))), "; "), x[1], x[0])
	}
}

// validated are the pages that are checked: with all that a page may have, and with little.
func validated(t *testing.T) map[string][]byte {
	t.Helper()
	full := made(t, shipped(t, "label_press"))
	full.Cover.Customer, full.Cover.Question = `<b>"Example" & Co.</b>`, "Does it pay?"
	full.Logo, _ = newLogo([]byte(`<svg xmlns="http://www.w3.org/2000/svg" width="9" height="9"></svg>`))
	return map[string][]byte{"full": written(t, full), "little": written(t, made(t, little)), "log": writtenLog(t, shippedLog(t, nil))}
}

// The Nu checker finds nothing where it is installed: ROLLCHANGE_VNU names its jar, of the
// npm package vnu-jar or its own releases.
func TestTheNuChecker(t *testing.T) {
	jar := os.Getenv("ROLLCHANGE_VNU")
	if jar == "" {
		t.Skip("ROLLCHANGE_VNU does not name vnu.jar")
	}
	for name, data := range validated(t) {
		path := filepath.Join(t.TempDir(), name+".html")
		require.NoError(t, os.WriteFile(path, data, 0o600))
		out, err := exec.Command("java", "-jar", jar, path).CombinedOutput()
		assert.NoError(t, err, "%s: %s", name, out)
	}
}
