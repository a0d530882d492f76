package live

import (
	"regexp"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
)

// slowed is the page of the invented line around a stand-in that is changed, as mocked says.
func slowed(t *testing.T, pairs ...string) *tab {
	t.Helper()
	p := opens(t, chromium(t), mocked(t, Page{Name: "press.toml", Text: invented, Version: "test"}, pairs...))
	p.sure()
	return p
}

// What is typed while the engine is started again waits for it, and does not stop the page.
func TestTypedWhileTheEngineStarts(t *testing.T) {
	longAlone(t)
	t.Parallel()
	p := slowed(t, "run() { self.rollchange =", "run() { setTimeout(() => Go.ready(), 1500); Go.ready = () => self.rollchange =")
	do[any](p, `T.slide('line speed', 195)`) // a step of a minute
	time.Sleep(300 * time.Millisecond)
	do[any](p, `T.slide('line speed', 200)`)
	time.Sleep(4500 * time.Millisecond) // that step is stopped after four seconds
	do[any](p, `T.write('operators', '3')`)
	p.until(`document.getElementById('set').innerText.includes('operators 2 → 3')`)
	p.sure()
	assert.Contains(t, do[string](p, `document.getElementById('set').innerText`), "→ 200 m/min")
	assert.Empty(t, do[string](p, `document.getElementById('told').textContent`), "nothing to tell: nobody's engine failed")
	p.quiet()
}

// Of a machine so slow that every step takes longer than a step is waited for, the page
// stops some while a person goes on moving, waits longer for each that follows, and comes
// to rest with the last that was set.
func TestASlowMachineComesToRest(t *testing.T) {
	longAlone(t)
	t.Parallel()
	p := slowed(t, "need: 20", "need: 2", "Math.min(20, mock.done + 1)", "Math.min(2, mock.done + 1)", "mock.done < 20", "mock.done < 2", "speed === 195 ? 60000 : 15", "speed === 150 ? 5 : 5500")
	do[any](p, `T.slide('line speed', 155)`)
	time.Sleep(300 * time.Millisecond)
	for _, speed := range []string{"160", "170", "180"} {
		do[any](p, `T.slide('line speed', `+speed+`)`)
		time.Sleep(4200 * time.Millisecond)
	}
	p.sure()
	assert.Contains(t, do[string](p, `document.getElementById('set').innerText`), "→ 180 m/min")
	p.quiet()
}

// All scripts share one scope, so no two things in it have one name.
func TestNoNameTwice(t *testing.T) {
	where := map[string]string{}
	for name, text := range scriptFiles(t) {
		if name == "worker.js" {
			continue
		}
		for _, m := range topLevel.FindAllStringSubmatch(text, -1) {
			for _, x := range regexp.MustCompile(`^\w+|, (\w+) =`).FindAllStringSubmatch(m[1], -1) {
				id := x[1]
				if id == "" {
					id = x[0]
				}
				assert.Empty(t, where[id], "%s is in %s too", id, name)
				where[id] = name
			}
		}
	}
	assert.Greater(t, len(where), 80)
	assert.Equal(t, "script/run.js", where["hardAfter"])
	assert.Equal(t, "script/run.js", where["longest"])
}

var topLevel = regexp.MustCompile(`(?m)^(?:async )?(?:function|const|let|class) (.*)$`)

// A run that takes long is stopped by a press: what it has come to stays, as rough as it
// is; the next change is answered. One that has come to nothing leaves the answer before.
func TestARunIsStoppedByAPress(t *testing.T) {
	t.Parallel()
	p := slowed(t, "speed === 195 ? 60000 : 15", "speed === 150 ? 5 : speed === 195 ? 60000 : 500")
	p.until(`getComputedStyle(document.getElementById('stop')).display == 'none'`)
	do[any](p, `T.slide('line speed', 200)`)
	p.until(`T.state() == 'rough' && document.getElementById('stop').getBoundingClientRect().width > 0`)
	do[any](p, `T.press('Stop')`)
	p.until(`document.getElementById('counted').textContent.endsWith(', stopped')`)
	assert.Equal(t, []any{"rough", false, "none"}, do[[]any](p, `[T.state(), document.getElementById('answer').hasAttribute('aria-busy'), getComputedStyle(document.getElementById('stop')).display]`))
	assert.Contains(t, do[string](p, `document.getElementById('set').innerText`), "→ 200 m/min")
	counted := do[string](p, `document.getElementById('counted').textContent`)
	time.Sleep(700 * time.Millisecond) // a step takes half a second
	assert.Equal(t, counted, do[string](p, `document.getElementById('counted').textContent`), "nothing is simulated any more")
	do[any](p, `T.press('Reset all')`)
	p.sure()
	do[any](p, `T.slide('line speed', 195)`) // a step of a minute
	p.until(`document.getElementById('stop').getBoundingClientRect().width > 0`)
	do[any](p, `T.press('Stop')`)
	p.until(`T.state() == 'waiting'`)
	assert.Equal(t, "Stopped: the answer is the one before the change.", do[string](p, `T.said()`))
	do[any](p, `T.press('Reset all')`)
	p.sure()
	p.quiet()
}

// A text that ends the engine when it is read is refused, and not read again and again.
func TestAFieldThatEndsTheEngineIsRefused(t *testing.T) {
	t.Parallel()
	p := slowed(t, `if (q.ask === "check") {`, `if (q.ask === "check") { if (q.value === "7") throw new Error("too much memory");`)
	do[any](p, `T.write('operators', '7')`)
	p.until(`T.field('operators').hasAttribute('aria-invalid')`)
	assert.Contains(t, do[string](p, `T.row('operators').innerText`), "too much memory")
	do[any](p, `T.slide('line speed', 200)`)
	p.until(`document.getElementById('set').innerText.includes('200')`)
	p.sure()
	assert.True(t, do[bool](p, `T.field('operators').hasAttribute('aria-invalid')`))
	p.quiet()
}
