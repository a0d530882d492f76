package live

import (
	"bytes"
	"fmt"
	"os"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"rollchange/scenarios"
	"rollchange/sim/effort"
)

// mostPage is the largest page that may be mailed, bytes, with a shipped scenario in it.
const mostPage = 2.5e6

// written is a page with the engine of the tool.
func written(t testing.TB, p Page) []byte {
	t.Helper()
	p.Version = "test"
	var b bytes.Buffer
	require.NoError(t, Write(&b, p))
	return b.Bytes()
}

// shipped is the text of a scenario that comes with the tool.
func shipped(t testing.TB, name string) string {
	t.Helper()
	text, err := os.ReadFile("../../scenarios/" + name + ".toml")
	require.NoError(t, err)
	return string(text)
}

var horizon = regexp.MustCompile(`(?m)^horizon = "\d+ d"`)

// briefly is a shipped scenario that is simulated for as long as it says in the long form
// alone, for three days a replication in the usual one.
func briefly(t testing.TB, name string) string {
	t.Helper()
	text := shipped(t, name)
	if effort.Long() {
		return text
	}
	require.Regexp(t, horizon, text)
	return horizon.ReplaceAllString(text, `horizon = "3 d"`)
}

// The page of every shipped scenario answers, with its engine, at the width of a telephone
// and of a desk, after its first inputs were moved, and with alternatives off; the saved
// scenario gives the same answer in a page of its own. The usual form tries one.
func TestPagesOfShippedScenarios(t *testing.T) {
	t.Parallel()
	ctx := chromium(t)
	names := []string{"label_press_learned", "laminator_savings", "press_comparison", "bagger", "label_press", "slitter", "label_week", "laminator", "bag_machines", "bagger_speed"}
	for _, name := range names[:effort.Of(0, 1, len(names))] {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			page := written(t, Page{Name: name + ".toml", Text: briefly(t, name)})
			assert.Less(t, float64(len(page)), mostPage, "bytes")
			p := opens(t, ctx, page)
			p.sure()
			labels := do[[]string](p, `T.labels()`)
			require.GreaterOrEqual(t, len(labels), 5)
			before := do[string](p, `document.getElementById('parts').innerText`)
			for _, label := range labels[:2] {
				do[any](p, fmt.Sprintf(`(() => { const s = T.slider(%s); T.slide(%[1]s, Number(s.min) + 0.3 * (s.max - s.min)); })()`, strconv.Quote(label)))
			}
			p.sure()
			assert.NotEqual(t, before, do[string](p, `document.getElementById('parts').innerText`))
			do[any](p, `T.press('Keep this case'); true`)
			for _, wide := range []int64{320, 768, 1280} {
				p.wide(wide)
				for _, scheme := range []string{"light", "dark"} {
					p.media("", scheme)
					p.pictured(fmt.Sprintf("%s-%d-%s.png", name, wide, scheme))
				}
				assert.Empty(t, do[[]string](p, opened_+sticksOut), "at %d px", wide)
				assert.Empty(t, do[[]string](p, tooSmall), "at %d px", wide)
				assert.Empty(t, do[[]string](p, covers), "at %d px", wide)
			}
			p.saves()
			do[any](p, `T.press('Save scenario'); true`)
			text := p.saved(name + " changed.toml")
			_, err := scenarios.Parse(name+".toml", []byte(text), "../../scenarios")
			require.NoError(t, err)
			assert.Contains(t, text, strings.SplitN(shipped(t, name), "\n", 2)[0], "comments are kept")
			parts := func(p *tab) []string {
				return do[[]string](p, `['said', 'part-more', 'part-table'].map(id => document.getElementById(id).textContent)`)
			}
			want := parts(p)
			again := p
			if effort.Long() {
				again = opens(t, ctx, written(t, Page{Name: name + ".toml", Text: text}))
			} else { // a page takes a second of the processor to start: the same one reads it anew
				do[any](p, `T.press('Open another'); document.getElementById('text').value = `+strconv.Quote(text)+`; T.press('Take this text')`)
				p.until(`!document.getElementById('set').innerText.includes('→')`)
			}
			again.sure()
			assert.Equal(t, want, parts(again))
			p.quiet()
			again.quiet()
		})
	}
}

