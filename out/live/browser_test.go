package live

import (
	"fmt"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"rollchange/sim/effort"
)

// Parts that stick out of the page, and text that is too small.
const (
	opened_   = `document.querySelectorAll('details').forEach(d => d.open = true);`
	sticksOut = `(() => { const wide = document.documentElement.clientWidth; const bad = [];
		if (document.documentElement.scrollWidth > wide) bad.push('the page is ' + document.documentElement.scrollWidth + ' wide of ' + wide);
		for (const e of document.querySelectorAll('body *')) { if (e.closest('pre, textarea, .unseen, .patterns') || e.closest('thead') && wide < 600 || e.matches('.skip')) continue;
			const r = e.getBoundingClientRect(); if (r.width && (r.right > wide + 1 || r.left < -1)) bad.push(e.tagName + '.' + (e.getAttribute('class') || '') + ' ' + r.left + ' to ' + r.right + ' ' + e.textContent.slice(0, 40)); }
		return bad; })()`
	tooSmall = `(() => { const bad = new Set(); for (const e of document.querySelectorAll('body *')) { if (!e.getBoundingClientRect().width || ![...e.childNodes].some(n => n.nodeType == 3 && n.textContent.trim())) continue;
		const m = e.getScreenCTM ? e.getScreenCTM() : null, size = parseFloat(getComputedStyle(e).fontSize) * (m ? Math.hypot(m.a, m.b) : 1); if (size < 11) bad.add(e.tagName + ' ' + size + ' ' + e.textContent.slice(0, 30)); } return [...bad]; })()`
	covers = `(() => { const bad = []; for (const s of document.querySelectorAll('.plot')) { const t = [...s.querySelectorAll('text')].map(x => [x.textContent, x.getBoundingClientRect()]);
		for (let i = 0; i < t.length; i++) for (let j = 0; j < i; j++) { const a = t[i][1], b = t[j][1]; if (Math.min(a.right, b.right) - Math.max(a.left, b.left) > 1 && Math.min(a.bottom, b.bottom) - Math.max(a.top, b.top) > 2) bad.push(t[i][0] + ' on ' + t[j][0]); } } return bad; })()`
)

// At the width of a telephone, a tablet and a desk, light and dark, no part of the page
// sticks out, no text is small, no two texts of a picture lie on each other; it asks for
// nothing and complains of nothing. Names may be long, or want to be more than names.
func TestLaidOutAtEveryWidth(t *testing.T) {
	t.Parallel()
	ctx := chromium(t)
	pages := map[string]Page{
		"press":   {Name: "press.toml", Text: invented},
		"hostile": {Name: "press.toml", Text: hostileText()},
		"tool":    {},
		"broken":  {Name: strings.Repeat("W", 100) + ".toml", Text: "title = 1\nbroken = \"" + strings.Repeat("W", 300) + "\"\n"},
	}
	widths := []int64{320, 360, 768, 1280}
	if !effort.Long() { // the hostile one is laid out alike, and the others between
		widths = []int64{320, 1280}
		delete(pages, "press")
		delete(pages, "tool")
	}
	for name, page := range pages {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			page.Version = "test"
			p := opens(t, ctx, mocked(t, page))
			for _, wide := range widths {
				p.again(wide)
				if strings.Contains(page.Text, "[[alternative]]") {
					p.until(`!document.getElementById('work').hidden`)
					p.sure()
					do[any](p, `T.slide('line speed', 200)`)
					p.sure()
					do[any](p, `T.press('Keep this case')`)
					do[any](p, `T.write('operators', 'two')`)
					p.until(`T.field('operators').hasAttribute('aria-invalid')`)
				} else {
					p.until(`!document.getElementById('start').hidden && document.querySelector('.shipped button') != null`)
				}
				for _, scheme := range []string{"light", "dark"} {
					p.media("", scheme)
					p.pictured(fmt.Sprintf("%s-%d-%s.png", name, wide, scheme))
					assert.Empty(t, do[[]string](p, opened_+sticksOut), "at %d px, %s", wide, scheme)
					assert.Empty(t, do[[]string](p, tooSmall), "at %d px, %s", wide, scheme)
					assert.Empty(t, do[[]string](p, covers), "at %d px, %s", wide, scheme)
				}
			}
			assert.False(t, do[bool](p, `Boolean(globalThis.harmed) || document.querySelector('img, iframe, object') != null`))
			p.quiet()
		})
	}
}

