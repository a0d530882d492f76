package live

import (
	"context"
	"flag"
	"fmt"
	"net/url"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"sync"
	"sync/atomic"
	"testing"
	"time"

	"github.com/chromedp/cdproto/browser"
	"github.com/chromedp/cdproto/cdp"
	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/cdproto/heapprofiler"
	"github.com/chromedp/cdproto/log"
	"github.com/chromedp/cdproto/network"
	"github.com/chromedp/cdproto/performance"
	"github.com/chromedp/cdproto/runtime"
	"github.com/chromedp/chromedp"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	chrome "rollchange/out/invented/chromium"
	"rollchange/sim/effort"
)

// atOnce is how many tests look at pages at a time: a page waits for its own clocks most of
// the time, so more of them than the machine has processors. go test -parallel says otherwise.
const atOnce = 6

// ended ends what the tests have started.
var ended = func() {}

// started is the browser that all tests share: to start one takes longer than most of
// them. It ends with the tests.
var started = sync.OnceValues(func() (context.Context, error) {
	folder, err := os.MkdirTemp("", "rollchange-live-")
	if err != nil {
		return nil, err
	}
	ctx, end, err := chrome.Start(folder, 40*time.Minute)
	ended = func() {
		end()
		os.RemoveAll(folder)
	}
	return ctx, err
})

func TestMain(m *testing.M) {
	flag.Parse()
	if parallel := flag.Lookup("test.parallel"); parallel.Value.String() == parallel.DefValue {
		_ = parallel.Value.Set(strconv.Itoa(atOnce))
	}
	code := m.Run()
	ended()
	os.Exit(code)
}

// longAlone skips what the usual form leaves out.
func longAlone(t *testing.T) {
	t.Helper()
	if !effort.Long() {
		t.Skip("seconds of a browser: " + effort.Variable + "=1")
	}
}

// chromium is a headless browser, each page a tab of it; it skips the test where there is
// none.
func chromium(t testing.TB) context.Context {
	t.Helper()
	chrome.Needed(t)
	ctx, err := started()
	require.NoError(t, err, "the browser starts")
	return ctx
}

// tab is a page that is open in a browser.
type tab struct {
	t      testing.TB
	ctx    context.Context
	own    string
	folder string // of what it saves
	mu     sync.Mutex
	seen   []string // what the browser complains of or asks for
}

// helpers are what the tests do on the page, by labels as a person sees them.
const helpers = `globalThis.T = {
	row(label) { for (const r of document.querySelectorAll('.mover')) if (r.querySelector('label').textContent == label) return r; throw new Error('no input ' + label); },
	field: (label) => T.row(label).querySelector('input[type=text]'), slider: (label) => T.row(label).querySelector('input[type=range]'),
	slide(label, v) { const s = T.slider(label); s.value = v; s.dispatchEvent(new Event('input', {bubbles: true})); return T.field(label).value; },
	write(label, v) { const f = T.field(label); f.focus(); f.value = v; f.dispatchEvent(new Event('input', {bubbles: true})); f.dispatchEvent(new Event('change', {bubbles: true})); },
	press(text, where) { for (const b of (where || document).querySelectorAll('button')) if (b.textContent == text || b.getAttribute('aria-label') == text) { b.click(); return true; } throw new Error('no button ' + text); },
	state: () => document.getElementById('answer').dataset.state, said: () => document.getElementById('said').textContent,
	labels: () => [...document.querySelectorAll('.mover label')].map(l => l.textContent),
}; true`

// window is where a page is looked at: it has the focus whatever other tests look at, and
// saved files of its own. A test that is over leaves it to the next, since to open one takes
// as long as the page.
type window struct {
	ctx    context.Context
	cancel func()
	shows  atomic.Pointer[tab]
}

// free are the windows that no test looks at.
var free = make(chan *window, 100)

