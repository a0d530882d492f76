package live

import (
	"fmt"
	"math/rand/v2"
	"os"
	"strconv"
	"strings"
	"testing"
	"time"

	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"rollchange/sim/effort"
)

// press opens the page of an invented line around the stand-in for the engine.
func press(t *testing.T, text string) *tab {
	t.Helper()
	p := opens(t, chromium(t), mocked(t, Page{Name: "press.toml", Text: text, Version: "test"}))
	p.sure()
	return p
}

// Every slider moves what is asked and answered, comes back to the value as opened, and
// is reset; a field says the same as its slider.
func TestEverySliderAnswers(t *testing.T) {
	t.Parallel()
	p := press(t, invented)
	for _, label := range do[[]string](p, `T.labels()`) {
		before := do[string](p, `T.field('`+label+`').value`)
		after := do[string](p, `T.slide('`+label+`', T.slider('`+label+`').max)`)
		assert.NotEqual(t, before, after, label)
		p.sure()
		assert.Contains(t, do[string](p, `document.getElementById('set').innerText`), label+" ")
		assert.Contains(t, do[string](p, `document.getElementById('set').innerText`), "→ "+after)
		assert.Equal(t, before, do[string](p, `T.press('Reset', T.row('`+label+`')); T.field('`+label+`').value`))
		p.sure()
		assert.NotContains(t, do[string](p, `document.getElementById('set').innerText`), "→")
	}
	do[any](p, `T.slide('line speed', 251); T.slide('operators', 1)`)
	p.sure()
	assert.Contains(t, do[string](p, `document.getElementById('parts').innerText`), "A short vertical line marks the value as opened.")
	do[any](p, `T.press('Reset all')`)
	p.sure()
	assert.Equal(t, []string{"150", "2", "4.5", "0.34"}, do[[]string](p, `[...document.querySelectorAll('.mover input[type=text]')].map(f => f.value)`))
	p.quiet()
}

// What is typed is read by the engine: nonsense is refused with its message beside the
// field, the answer stays, and what is right moves the slider, also beyond its end.
func TestFieldsRefuseNonsense(t *testing.T) {
	t.Parallel()
	p := press(t, invented)
	answer := do[string](p, `T.said()`)
	for _, x := range []string{"fast", "-3", "", "1e", "12 parsecs squared !", "<b>1</b>"} {
		do[any](p, `T.write('line speed', `+strconv.Quote(x)+`)`)
		p.until(`T.field('line speed').hasAttribute('aria-invalid')`)
		says := do[string](p, `document.getElementById(T.field('line speed').getAttribute('aria-describedby').split(' ').pop()).innerText`)
		assert.Contains(t, says, "Not taken: the answer is still for 150 m/min.", x)
		assert.Equal(t, answer, do[string](p, `T.said()`), x)
	}
	do[any](p, `T.write('line speed', '300 m/min')`)
	p.until(`document.getElementById('set').innerText.includes('300 m/min')`)
	p.sure()
	assert.Equal(t, "300", do[string](p, `T.slider('line speed').value`))
	assert.NotEqual(t, answer, do[string](p, `T.said()`))
	do[any](p, `T.write('line speed', '150')`)
	p.until(`!document.getElementById('set').innerText.includes('→')`)
	p.sure()
	assert.Equal(t, answer, do[string](p, `T.said()`))
	p.quiet()
}

// A newer change ends a run in its middle: the last one is what is answered, and few of
// the steps of those before were made.
func TestANewerChangeEndsARun(t *testing.T) {
	t.Parallel()
	p := slowed(t, "need: 20", "need: 20") // so many steps in the usual form too
	do[any](p, `(async () => {
		T.asked = 0;
		const post = Worker.prototype.postMessage;
		Worker.prototype.postMessage = function (...a) { T.asked++; return post.apply(this, a); };
		for (let i = 0; i < 20; i++) {
			T.slide('line speed', 110 + 5 * (i % 10));
			await new Promise((next) => setTimeout(next, 20));
		}
	})()`)
	p.until(`T.state() == 'sure' && document.getElementById('set').innerText.includes('155 m/min')`)
	assert.Contains(t, do[string](p, `T.said()`), "more than")
	assert.Less(t, do[int](p, `T.asked`), 20*20/2, "not all replications of all twenty changes")
	want := do[string](p, `T.said()`)
	do[any](p, `T.press('Reset all')`)
	p.sure()
	do[any](p, `T.slide('line speed', 155)`)
	p.sure()
	assert.Equal(t, want, do[string](p, `T.said()`))
	p.quiet()
}

