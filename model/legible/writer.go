package legible

import (
	"bytes"
	"fmt"
	"io"
	"unicode/utf8"
)

// Writer passes text on to a terminal, or to what may become one, and writes
// whatever is hidden as an escape. The escapes are those of JSON, so that JSON
// says the same after it. Line feeds and tabs pass.
type Writer struct {
	w    io.Writer
	bold bool
	held []byte // the beginning of a rune or of a sign for bold text
}

// NewWriter writes to w. With bold the signs by which this tool makes text bold
// and ends that pass too.
func NewWriter(w io.Writer, bold bool) *Writer { return &Writer{w: w, bold: bold} }

// Unwrap is what is written to.
func (w *Writer) Unwrap() io.Writer { return w.w }

// boldSigns are how a terminal begins and ends bold text (ECMA-48, SGR).
var boldSigns = [][]byte{[]byte("\x1b[1m"), []byte("\x1b[0m")}

// Write passes text on. It says that all of p was written when all of it is
// written or held until the rune is whole.
func (w *Writer) Write(p []byte) (int, error) {
	out, held := w.clean(append(w.held, p...), false)
	w.held = append([]byte(nil), held...)
	if len(out) == 0 {
		return len(p), nil
	}
	if _, err := w.w.Write(out); err != nil {
		return 0, err
	}
	return len(p), nil
}

// Flush writes what was held: a rune that never became whole.
func (w *Writer) Flush() error {
	out, _ := w.clean(w.held, true)
	w.held = nil
	if len(out) == 0 {
		return nil
	}
	_, err := w.w.Write(out)
	return err
}

// clean is p with escapes, less what must wait for what follows.
func (w *Writer) clean(p []byte, last bool) (out, held []byte) {
	start := 0 // of what can pass as it is
	for i := 0; i < len(p); {
		if c := p[i]; c >= ' ' && c < 0x7f || c == '\n' || c == '\t' {
			i++
			continue
		}
		if w.bold && p[i] == 0x1b {
			n, wait := sign(p[i:])
			if wait && !last {
				return append(out, p[start:i]...), p[i:]
			}
			if n > 0 {
				i += n
				continue
			}
		}
		if !last && !utf8.FullRune(p[i:]) {
			return append(out, p[start:i]...), p[i:]
		}
		r, n := utf8.DecodeRune(p[i:])
		switch {
		case r == utf8.RuneError && n == 1:
			out = append(out, p[start:i]...)
			out = fmt.Appendf(out, `\x%02x`, p[i])
			start = i + n
		case Hidden(r):
			out = append(out, p[start:i]...)
			out = append(out, escape(r)...)
			start = i + n
		}
		i += n
	}
	if start == 0 {
		return p, nil
	}
	return append(out, p[start:]...), nil
}

// sign is the length of a sign for bold text at the start of p; wait: p may be
// the beginning of one.
func sign(p []byte) (n int, wait bool) {
	for _, s := range boldSigns {
		if bytes.HasPrefix(p, s) {
			return len(s), false
		}
		wait = wait || len(p) < len(s) && bytes.HasPrefix(s, p)
	}
	return 0, wait
}

// Bytes is a text with whatever is hidden written as an escape, for files that
// may be shown on a terminal later.
func Bytes(p []byte) []byte {
	out, _ := (&Writer{}).clean(p, true)
	return out
}
