package report

import (
	"context"
	"fmt"
	"net/url"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/chromedp/cdproto/cdp"
	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/cdproto/log"
	"github.com/chromedp/cdproto/network"
	"github.com/chromedp/cdproto/runtime"
	"github.com/chromedp/chromedp"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"rollchange/out/invented/chromium"
	"rollchange/sim/effort"
	"rollchange/sim/match"
)

// ended ends the browser that the tests share.
var ended = func() {}

var started = sync.OnceValues(func() (context.Context, error) {
	folder, err := os.MkdirTemp("", "rollchange-report-")
	if err != nil {
		return nil, err
	}
	ctx, end, err := chromium.Start(folder, 40*time.Minute)
	ended = func() {
		end()
		os.RemoveAll(folder)
	}
	return ctx, err
})

func TestMain(m *testing.M) {
	code := m.Run()
	ended()
	os.Exit(code)
}

// browser is a headless browser, or the test is skipped where there is none.
func browser(t *testing.T) context.Context {
	t.Helper()
	chromium.Needed(t)
	ctx, err := started()
	require.NoError(t, err, "the browser starts")
	return ctx
}

// seen is what a browser complains of or asks for.
type seen struct {
	sync.Mutex
	list []string
}

func (s *seen) add(what string) {
	s.Lock()
	defer s.Unlock()
	s.list = append(s.list, what)
}

// event keeps what the browser tells of a page.
func (s *seen) event(own string) func(any) {
	return func(event any) {
		switch e := event.(type) {
		case *network.EventRequestWillBeSent:
			if u := e.Request.URL; u != own && !strings.HasPrefix(u, "data:") {
				s.add("asks for " + u)
			}
		case *log.EventEntryAdded:
			s.add("says " + e.Entry.Text)
		case *runtime.EventConsoleAPICalled:
			s.add("writes to the console")
		case *runtime.EventExceptionThrown:
			s.add("throws " + e.ExceptionDetails.Text)
		}
	}
}

// Parts of the page that stick out of it, pictures without a size or a text, and
// boxes that are wider than the page.
const (
	opened    = `document.querySelectorAll('details').forEach(d => d.open = true);`
	sticksOut = `(() => { const wide = document.documentElement.clientWidth; const bad = [];
		if (document.documentElement.scrollWidth > wide) bad.push('the page is ' + document.documentElement.scrollWidth + ' wide');
		for (const e of document.querySelectorAll('body *')) { if (e.closest('.scroll') && !e.matches('.scroll') || e.closest('pre') && !e.matches('pre') || e.matches('.skip')) continue;
			const r = e.getBoundingClientRect(); if (r.width && r.right > wide + 0.5) bad.push(e.tagName + ' ' + e.textContent.slice(0, 40)); }
		return bad; })()`
	poorPictures = `(() => { const bad = []; let n = 0; for (const e of document.querySelectorAll('svg, img')) { n++; const r = e.getBoundingClientRect();
		if (r.width < 60 || r.height < 30) bad.push(e.tagName + ' of ' + r.width + ' by ' + r.height);
		const says = e.tagName == 'IMG' ? e.alt : e.querySelector('title').textContent; if (!says) bad.push('no text'); }
		if (n < 7) bad.push(n + ' pictures only'); return bad; })()`
	smallType = `(() => { const bad = []; for (const e of document.querySelectorAll('svg text')) { const m = e.getScreenCTM();
		const px = parseFloat(getComputedStyle(e).fontSize) * Math.hypot(m.b, m.d); if (px < 10.99) bad.push(px.toFixed(1) + ' px: ' + e.textContent.slice(0, 30)); }
		return bad; })()`
	hiddenCells = `(() => { const bad = []; for (const e of document.querySelectorAll('tbody th, td')) { const r = e.getBoundingClientRect(); const box = e.closest('.scroll').getBoundingClientRect();
		if (r.width > 1 && (r.right > box.right + 0.5 || e.scrollWidth > e.clientWidth + 1 && getComputedStyle(e).display != 'inline')) bad.push(e.tagName + ' ' + r.right + ' of ' + box.right + ' ' + e.textContent.slice(0, 40)); }
		return bad; })()`
	twoPages = `(() => { const e = document.querySelector('.first'); if (!e) return []; const top = document.querySelector('header').getBoundingClientRect().top;
		const high = e.getBoundingClientRect().bottom - top; return high > %d ? ['what is signed is ' + high + ' px high'] : []; })()`
	cutInPrint = `(() => { const wide = document.documentElement.clientWidth; const bad = [];
		for (const e of document.querySelectorAll('table, svg, pre, p, li, dd')) { const r = e.getBoundingClientRect(); if (r.width && r.right > wide + 0.5) bad.push(e.tagName + ' ' + r.right + ' of ' + wide + ' ' + e.textContent.slice(0, 60)); }
		return bad; })()`
)