// An engine that does not come back is stopped hard when something newer is wanted; one
// that ends is started again, says so, and answers the next change.
func TestEngineIsStoppedAndStartedAgain(t *testing.T) {
	t.Parallel()
	p := press(t, invented)
	do[any](p, `T.slide('line speed', 195)`) // a step of a minute
	time.Sleep(100 * time.Millisecond)
	do[any](p, `T.slide('line speed', 200)`)
	p.sure()
	assert.Contains(t, do[string](p, `document.getElementById('set').innerText`), "200 m/min")
	do[any](p, `T.slide('line speed', 205)`) // ends with an error
	p.until(`T.state() == 'waiting' && T.said().includes('out of memory')`)
	assert.Contains(t, do[string](p, `document.getElementById('told').textContent`), "The engine stopped and was started again: ")
	do[any](p, `T.slide('line speed', 210)`)
	p.sure()
	p.quiet()
}

// An answer is marked rough until it is sure, in words and by a sign at every figure;
// readers hear it once, when it is sure.
func TestRoughIsMarked(t *testing.T) {
	t.Parallel()
	p := press(t, invented)
	do[any](p, `globalThis.heard = []; new MutationObserver(() => heard.push(T.state())).observe(document.getElementById('announce'), {childList: true, characterData: true, subtree: true});
		globalThis.states = []; new MutationObserver(() => states.push(T.state() + ' ' + document.getElementById('badge').textContent + ' ' + getComputedStyle(document.querySelector('.val'), '::before').content)).observe(document.getElementById('said'), {childList: true}); T.slide('line speed', 200); true`)
	p.sure()
	states := do[[]string](p, `states`)
	require.GreaterOrEqual(t, len(states), 3)
	assert.Equal(t, `rough rough "≈ "`, states[0])
	assert.Contains(t, states[len(states)-1], "sure sure")
	assert.Equal(t, []string{"sure"}, do[[]string](p, `heard`))
	assert.Contains(t, do[string](p, `document.getElementById('announce').textContent`), "Sure: “automatic unwind and rewind” makes the most good web")
	assert.Equal(t, "none", do[string](p, `getComputedStyle(document.querySelector('.val'), '::before').content`))
}

// Cases are kept side by side, up to four, with what was set; one is taken again or removed.
func TestCasesSideBySide(t *testing.T) {
	t.Parallel()
	p := press(t, invented)
	for i := range 5 {
		do[any](p, fmt.Sprintf(`T.slide('line speed', %d); T.press('Keep this case')`, 160+10*i))
		p.sure()
	}
	assert.Equal(t, "Four cases are kept: remove one first.", do[string](p, `document.getElementById('told').textContent`))
	assert.Equal(t, []string{"what", "as opened", "case 1", "case 2", "case 3", "case 4", "now"}, do[[]string](p, `[...document.querySelectorAll('#cases thead th')].map(h => h.textContent)`))
	assert.Equal(t, []string{"150 m/min", "160 m/min", "170 m/min", "180 m/min", "190 m/min", "200 m/min"}, do[[]string](p, `[...[...document.querySelectorAll('#cases tr')].find(r => r.firstChild.textContent == 'line speed').querySelectorAll('td')].map(h => h.textContent)`))
	row := `[...[...document.querySelectorAll('#cases tr')].find(r => r.firstChild.textContent.startsWith('good web')).querySelectorAll('td')].map(h => h.textContent)`
	for _, text := range do[[]string](p, row) {
		assert.Regexp(t, `^[\d.]+ ± [\d.]+$`, text, "a case that was kept before its answer was sure has got it")
	}
	do[any](p, `T.press('Take the inputs of case 2')`)
	p.sure()
	assert.Equal(t, "170", do[string](p, `T.field('line speed').value`))
	figures := do[[]string](p, row)
	assert.Equal(t, figures[2], figures[5], "the case and now are the same")
	assert.NotContains(t, figures[2], "≈")
	do[any](p, `T.press('Remove case 1')`)
	assert.Len(t, do[[]string](p, row), 5)
	do[any](p, `T.press('Keep this case')`)
	assert.Contains(t, do[[]string](p, `[...document.querySelectorAll('#cases thead th')].map(h => h.textContent)`), "case 1", "the number is free again")
	p.quiet()
}

