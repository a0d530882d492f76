package live

import (
	"fmt"
	"slices"
	"strconv"
	"testing"

	"github.com/stretchr/testify/require"

	"rollchange/scenarios"
)

// timed moves a slider and takes the time, ms, to the first answer and to the sure one.
const timed = `T.timed = (label, share) => new Promise((done, fail) => {
	const s = T.slider(label), from = performance.now();
	let first = 0;
	setTimeout(() => fail(new Error(label + ' to ' + s.value + ': ' + T.state() + ', ' + T.said())), 30000);
	const o = new MutationObserver((list) => {
		if (!first && list.some((m) => m.target.id == 'said')) first = performance.now() - from;
		if (T.state() != 'sure' || document.getElementById('answer').hasAttribute('aria-busy')) return;
		o.disconnect();
		done([first, performance.now() - from]);
	});
	o.observe(document.getElementById('answer'), {childList: true, subtree: true, attributes: true, attributeFilter: ['aria-busy', 'data-state']});
	const was = Number(s.value);
	for (const x of [share, share + 0.1, 0.1, 0.9]) { // what stands still, or is rounded to it, asks for nothing
		s.value = Number(s.min) + x * (s.max - s.min);
		if (Math.abs(s.value - was) > 0.05 * (s.max - s.min)) break;
	}
	T.slide(label, s.value);
}); true`

// BenchmarkLive takes how long a person waits for the page of each shipped scenario: from
// a moved input of the line to a rough and to a sure answer, and from a moved price to its
// first answer; medians, ms, of a browser as a person has it:
// ROLLCHANGE_LONG=1 go test ./out/live -run '^$' -bench Live -benchtime 5x
func BenchmarkLive(b *testing.B) {
	ctx := chromium(b)
	for _, x := range scenarios.Templates() {
		b.Run(x.Name, func(b *testing.B) {
			p := opens(b, ctx, written(b, Page{Name: x.Name + ".toml", Text: string(x.Text)}))
			p.sure()
			require.True(b, do[bool](p, timed))
			labels := do[[]string](p, `[...document.querySelectorAll('.mover')].filter(m => m.querySelector('input[type=range]')).map(m => m.querySelector('label').textContent)`)
			line, price := labels[0], labels[len(labels)-1]
			if slices.Contains(labels, "line speed") {
				line = "line speed"
			}
			for _, label := range labels {
				if label == "cost of web" {
					price = label
				}
			}
			var rough, sure, alone []float64
			for i := range b.N {
				share := 0.2 + 0.6*float64(i+1)/float64(b.N+1)
				move := func(label string) []float64 {
					return do[[]float64](p, fmt.Sprintf(`T.timed(%s, %g)`, strconv.Quote(label), share))
				}
				x := move(line)
				rough, sure = append(rough, x[0]), append(sure, x[1])
				alone = append(alone, move(price)[0])
			}
			for name, list := range map[string][]float64{"rough-ms": rough, "sure-ms": sure, "price-ms": alone} {
				slices.Sort(list)
				b.ReportMetric(list[len(list)/2], name)
			}
			b.ReportMetric(0, "ns/op")
		})
	}
}
