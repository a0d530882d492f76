package cells

import (
	"bytes"
	"encoding/binary"
	"strings"
	"unicode/utf16"
	"unicode/utf8"
)

// Text reads a table as programs write it: cells parted by commas, semicolons
// or tabs, in quotes where they hold such; in UTF-8, with a byte order mark or
// without, in UTF-16 with one, or in Latin-1.
//
// The common form is that of RFC 4180; semicolons are what spreadsheets write
// where the comma is the sign of decimals. The first line with something on it
// says which it is, "sep=;" alone on the first line too.
type Text struct {
	Comma byte   // what parts the cells; 0: nothing does, there is one column
	Line  int    // 1-based, on which the row that Next returned begins
	Cells []Cell // of that row; the next one is written over them
	Open  int    // line of a quote that nothing ends; 0: none

	text  string
	at    int
	below int // line on which the next row begins
}

// Cell is one cell, without its quotes and the space around it.
type Cell struct {
	Text   string
	Quoted bool
}

// Most is the most cells of a row: no log has more columns.
const Most = 1000

// New begins to read a table; ok is false when it is no text.
func New(data []byte) (t *Text, ok bool) {
	decoded, ok := decoded(data)
	if !ok {
		return nil, false
	}
	text := string(decoded)
	t = &Text{text: text, below: 1}
	if hint, rest, found := strings.Cut(text, "\n"); found {
		if hint := strings.TrimRight(hint, "\r"); len(hint) == 5 && strings.EqualFold(hint[:4], "sep=") {
			t.Comma, t.text, t.below = hint[4], rest, 2
			return t, true
		}
	}
	for line := range strings.Lines(text) {
		if strings.TrimSpace(line) == "" {
			continue
		}
		for _, c := range []byte("\t;,") {
			if outsideQuotes(line, c) > 0 {
				t.Comma = c
				break
			}
		}
		break
	}
	return t, true
}

// decoded is a text in UTF-8 without a byte order mark; false when it is none.
func decoded(data []byte) ([]byte, bool) {
	var order binary.ByteOrder
	switch {
	case bytes.HasPrefix(data, []byte("\xef\xbb\xbf")):
		data = data[3:]
	case bytes.HasPrefix(data, []byte("\xff\xfe")):
		order = binary.LittleEndian
	case bytes.HasPrefix(data, []byte("\xfe\xff")):
		order = binary.BigEndian
	}
	if order != nil {
		units := make([]uint16, 0, len(data)/2)
		for i := 2; i+1 < len(data); i += 2 {
			units = append(units, order.Uint16(data[i:]))
		}
		data = []byte(string(utf16.Decode(units)))
	}
	if bytes.IndexByte(data, 0) >= 0 {
		return nil, false
	}
	if utf8.Valid(data) {
		return data, true
	}
	var b bytes.Buffer
	for _, c := range data {
		b.WriteRune(rune(c)) // Latin-1 is the first 256 of Unicode
	}
	return b.Bytes(), true
}

// Next reads the next row that has something in it; false at the end, or when a
// row has too many cells, which complaint then says.
func (t *Text) Next() (ok bool, complaint string) {
	for t.at < len(t.text) {
		t.Line = t.below
		t.Cells = t.Cells[:0]
		for more := true; more; {
			if len(t.Cells) == Most {
				return false, "has more columns than any log"
			}
			more = t.cell()
		}
		for _, c := range t.Cells {
			if c.Text != "" {
				return true, ""
			}
		}
	}
	return false, ""
}

// cell reads one cell; false when it is the last of its row.
func (t *Text) cell() bool {
	for t.at < len(t.text) && (t.text[t.at] == ' ' || t.text[t.at] == '\t' && t.Comma != '\t') {
		t.at++
	}
	var c Cell
	if t.at < len(t.text) && t.text[t.at] == '"' {
		c.Quoted = true
		c.Text = t.inQuotes()
	}
	start := t.at
	for t.at < len(t.text) && t.text[t.at] != '\n' && (t.Comma == 0 || t.text[t.at] != t.Comma) {
		t.at++
	}
	c.Text += t.text[start:t.at]
	c.Text = strings.TrimSpace(c.Text)
	t.Cells = append(t.Cells, c)
	if t.at >= len(t.text) {
		return false
	}
	t.at++
	if t.text[t.at-1] == '\n' {
		t.below++
		return false
	}
	return true
}

// inQuotes reads from a quote to the one that ends it; two of them stand for one.
func (t *Text) inQuotes() string {
	var b strings.Builder
	line := t.below
	for t.at++; t.at < len(t.text); t.at++ {
		switch c := t.text[t.at]; {
		case c == '"' && t.at+1 < len(t.text) && t.text[t.at+1] == '"':
			t.at++
			b.WriteByte('"')
		case c == '"':
			t.at++
			return b.String()
		default:
			if c == '\n' {
				t.below++
			}
			b.WriteByte(c)
		}
	}
	if t.Open == 0 {
		t.Open = line
	}
	return b.String()
}