// In a browser the pages ask for nothing and complain of nothing, no part sticks
// out at the width of a telephone or of a desk, every picture has a size and a
// text, and they print on A4 and Letter with nothing cut. The usual form looks at one page
// of a scenario and at hostile ones.
func TestPagesInABrowser(t *testing.T) {
	ctx := browser(t)
	pages := map[string]*Content{}
	for _, name := range []string{"laminator", "label_press", "slitter", "bagger", "bag_machines"}[:effort.Of(0, 0, 5)] {
		pages[name] = made(t, shipped(t, name))
		pages[name].Match = &match.Answer{Alternative: "by hand", Hours: 3.6e6, Lines: 1, Periods: 199, Confidence: 0.95, Rows: []match.Row{{Figure: match.Good, Unit: "m", Recorded: 9e5, Mean: 1e6, Low: 9.5e5, High: 1.05e6},
			{Figure: match.Waste, Unit: "m", Recorded: 9e3, Mean: 9e3, Low: 8e3, High: 1e4}, {Figure: match.RollChanges, Unit: "1", Recorded: 400, Mean: 402, Low: 390, High: 415}}}
	}
	hostile := strings.NewReplacer(`name = "by hand"`, "name = "+quote(strings.Repeat("W", 190)), `title = "Label press, short runs"`, `title = "<script>alert(1)</script>"`).Replace(shipped(t, "label_press"))
	pages["hostile"] = made(t, hostile)
	pages["hostile"].Title, pages["hostile"].Cover.Author = strings.Repeat("W", 300), `"><script>alert(1)</script>`
	pages["hostile"].Logo, _ = newLogo([]byte(`<svg xmlns="http://www.w3.org/2000/svg" width="120" height="60" onload="alert(1)"><script>alert(1)</script><rect width="120" height="60"/><image href="https://example.invalid/x.png"/></svg>`))
	all := map[string][]byte{"log": writtenLog(t, shippedLog(t, nil)), "log-hostile": writtenLog(t, shippedLog(t, strings.NewReplacer("Knife jam", strings.Repeat("W", 190), "Register lost", "<script>alert(1)</script>").Replace))}
	if !effort.Long() {
		delete(all, "log") // the hostile one is laid out alike
	}
	for name, c := range pages {
		all[name] = written(t, c)
	}
	for name, data := range all {
		t.Run(name, func(t *testing.T) {
			path := filepath.Join(t.TempDir(), name+".html")
			require.NoError(t, os.WriteFile(path, data, 0o600))
			own := (&url.URL{Scheme: "file", Path: path}).String()
			s := &seen{}
			tab, cancel := chromedp.NewContext(ctx, chromedp.WithListener(s.event(own)))
			defer cancel()
			looked := func(script string) []string {
				list, err := chromedp.Run(tab, chromedp.Evaluate[[]string](script))
				require.NoError(t, err)
				return list
			}
			_, err := chromedp.Call(tab, network.Enable, network.EnableParams{})
			require.NoError(t, err)
			_, err = chromedp.Call(tab, log.Enable, cdp.Empty{})
			require.NoError(t, err)
			for _, wide := range []int64{360, 1280} {
				require.NoError(t, chromedp.Do(tab, chromedp.EmulateViewport(wide, 800), chromedp.Navigate(own)))
				pictured(t, tab, fmt.Sprintf("%s-%d.png", name, wide))
				assert.Empty(t, looked(opened+sticksOut), "at %d px", wide)
				assert.Empty(t, looked(poorPictures), "at %d px", wide)
				assert.Empty(t, looked(smallType), "at %d px", wide)
				if wide == 360 {
					assert.Empty(t, looked(hiddenCells), "at %d px", wide)
				}
			}
			_, err = chromedp.Call(tab, emulation.SetEmulatedMedia, emulation.SetEmulatedMediaParams{Media: "print"})
			require.NoError(t, err)
			hostile := strings.Contains(name, "hostile")
			for paper, size := range papers {
				if hostile && paper != "A4" && !effort.Long() {
					continue
				}
				printed(t, tab, name, paper, size, !hostile)
			}
			s.Lock()
			defer s.Unlock()
			assert.Empty(t, s.list)
		})
	}
}

// pictured keeps what the page looks like where a person wants to look at it.
func pictured(t *testing.T, tab context.Context, name string) {
	if os.Getenv("ROLLCHANGE_LOOK") == "" {
		return
	}
	data, err := chromedp.Run(tab, chromedp.FullScreenshot(100))
	require.NoError(t, err)
	keep(t, name, data)
}

func keep(t *testing.T, name string, data []byte) {
	if folder := os.Getenv("ROLLCHANGE_LOOK"); folder != "" {
		require.NoError(t, os.WriteFile(filepath.Join(folder, name), data, 0o600))
	}
}