// A storage that trips almost as soon as it is drawn on, and would run far below empty:
// its labels lie neither on each other nor on the axes.
func TestLabelsOfATinyStorage(t *testing.T) {
	t.Parallel()
	ctx := chromium(t)
	p := opens(t, ctx, mocked(t, Page{Name: "press.toml", Text: invented, Version: "test"},
		"capacity: 130, points: [[-20, 130], [0, 130], [8, 130 - (v / 60) * 8], [30, 90], [60, 130]]", "capacity: 5.4, points: [[-5, 5.4], [0, 5.4], [9, -2.72], [60, 5.4]]", "trip: 12", "trip: 5.1"))
	for _, wide := range []int64{320, 1280}[:effort.Of(1, 1, 2)] {
		p.again(wide)
		p.until(`!document.getElementById('work').hidden`)
		p.sure()
		assert.Contains(t, do[string](p, `document.querySelector('#answer').textContent`), "lowest −2.72")
		assert.Empty(t, do[[]string](p, opened_+covers), "at %d px", wide)
	}
}

// hostileText is a scenario whose names want to be more than names.
func hostileText() string {
	var b strings.Builder
	b.WriteString("title = " + tomlText(strings.Repeat("W", 150)+`</script><script>globalThis.harmed = 1</script>`) + "\n")
	for _, x := range []string{`</script><script>globalThis.harmed = 1</script>`, `<img src=x onerror="globalThis.harmed = 1">`, strings.Repeat("W", 190), "\u202eevil \u0007"} {
		b.WriteString("[[alternative]]\nname = " + tomlText(x) + "\n")
	}
	return b.String()
}

func tomlText(s string) string {
	return `"` + strings.NewReplacer(`\`, `\\`, `"`, `\"`, "\a", `\u0007`).Replace(s) + `"`
}

// Print gives what was set, the answer and the cases, on A4, with nothing cut and no control.
func TestPrinted(t *testing.T) {
	t.Parallel()
	ctx := chromium(t)
	for name, text := range map[string]string{"press": invented, "hostile": hostileText()} {
		if name == "press" && !effort.Long() {
			continue
		}
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			p := opens(t, ctx, mocked(t, Page{Name: "press.toml", Text: text, Version: "test"}))
			p.sure()
			do[any](p, `T.slide('line speed', 200)`)
			p.sure()
			do[any](p, `T.press('Keep this case')`)
			p.media("print", "dark")
			inner := int64((chromedp.PaperA4.Width - 2*16/25.4) * 96)
			require.NoError(t, chromedp.Do(p.ctx, chromedp.EmulateViewport(inner, 1000)))
			assert.Empty(t, do[[]string](p, sticksOut))
			assert.Empty(t, do[[]string](p, `[...document.querySelectorAll('button, input, select, progress, .told')].filter(e => e.getBoundingClientRect().width > 0).map(e => e.outerHTML)`))
			assert.Contains(t, do[string](p, `document.body.innerText`), "line speed 150 m/min → 200 m/min")
			assert.Equal(t, "rgb(255, 255, 255)", do[string](p, `getComputedStyle(document.documentElement).backgroundColor`), "paper is white, also in the dark")
			pdf, err := chromedp.Run(p.ctx, chromedp.PrintToPDF(chromedp.PDFPaper(chromedp.PaperA4)))
			require.NoError(t, err)
			assert.True(t, len(pdf) > 20000 && string(pdf[:5]) == "%PDF-", "%d bytes", len(pdf))
			keep(t, name+".pdf", pdf)
			p.quiet()
		})
	}
}
