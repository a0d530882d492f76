package report

import (
	"bytes"
	"compress/zlib"
	"fmt"
	"io"
	"math"
	"regexp"
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

// lowest is how far down the lowest text of each page of a PDF stands, as a share of the
// height of the page. It reads what Chromium writes: objects that are not packed, streams by
// Flate, text placed by cm, Tm and Td (ISO 32000-1, 8.3 and 9.4).
func lowest(t *testing.T, pdf []byte) []float64 {
	t.Helper()
	objects := map[string][]byte{}
	var pages [][]byte
	for _, m := range pdfObject.FindAllSubmatch(pdf, -1) {
		objects[string(m[1])] = m[2]
		if pdfPage.Match(m[2]) {
			pages = append(pages, m[2])
		}
	}
	var list []float64
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
		list = append(list, 1-lowestText(string(text))/high)
	}
	return list
}

// matrix is a transformation of the plane, as PDF writes it.
type matrix [6]float64

func (m matrix) then(n matrix) matrix {
	return matrix{m[0]*n[0] + m[1]*n[2], m[0]*n[1] + m[1]*n[3], m[2]*n[0] + m[3]*n[2], m[2]*n[1] + m[3]*n[3], m[4]*n[0] + m[5]*n[2] + n[4], m[4]*n[1] + m[5]*n[3] + n[5]}
}

// lowestText is the least height above the foot of the page at which text begins.
func lowestText(content string) float64 {
	one := matrix{1, 0, 0, 1, 0, 0}
	now, line, least := one, one, math.Inf(1)
	var stack []matrix
	var args []float64
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
		case "Tm":
			line = last(6)
		case "Td":
			by := last(2)
			line = matrix{1, 0, 0, 1, by[4], by[5]}.then(line)
		case "Tj", "TJ":
			least = min(least, line.then(now)[5])
		default:
			if strings.HasSuffix(w, "Tj") || strings.HasSuffix(w, "TJ") {
				least = min(least, line.then(now)[5])
			}
		}
		args = args[:0]
	}
	return least
}

// leastFull is how far down the text of a printed page reaches, as a share of its height.
const leastFull = 0.55

// wellFilled checks that no page but the last is half empty, and that what is signed is one
// page: it is followed by a break, so the second begins with the appendix.
func wellFilled(t *testing.T, what string, pdf []byte) {
	t.Helper()
	down := lowest(t, pdf)
	require.Greater(t, len(down), 3, what)
	var poor []string
	for i, x := range down[:len(down)-1] {
		if x < leastFull {
			poor = append(poor, fmt.Sprintf("page %d of %d: %.0f %%", i+1, len(down), 100*x))
		}
	}
	assert.Empty(t, poor, what)
}

func TestLowestText(t *testing.T) {
	assert.InDelta(t, 842-0.24*100, lowestText("q .24 0 0 -.24 0 842 cm BT 1 0 0 -1 50 100 Tm <0001> Tj ET Q"), 1e-9)
	assert.InDelta(t, 30, lowestText("BT 1 0 0 1 50 100 Tm 0 -70 Td [ <0001> ] TJ ET"), 1e-9)
	assert.True(t, math.IsInf(lowestText("q 1 0 0 1 0 0 cm Q"), 1))
}
