package live

import (
	"os"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"rollchange/sim/effort"
)

// axeFile names the script of axe-core, a general tool that audits pages for
// accessibility; .ci/run fetches it. It is no part of the tool nor of the page.
const axeFile = "ROLLCHANGE_AXE"

// auditor is axe-core, or the test is skipped.
func auditor(t *testing.T) string {
	t.Helper()
	name := os.Getenv(axeFile)
	if name == "" {
		t.Skip("no axe-core: " + axeFile + " names its script (npm install axe-core)")
	}
	text, err := os.ReadFile(name)
	require.NoError(t, err)
	return string(text)
}

// Every rule of axe-core; what it cannot decide counts too, but for contrast in pictures
// and of signs alone: the colours are tested by TestColoursAndSizesCanBeRead.
const audit = `axe.run(document, {resultTypes: ['violations', 'incomplete']}).then(r =>
	[...r.violations, ...r.incomplete.filter(v => v.id != 'color-contrast')].flatMap(v => v.nodes.map(n => v.id + ': ' + v.help + ': ' + n.html.slice(0, 200) + ' ' + (n.any[0] || n.all[0] || n.none[0] || {}).message)))`

// An audit finds nothing to mend: of the page with answers, marks, refused inputs and kept
// cases, of a page without a scenario and of one that is wrong; light, dark and narrow.
func TestAuditFindsNothing(t *testing.T) {
	t.Parallel()
	axe := auditor(t)
	ctx := chromium(t)
	for name, page := range map[string]Page{"press": {Name: "press.toml", Text: invented}, "tool": {}, "broken": {Name: "bad.toml", Text: "title = 1\nline.sped = \"broken\"\n"}} {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			page.Version = "test"
			p := opens(t, ctx, mocked(t, page))
			for _, wide := range []int64{360, 1280}[:effort.Of(0, 1, 2)] {
				p.again(wide)
				if name == "press" {
					p.sure()
					do[any](p, `T.slide('line speed', 200)`)
					p.sure()
					do[any](p, `T.press('Keep this case'); T.write('operators', 'two')`)
					p.until(`T.field('operators').hasAttribute('aria-invalid')`)
				} else {
					p.until(`document.querySelector('.shipped button') != null`)
				}
				do[any](p, opened_+axe+`;1`)
				for _, scheme := range []string{"light", "dark"} {
					p.media("", scheme)
					assert.Empty(t, do[[]string](p, audit), "at %d px, %s", wide, scheme)
				}
			}
		})
	}
}