// openWindow is a free window, or a new one.
func openWindow(t testing.TB, ctx context.Context) *window {
	t.Helper()
	select {
	case w := <-free:
		_, err := chromedp.Call(w.ctx, emulation.SetEmulatedMedia, emulation.SetEmulatedMediaParams{})
		require.NoError(t, err)
		return w
	default:
	}
	w := &window{}
	w.ctx, w.cancel = chromedp.NewContext(ctx, chromedp.WithNewBrowserContext(), chromedp.WithListener(func(event any) {
		if p := w.shows.Load(); p != nil {
			p.event(event)
		}
	}))
	_, err := chromedp.Call(w.ctx, emulation.SetFocusEmulationEnabled, emulation.SetFocusEmulationEnabledParams{Enabled: true})
	require.NoError(t, err)
	_, err = chromedp.Call(w.ctx, network.Enable, network.EnableParams{})
	require.NoError(t, err)
	_, err = chromedp.Call(w.ctx, log.Enable, cdp.Empty{})
	require.NoError(t, err)
	return w
}

// opens opens a page from a file.
func opens(t testing.TB, ctx context.Context, page []byte) *tab {
	t.Helper()
	path := filepath.Join(t.TempDir(), "live.html")
	require.NoError(t, os.WriteFile(path, page, 0o600))
	w := openWindow(t, ctx)
	p := &tab{t: t, ctx: w.ctx, own: (&url.URL{Scheme: "file", Path: path}).String(), folder: t.TempDir()}
	t.Cleanup(func() {
		w.shows.Store(nil)
		if t.Failed() || chromedp.Do(w.ctx, chromedp.Navigate("about:blank")) != nil {
			w.cancel()
			return
		}
		free <- w
	})
	w.shows.Store(p)
	p.again(1280)
	return p
}

// again loads the page anew, at a width.
func (p *tab) again(wide int64) {
	p.t.Helper()
	require.NoError(p.t, chromedp.Do(p.ctx, chromedp.EmulateViewport(wide, 800), chromedp.Navigate(p.own)))
	assert.True(p.t, do[bool](p, helpers))
}

// wide makes the page another width.
func (p *tab) wide(px int64) {
	p.t.Helper()
	require.NoError(p.t, chromedp.Do(p.ctx, chromedp.EmulateViewport(px, 800)))
}

// event keeps what the browser tells of a page: requests but of itself, its worker and
// data, lines of the console, errors.
func (p *tab) event(event any) {
	say := func(format string, a ...any) {
		p.mu.Lock()
		defer p.mu.Unlock()
		p.seen = append(p.seen, fmt.Sprintf(format, a...))
	}
	switch e := event.(type) {
	case *network.EventRequestWillBeSent:
		if u := e.Request.URL; u != p.own && !strings.HasPrefix(u, "data:") && !strings.HasPrefix(u, "blob:") {
			say("asks for %s", u)
		}
	case *log.EventEntryAdded:
		say("says %s", e.Entry.Text)
	case *runtime.EventConsoleAPICalled:
		say("writes to the console")
	case *runtime.EventExceptionThrown:
		say("throws %s", e.ExceptionDetails.Text)
	}
}

// quiet checks that the browser told nothing.
func (p *tab) quiet() {
	p.t.Helper()
	p.mu.Lock()
	defer p.mu.Unlock()
	assert.Empty(p.t, p.seen)
	p.seen = nil
}

// do runs a script on the page; a promise is waited for.
func do[T any](p *tab, script string) T {
	p.t.Helper()
	x, err := chromedp.Run(p.ctx, chromedp.Evaluate[T](script, chromedp.EvalAwaitPromise))
	require.NoError(p.t, err, script)
	return x
}

// until waits until a script is true.
func (p *tab) until(script string) {
	p.t.Helper()
	for end := time.Now().Add(60 * time.Second); time.Now().Before(end); time.Sleep(30 * time.Millisecond) {
		if do[bool](p, script) {
			return
		}
	}
	p.t.Fatalf("never: %s; the state is %v, %s", script, do[any](p, `T.state()`), do[string](p, `document.getElementById('said').innerText + document.getElementById('starting').innerText`))
}

// sure waits for a sure answer.
func (p *tab) sure() {
	p.t.Helper()
	p.until(`T.state() == 'sure' && !document.getElementById('answer').hasAttribute('aria-busy')`)
}