// Alternatives go off and on, an input is added and moved, all is as it was after a new start.
func TestAlternativesAddedInputsAndStartAgain(t *testing.T) {
	t.Parallel()
	p := press(t, invented)
	do[any](p, `document.querySelectorAll('.check input')[2].click()`)
	p.sure()
	assert.NotContains(t, do[string](p, `document.getElementById('parts').innerText`), "automatic unwind and rewind")
	assert.Contains(t, do[string](p, `document.getElementById('set').innerText`), "automatic unwind and rewind left out")
	do[any](p, `(() => { const s = document.querySelector('.adder select'); s.value = 'line.accel'; T.press('Add', document.querySelector('.adder')); })()`)
	p.until(`T.labels().includes('acceleration')`)
	assert.Equal(t, "acceleration, slider", do[string](p, `document.activeElement.getAttribute('aria-label')`), "the new input has the focus")
	do[any](p, `T.slide('acceleration', 0.5)`)
	p.sure()
	do[any](p, `T.press('Start again')`)
	p.until(`!T.labels().includes('acceleration')`)
	p.sure()
	assert.Equal(t, "", do[string](p, `document.getElementById('set').innerText.replace(/Nothing was changed.*/, '')`))
	assert.True(t, do[bool](p, `document.querySelectorAll('.check input')[2].checked`))
	p.quiet()
}

// All is done by keys alone: the skip link, a slider by steps, a field, a switch, keep, and
// the focus can be seen and is never lost.
func TestByKeysAlone(t *testing.T) {
	t.Parallel()
	p := press(t, invented)
	focus := func() string {
		return do[string](p, `(document.activeElement.getAttribute('aria-label') || document.activeElement.id || document.activeElement.textContent).slice(0, 60)`)
	}
	p.keys(kb.Tab)
	assert.Equal(t, "skip", focus())
	assert.True(t, do[bool](p, `document.activeElement.getBoundingClientRect().left >= 0`), "it is seen when it has the focus")
	seen := map[string]bool{}
	for range 40 {
		p.keys(kb.Tab)
		name := focus()
		again := seen[name]
		seen[name] = true
		assert.True(t, do[bool](p, `document.activeElement == document.body || document.activeElement.matches(':focus-visible') && getComputedStyle(document.activeElement).outlineStyle != 'none'`), "%s shows that it has the focus", name)
		if name == "line speed, slider" && !again {
			p.keys(kb.ArrowRight, kb.ArrowRight)
			assert.Equal(t, "160", do[string](p, `T.field('line speed').value`))
			p.keys(kb.PageUp)
			assert.Equal(t, "210", do[string](p, `T.field('line speed').value`))
			p.keys(kb.Home)
			assert.Equal(t, "100", do[string](p, `T.field('line speed').value`))
			assert.Equal(t, "100 m/min", do[string](p, `document.activeElement.getAttribute('aria-valuetext')`))
		}
	}
	for _, name := range []string{"keep", "save", "print", "again", "other", "reset", "line speed, slider", "Reset line speed to 150 m/min", "cost of web, slider"} {
		assert.True(t, seen[name], "%s is reached: %v", name, seen)
	}
	do[any](p, `document.getElementById('keep').focus()`)
	p.keys(kb.Enter)
	p.until(`document.getElementById('told').textContent == 'Kept as case 1'`)
	do[any](p, `T.field('operators').focus()`)
	require.NoError(t, chromedp.Do(p.ctx, chromedp.KeyEvent("\b3\r")))
	p.until(`document.getElementById('set').innerText.includes('operators 2 → 3')`)
	p.sure()
	p.quiet()
}

// Saving gives a file with the name of the scenario; nonsense in the name stays out of it.
func TestSaved(t *testing.T) {
	t.Parallel()
	ctx := chromium(t)
	for name, want := range map[string]string{"press.toml": "press changed.toml", `../../a<b>:"c|d?*`: "a_b___c_d__ changed.toml"} {
		p := opens(t, ctx, mocked(t, Page{Name: name, Text: invented, Version: "test"}))
		p.sure()
		p.saves()
		do[any](p, `T.slide('line speed', 200); T.press('Save scenario')`)
		_ = p.saved(want)
		p.until(`document.getElementById('told').textContent.startsWith('Saved as ')`)
		p.quiet()
	}
}

