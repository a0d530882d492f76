package report

import (
	"bytes"
	"compress/zlib"
	"fmt"
	"io"
	"math"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

var (
	pdfObject   = regexp.MustCompile(`(?s)(\d+) 0 obj\s*(<<.*?)endobj`)
	pdfPage     = regexp.MustCompile(`/Type\s*/Page\b`)
	pdfContents = regexp.MustCompile(`/Contents\s+(\d+) 0 R`)
	pdfBox      = regexp.MustCompile(`/MediaBox\s*\[\s*([-0-9. ]+)\]`)
)

// sheet is a printed page: how far down its lowest text stands, as a share of the height,
// and the type (pt) that is too small to read.
type sheet struct {
	down  float64
	small []string
}

// leastPrinted is the smallest type on paper, pt.
const leastPrinted = 7.0

// readSheets reads the pages of a PDF that Chromium wrote: objects that are not packed,
// streams by Flate, text placed by cm, Tm and Td (ISO 32000-1, 8.3 and 9.4).
func readSheets(t *testing.T, pdf []byte) []sheet {
	t.Helper()
	objects := map[string][]byte{}
	var pages [][]byte
	for _, m := range pdfObject.FindAllSubmatch(pdf, -1) {
		objects[string(m[1])] = m[2]
		if pdfPage.Match(m[2]) {
			pages = append(pages, m[2])
		}
	}
	var list []sheet
	for _, p := range pages {
		box := pdfBox.FindSubmatch(p)
		of := pdfContents.FindSubmatch(p)
		require.True(t, box != nil && of != nil, "a page with a size and contents")
		high, err := strconv.ParseFloat(strings.Fields(string(box[1]))[3], 64)
		require.NoError(t, err)
		_, stream, _ := bytes.Cut(objects[string(of[1])], []byte("stream"))
		z, err := zlib.NewReader(bytes.NewReader(bytes.TrimLeft(stream, "\r\n")))
		require.NoError(t, err)
		text, err := io.ReadAll(z)
		require.NoError(t, err)
		s := sheet{down: 0}
		for _, x := range textsOf(string(text)) {
			s.down = max(s.down, 1-x.y/high)
			if x.size < leastPrinted-0.01 {
				s.small = append(s.small, fmt.Sprintf("%.2f", x.size))
			}
		}
		slices.Sort(s.small)
		s.small = slices.Compact(s.small)
		list = append(list, s)
	}
	return list
}

// matrix is a transformation of the plane, as PDF writes it.
type matrix [6]float64

func (m matrix) then(n matrix) matrix {
	return matrix{m[0]*n[0] + m[1]*n[2], m[0]*n[1] + m[1]*n[3], m[2]*n[0] + m[3]*n[2], m[2]*n[1] + m[3]*n[3], m[4]*n[0] + m[5]*n[2] + n[4], m[4]*n[1] + m[5]*n[3] + n[5]}
}

// placed is text on a page: the height of its foot above that of the page, and its size, pt.
type placed struct{ y, size float64 }

// textsOf are the texts of a page.
func textsOf(content string) []placed {
	one := matrix{1, 0, 0, 1, 0, 0}
	now, line, size := one, one, 0.0
	var list []placed
	var stack []matrix
	var args []float64
	show := func() {
		m := line.then(now)
		list = append(list, placed{m[5], size * math.Hypot(m[2], m[3])})
	}
	for _, w := range strings.Fields(content) {
		if x, err := strconv.ParseFloat(w, 64); err == nil {
			args = append(args, x)
			continue
		}
		last := func(n int) (m matrix) {
			if len(args) >= n {
				copy(m[6-n:], args[len(args)-n:])
			}
			return m
		}
		switch w {
		case "q":
			stack = append(stack, now)
		case "Q":
			if n := len(stack); n > 0 {
				now, stack = stack[n-1], stack[:n-1]
			}
		case "cm":
			now = last(6).then(now)
		case "BT":
			line = one
		case "Tf":
			size = last(1)[5]
		case "Tm":
			line = last(6)
		case "Td":
			by := last(2)
			line = matrix{1, 0, 0, 1, by[4], by[5]}.then(line)
		default:
			if strings.HasSuffix(w, "Tj") || strings.HasSuffix(w, "TJ") {
				show()
			}
		}
		if !strings.HasPrefix(w, "/") { // the name of a font stands before its size
			args = args[:0]
		}
	}
	return list
}

// leastFull is how far down the text of a printed page reaches, as a share of its height.
const leastFull = 0.55

// wellFilled checks that no page but the last is half empty, and that what is signed is one
// page: it is followed by a break, so the second begins with the appendix.
func wellFilled(t *testing.T, what string, sheets []sheet) {
	t.Helper()
	require.Greater(t, len(sheets), 3, what)
	var poor []string
	for i, x := range sheets[:len(sheets)-1] {
		if x.down < leastFull {
			poor = append(poor, fmt.Sprintf("page %d of %d: %.0f %%", i+1, len(sheets), 100*x.down))
		}
	}
	assert.Empty(t, poor, what)
}

func TestTextsOf(t *testing.T) {
	near := func(want, got []placed) {
		require.Len(t, got, len(want))
		for i := range want {
			assert.InDelta(t, want[i].y, got[i].y, 1e-9)
			assert.InDelta(t, want[i].size, got[i].size, 1e-9)
		}
	}
	near([]placed{{842 - 0.24*100, 0.24 * 40}}, textsOf("q .24 0 0 -.24 0 842 cm BT /F4 40 Tf 1 0 0 -1 50 100 Tm <0001> Tj ET Q"))
	near([]placed{{100, 9}, {30, 9}}, textsOf("BT /F4 9 Tf 1 0 0 1 50 100 Tm <0002> Tj 0 -70 Td [ <0001> ] TJ ET"))
	near([]placed{{100, 18}}, textsOf("BT /F4 9 Tf 0 2 -2 0 50 100 Tm <0002> Tj ET")) // turned
	assert.Empty(t, textsOf("q 1 0 0 1 0 0 cm Q"))
}