// A customer's three questions: faster, web that costs less, and one operator. The answer
// to each is what the tool gives for the scenario so changed, and a price alone simulates
// nothing anew.
func TestThreeQuestions(t *testing.T) {
	t.Parallel()
	p := opens(t, chromium(t), written(t, Page{Name: "laminator.toml", Text: briefly(t, "laminator")}))
	p.sure()
	rate := `[...document.querySelectorAll('#part-figures .block')][0].innerText`
	before := do[string](p, rate)
	do[any](p, `T.write('line speed', '180')`)
	p.until(`document.getElementById('set').innerText.includes('180 m/min')`)
	p.sure()
	faster := do[string](p, rate)
	assert.NotEqual(t, before, faster)
	do[any](p, `T.write('cost of web', '0.3 EUR/m2')`)
	p.until(`document.getElementById('set').innerText.includes('0.3 EUR/m2')`)
	p.sure()
	assert.Equal(t, faster, do[string](p, rate), "a price changes no web")
	do[any](p, `T.slide('operators', 1)`)
	p.sure()
	assert.NotEqual(t, faster, do[string](p, rate))
	assert.Equal(t, "line speed 250 m/min → 180 m/min operators 2 → 1 cost of web 0.32 EUR/m2 → 0.3 EUR/m2", strings.Join(strings.Fields(do[string](p, `document.querySelector('#set ul').innerText`)), " "))
	p.quiet()
}

// What stands in the way of a moved input is told beside it, and made an input by a press.
func TestWhatIsInTheWayIsMadeAnInput(t *testing.T) {
	longAlone(t)
	t.Parallel()
	p := opens(t, chromium(t), written(t, Page{Name: "press.toml", Text: shipped(t, "press_comparison")}))
	p.sure()
	before := do[string](p, `document.getElementById('part-figures').innerText`)
	assert.Equal(t, "160", do[string](p, `T.slide('line speed', 400)`), "a slider ends where the scenario does")
	p.sure()
	do[any](p, `T.press('Reset all')`)
	p.sure()
	do[any](p, `T.write('line speed', '180')`)
	p.until(`T.state() == 'waiting'`)
	assert.Contains(t, do[string](p, `T.row('line speed').innerText`), "rated line speed: must not be below line speed")
	do[any](p, `T.slide('cost of web', 0.3)`)
	p.until(`document.getElementById('set').innerText.includes('cost of web')`)
	p.until(`T.state() == 'waiting'`)
	assert.Contains(t, do[string](p, `T.row('line speed').innerText`), "rated line speed", "who brought it about is told, not what was moved since")
	assert.False(t, do[bool](p, `T.field('cost of web').hasAttribute('aria-invalid')`))
	do[any](p, `T.press('Reset', T.row('cost of web'))`)
	p.until(`T.state() == 'waiting'`)
	assert.True(t, do[bool](p, `T.field('line speed').hasAttribute('aria-invalid')`))
	assert.Equal(t, before, do[string](p, `document.getElementById('part-figures').innerText`), "the answer is that before")
	do[any](p, `T.press('Make “rated line speed” an input')`)
	p.until(`T.labels().includes('rated line speed')`)
	do[any](p, `T.write('rated line speed', '180')`)
	p.until(`document.getElementById('set').innerText.includes('rated line speed')`)
	p.sure()
	assert.NotEqual(t, before, do[string](p, `document.getElementById('part-figures').innerText`))
	assert.False(t, do[bool](p, `T.field('line speed').hasAttribute('aria-invalid')`))
	p.quiet()
}