// Without a scenario the page opens one: shipped, dropped or written; what is wrong with
// it is shown at its lines, as text; keys are looked up.
func TestToolOfItsOwn(t *testing.T) {
	t.Parallel()
	p := opens(t, chromium(t), mocked(t, Page{Version: "test"}))
	p.until(`document.querySelector('.shipped button') != null`)
	do[any](p, `(() => { const f = document.getElementById('find'); f.value = 'storage'; f.dispatchEvent(new Event('input')); })()`)
	p.until(`document.querySelector('.keylist') != null`)
	assert.Contains(t, do[string](p, `document.querySelector('.keylist').innerText`), "<b>when it is full</b>")
	do[any](p, `T.press('Label press, short runs')`)
	p.sure()
	assert.Equal(t, "Label press", do[string](p, `document.title`))
	drop := func(name, text string) {
		do[any](p, `(() => { const d = new DataTransfer(); d.items.add(new File([`+strconv.Quote(text)+`], `+strconv.Quote(name)+`)); for (const kind of ['dragenter', 'dragover', 'drop']) dispatchEvent(new DragEvent(kind, {dataTransfer: d, cancelable: true})); })()`)
	}
	drop("other.toml", strings.Replace(invented, "Label press", "Dropped press", 1))
	p.until(`document.title.startsWith('Dropped press')`)
	p.sure()
	drop("picture.png", "x")
	p.until(`document.getElementById('told').textContent == 'picture.png is not a scenario, a text file that ends in .toml.'`)
	drop("bad.toml", "title = \"x\"\nline.sped = \"<img src=x onerror=harmed=1>\" # broken\n")
	p.until(`document.querySelector('.problems') != null`)
	says := do[string](p, `document.querySelector('.problems').innerText`)
	assert.Contains(t, says, "bad.toml cannot be used as it is")
	assert.Contains(t, says, `2 | line.sped = "<img src=x onerror=harmed=1>" # broken`)
	assert.Contains(t, says, "did you mean line.speed?")
	assert.Equal(t, "problems-head", do[string](p, `document.activeElement.id`), "a reader is told first what is wrong")
	do[any](p, `T.press('Back to the answer')`)
	p.sure()
	assert.True(t, do[bool](p, `document.title.startsWith('Dropped press') && document.querySelector('img') == null`))
	do[any](p, `T.press('Open another'); document.getElementById('text').value = `+strconv.Quote(strings.Replace(invented, "Label press", "Written press", 1))+`; T.press('Take this text')`)
	p.until(`document.title.startsWith('Written press')`)
	p.sure()
	p.quiet()
}

// Many random moves leave no memory behind, and the page answers after them. By hand
// alone, since it is long: ROLLCHANGE_MOVES="10m" moves for ten minutes, with the engine
// of the tool.
func TestMemoryDoesNotGrow(t *testing.T) {
	long, _ := time.ParseDuration(os.Getenv("ROLLCHANGE_MOVES"))
	if long <= 0 {
		t.Skip("by hand: ROLLCHANGE_MOVES=10m")
	}
	page := written(t, Page{Name: "laminator.toml", Text: shipped(t, "laminator")})
	p := opens(t, chromium(t), page)
	p.sure()
	r := rand.New(rand.NewPCG(7, 11))
	labels := do[[]string](p, `T.labels()`)
	moves := func(n int, end time.Time) {
		for i := 0; i < n || time.Now().Before(end); i++ {
			label := strconv.Quote(labels[r.IntN(len(labels))])
			do[any](p, fmt.Sprintf(`(() => { const s = T.slider(%s); T.slide(%[1]s, Number(s.min) + %g * (s.max - s.min)); })()`, label, r.Float64()))
			switch r.IntN(20) {
			case 0:
				p.until(`['sure', 'waiting'].includes(T.state())`)
			case 1:
				do[any](p, `document.querySelectorAll('.check input')[1].click()`)
			case 2:
				do[any](p, `T.press('Keep this case')`)
			case 3:
				do[any](p, `(() => { for (const b of document.querySelectorAll('#cases .acts button')) if (b.textContent == 'Remove') { b.click(); return; } })()`)
			case 4:
				do[any](p, `T.write(`+label+`, 'nonsense')`)
			}
		}
		do[any](p, `(() => { let b; do { b = [...document.querySelectorAll('#cases .acts button')].find(b => b.textContent == 'Remove'); if (b) b.click(); } while (b); T.press('Reset all'); })()`)
		p.until(`!document.getElementById('set').innerText.includes('→')`)
		p.sure()
	}
	moves(effort.Of(0, 60, 200), time.Now().Add(long/10))
	before := p.heap()
	after := before
	half := before // the engine has then all the lines that it keeps
	for k := range 10 {
		if k == 5 {
			half = after
		}
		moves(effort.Of(0, 8, 60), time.Now().Add(long/10))
		after = p.heap()
		t.Logf("%.2f MB of script, %.0f nodes, %.0f MB of the browser", after.script/1e6, after.nodes, after.resident/1e6)
	}
	assert.Less(t, after.script, before.script+1.5e6, "bytes of script")
	assert.Less(t, after.nodes, before.nodes+600, "elements and texts of the page")
	if long > 0 {
		assert.Less(t, after.resident, half.resident+30e6, "bytes of the browser, the engine in it")
	}
	p.quiet()
}
