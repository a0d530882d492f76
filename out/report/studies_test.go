package report

import (
	"context"
	"fmt"
	"net/url"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/chromedp"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"rollchange/sim/effort"
)

// The pages of the studies, with all their replications, print on A4 and Letter with nothing
// cut or too small to read, no page half empty, and what is signed on a page of its own. The
// usual form prints one of them.
func TestStudiesPrintWell(t *testing.T) {
	ctx := browser(t)
	pages, err := filepath.Glob("../../docs/studies/*.html")
	require.NoError(t, err)
	require.Greater(t, len(pages), 4)
	for _, page := range pages[:effort.Of(0, 1, len(pages))] {
		name := strings.TrimSuffix(filepath.Base(page), ".html")
		t.Run(name, func(t *testing.T) {
			path, err := filepath.Abs(page)
			require.NoError(t, err)
			_, err = os.Stat(path)
			require.NoError(t, err)
			tab, cancel := chromedp.NewContext(ctx)
			defer cancel()
			require.NoError(t, chromedp.Do(tab, chromedp.EmulateViewport(1280, 800), chromedp.Navigate((&url.URL{Scheme: "file", Path: path}).String())))
			_, err = chromedp.Call(tab, emulation.SetEmulatedMedia, emulation.SetEmulatedMediaParams{Media: "print"})
			require.NoError(t, err)
			for paper, size := range papers {
				printed(t, tab, name, paper, size, true)
			}
		})
	}
}

// papers are those that a page is printed on.
var papers = map[string]chromedp.PaperSize{"A4": chromedp.PaperA4, "Letter": chromedp.PaperLetter}

// printed prints a page that is open in print: nothing is cut, all can be read, and where its
// names are as long as names are, not as they may be, it is well filled.
func printed(t *testing.T, tab context.Context, name, paper string, size chromedp.PaperSize, usual bool) {
	t.Helper()
	what := name + " on " + paper
	inner := int64((size.Width - 2*16/25.4) * 96) // less the margins of style.css
	require.NoError(t, chromedp.Do(tab, chromedp.EmulateViewport(inner, 1000)))
	looked := func(script string) []string {
		list, err := chromedp.Run(tab, chromedp.Evaluate[[]string](script))
		require.NoError(t, err)
		return list
	}
	assert.Empty(t, looked(cutInPrint), what)
	if name != "hostile" { // its names are as long as names may be
		assert.Empty(t, looked(fmt.Sprintf(twoPages, int64((size.Height-2*15/25.4)*96))), what)
	}
	pdf, err := chromedp.Run(tab, chromedp.PrintToPDF(chromedp.PDFPaper(size)))
	require.NoError(t, err)
	keep(t, name+"-"+paper+".pdf", pdf)
	assert.True(t, len(pdf) > 20000 && string(pdf[:5]) == "%PDF-", "%s: %d bytes", what, len(pdf))
	sheets := readSheets(t, pdf)
	for i, s := range sheets {
		assert.Empty(t, s.small, "%s, page %d: type below %g pt", what, i+1, leastPrinted)
	}
	if usual {
		wellFilled(t, what, sheets)
	}
}