// A scenario that is not right, in a page that somebody has changed, says so at its lines.
func TestWrongScenarioInAPage(t *testing.T) {
	t.Parallel()
	text := strings.Replace(briefly(t, "label_press"), `[unwind]`, "[unwind]\nchnge = \"<b>by hand</b>\"", 1)
	p := opens(t, chromium(t), written(t, Page{Name: "press.toml", Text: text}))
	p.until(`document.querySelector('.problems') != null`)
	says := do[string](p, `document.querySelector('.problems').innerText`)
	assert.Contains(t, says, `chnge = "<b>by hand</b>"`)
	assert.Contains(t, says, "press.toml cannot be used as it is")
	do[any](p, `document.querySelector('.problems button').click()`)
	assert.Equal(t, `chnge = "<b>by hand</b>"`, do[string](p, `(() => { const b = document.activeElement; return b.value.slice(b.selectionStart, b.selectionEnd); })()`), "a press on the line goes there")
	do[any](p, `document.activeElement.setRangeText(''); T.press('Take this text'); true`)
	p.sure()
	assert.Equal(t, "Label press, short runs", do[string](p, `document.title`))
	do[any](p, `T.press('Open another'); true`)
	opensShipped(p, effort.Of(0, 0, 1))
	p.quiet()
}

// The tool without a scenario opens each that is shipped, and finds keys.
func TestShippedOnesAreOpened(t *testing.T) {
	longAlone(t)
	t.Parallel()
	p := opens(t, chromium(t), written(t, Page{}))
	opensShipped(p, len(scenarios.Templates()))
	p.quiet()
}

// opensShipped looks up a key where a scenario is opened, and opens so many of those that
// are shipped.
func opensShipped(p *tab, many int) {
	t := p.t
	t.Helper()
	p.until(`document.querySelector('.shipped button') != null`)
	require.Equal(t, len(scenarios.Templates()), do[int](p, `document.querySelectorAll('.shipped button').length`))
	do[any](p, `(() => { const f = document.getElementById('find'); f.value = 'festoon'; f.dispatchEvent(new Event('input')); })()`)
	p.until(`document.querySelector('.keylist') != null`)
	assert.Contains(t, do[string](p, `document.querySelector('.keylist').innerText`), "unwind.storage.")
	for i := range many {
		do[any](p, fmt.Sprintf(`document.querySelectorAll('.shipped button')[%d].click()`, i))
		p.until(`!document.getElementById('work').hidden`)
		p.sure()
		assert.NotEmpty(t, do[string](p, `T.said()`))
		do[any](p, `T.press('Open another'); true`)
		p.until(`document.querySelectorAll('.shipped button').length > 0`)
	}
}

// A data file that was dropped with a scenario is still there when its text was mended.
func TestDataFilesStayWhileAScenarioIsMended(t *testing.T) {
	longAlone(t)
	t.Parallel()
	const law = `dwell = { dist = "lognormal", mean = "8 s", sd = "1.8 s" }`
	require.Contains(t, shipped(t, "bagger_speed"), law)
	text := strings.Replace(shipped(t, "bagger_speed"), law, "dwell = { dist = \"empirical\", file = \"times.csv\", column = \"dwell [s]\" }\ndwel = 1", 1)
	p := opens(t, chromium(t), written(t, Page{}))
	p.until(`document.querySelector('.shipped button') != null`)
	do[any](p, `(() => { const d = new DataTransfer(); d.items.add(new File([`+strconv.Quote(text)+`], 'mine.toml')); d.items.add(new File(['dwell [s]\n7\n8\n9\n'], 'times.csv'));
		dispatchEvent(new DragEvent('drop', {dataTransfer: d, cancelable: true})); })()`)
	p.until(`document.querySelector('.problems') != null`)
	assert.Equal(t, 1.0, do[float64](p, `document.querySelectorAll('.problems li').length`))
	do[any](p, `(() => { const b = document.getElementById('text'); b.value = b.value.replace('dwel = 1', ''); T.press('Take this text'); })()`)
	p.until(`!document.getElementById('work').hidden`)
	p.sure()
	p.quiet()
}
