package live

import (
	"testing"

	"github.com/stretchr/testify/assert"
)

// On a phone the line comes first and the rest is folded; what the answer comes to
// stands at the foot, a press goes to the answer and back, and the bar takes few lines.
func TestOnATelephone(t *testing.T) {
	t.Parallel()
	p := press(t, invented)
	assert.Equal(t, 0.0, do[float64](p, `document.querySelectorAll('.fold:not([open])').length`), "on a desk nothing is folded")
	assert.Equal(t, "none", do[string](p, `getComputedStyle(document.getElementById('jump')).display`))
	p.again(360)
	p.sure()
	assert.Equal(t, []string{"Prices and economics"}, do[[]string](p, `[...document.querySelectorAll('.fold:not([open]) h3')].map(h => h.textContent)`))
	assert.Contains(t, do[string](p, `document.getElementById('brief').innerText`), "automatic unwind")
	top := func(id string) float64 {
		return do[float64](p, `document.getElementById('`+id+`').getBoundingClientRect().top`)
	}
	assert.Greater(t, top("answer"), 800.0)
	do[any](p, `T.press('To the answer')`)
	p.until(`document.getElementById('jump').textContent == 'To the inputs'`)
	assert.InDelta(t, 0, top("answer"), 2)
	assert.Equal(t, "answer", do[string](p, `document.activeElement.id`))
	do[any](p, `T.press('To the inputs')`)
	p.until(`document.getElementById('jump').textContent == 'To the answer'`)
	assert.InDelta(t, 0, top("inputs"), 2)
	assert.Equal(t, 1.0, do[float64](p, `new Set([...document.querySelectorAll('#badge, #counted, #jump')].map(e => Math.round((e.getBoundingClientRect().top + e.getBoundingClientRect().bottom) / 40))).size`), "badge, count and button stand in one line")
	p.quiet()
}