// keys presses keys, one after another.
func (p *tab) keys(list ...string) {
	p.t.Helper()
	for _, k := range list {
		require.NoError(p.t, chromedp.Do(p.ctx, chromedp.KeyEvent(k)))
	}
}

// media emulates a medium and light or dark.
func (p *tab) media(medium, scheme string) {
	p.t.Helper()
	_, err := chromedp.Call(p.ctx, emulation.SetEmulatedMedia, emulation.SetEmulatedMediaParams{Media: medium, Features: []*emulation.MediaFeature{{Name: "prefers-color-scheme", Value: scheme}}})
	require.NoError(p.t, err)
}

// saves lets the page save files into a folder.
func (p *tab) saves() {
	p.t.Helper()
	_, err := chromedp.Call(p.ctx, browser.SetDownloadBehavior, browser.SetDownloadBehaviorParams{Behavior: browser.SetDownloadBehaviorBehaviorAllow, BrowserContextID: chromedp.FromContext(p.ctx).BrowserContextID, DownloadPath: p.folder})
	require.NoError(p.t, err)
}

// saved waits for a saved file.
func (p *tab) saved(name string) string {
	p.t.Helper()
	var text []byte
	require.Eventually(p.t, func() (ok bool) {
		x, err := os.ReadFile(filepath.Join(p.folder, name))
		text = x
		return err == nil && len(x) > 0
	}, 20*time.Second, 20*time.Millisecond, name)
	return string(text)
}

// pictured keeps what the page looks like where a person wants to look at it.
func (p *tab) pictured(name string) {
	p.t.Helper()
	if os.Getenv("ROLLCHANGE_LOOK") == "" {
		return
	}
	data, err := chromedp.Run(p.ctx, chromedp.FullScreenshot(100))
	require.NoError(p.t, err)
	keep(p.t, name, data)
}

func keep(t testing.TB, name string, data []byte) {
	if folder := os.Getenv("ROLLCHANGE_LOOK"); folder != "" {
		require.NoError(t, os.WriteFile(filepath.Join(folder, name), data, 0o600))
	}
}

// memory is what a page takes.
type memory struct{ script, nodes, resident float64 }

// heap is the memory of scripts and of all processes of the browser, bytes, and the number
// of elements and texts, after what is no longer used was collected.
func (p *tab) heap() (m memory) {
	p.t.Helper()
	for range 3 {
		_, err := chromedp.Call(p.ctx, heapprofiler.CollectGarbage, cdp.Empty{})
		require.NoError(p.t, err)
	}
	_, err := chromedp.Call(p.ctx, performance.Enable, performance.EnableParams{})
	require.NoError(p.t, err)
	list, err := chromedp.Call(p.ctx, performance.GetMetrics, cdp.Empty{})
	require.NoError(p.t, err)
	for _, x := range list.Metrics {
		switch x.Name {
		case "JSHeapUsedSize":
			m.script = x.Value
		case "Nodes":
			m.nodes = x.Value
		}
	}
	m.resident = resident()
	return m
}

// resident is the memory of all processes below this one, bytes, where /proc tells.
func resident() (bytes float64) {
	parents, pages := map[int]int{}, map[int]float64{}
	list, _ := filepath.Glob("/proc/[0-9]*/stat")
	for _, name := range list {
		text, _ := os.ReadFile(name)
		var pid, parent int
		_, rest, _ := strings.Cut(string(text), ") ")
		var state string
		if _, err := fmt.Sscan(rest, &state, &parent); err != nil {
			continue
		}
		fmt.Sscan(string(text), &pid)
		parents[pid] = parent
		var size, own float64
		text, _ = os.ReadFile(filepath.Join(filepath.Dir(name), "statm"))
		fmt.Sscan(string(text), &size, &own)
		pages[pid] = own
	}
	for pid := range parents {
		for at := parents[pid]; at > 1; at = parents[at] {
			if at == os.Getpid() {
				bytes += pages[pid] * float64(os.Getpagesize())
				break
			}
		}
	}
	return bytes
}
