package report

import (
	"bytes"
	"encoding/xml"
	"fmt"
	"html"
	"html/template"
	"io"
	"math"
	"slices"
	"strconv"
	"strings"

	"rollchange/out/picture"
)

// drawn are the elements of a picture that go into a page, and their attributes.
var drawn = map[string][]string{
	"g": {"transform"}, "path": {"d", "style"}, "text": {"x", "y", "transform", "style"},
}

// typeWords are parts of the style of text that style.css has once for all.
var typeWords = []string{"font-family:Liberation Sans,Arial,Helvetica,sans-serif;", "font-variant:normal;", "font-weight:normal;", "font-style:normal;"}

// leastText is the smallest text of a picture on a screen, px; a picture that is too wide
// for the screen with it scrolls in its own box.
const leastText = 11

// leastPrintedText is its smallest text on paper, pt.
const leastPrintedText = 7

// leastType is the smallest type of a picture, in its own units; 0: it has no text.
func leastType(file []byte) float64 {
	least := 0.0
	for rest := string(file); ; {
		_, after, is := strings.Cut(rest, "font-size:")
		if !is {
			break
		}
		size, _, _ := strings.Cut(after, "px")
		if x, err := strconv.ParseFloat(size, 64); err == nil && x > 0 && (least == 0 || x < least) {
			least = x
		}
		rest = after
	}
	return least
}

// inline writes a picture as an element of a page, with its text alternative.
// Only elements that draw are kept, and everything is escaped anew.
func inline(p *picture.Picture, id, title, says string) (template.HTML, error) {
	var file bytes.Buffer
	if err := p.Write(&file, "svg"); err != nil {
		return "", err
	}
	id = html.EscapeString(id)
	var e element
	fmt.Fprintf(&e.b, `<svg role="img" viewBox="0 0 %g %g" aria-labelledby="%s-t" aria-describedby="%s-d" style="%s">`, p.W, p.H, id, id, sizeOf(p, file.Bytes()))
	fmt.Fprintf(&e.b, `<title id="%s-t">%s</title><desc id="%s-d">%s</desc>`, id, html.EscapeString(title), id, html.EscapeString(says))
	for d := xml.NewDecoder(&file); ; {
		token, err := d.Token()
		if err == io.EOF {
			break
		}
		if err == nil {
			err = e.take(d, token)
		}
		if err != nil {
			return "", fmt.Errorf("picture %s: %w", id, err)
		}
	}
	if e.skipped > 0 {
		return "", fmt.Errorf("picture %s holds %d elements that a page does not take", id, e.skipped)
	}
	e.b.WriteString("</svg>")
	return template.HTML(e.b.String()), nil
}

// sizeOf is the style that a picture has its size by, on a screen and on paper.
func sizeOf(p *picture.Picture, file []byte) string {
	usual := 1.25 * float64(p.W)
	least := leastType(file)
	if least == 0 {
		return fmt.Sprintf("max-width:%.0fpx", usual)
	}
	narrow, printed := math.Ceil(float64(p.W)*leastText/least), math.Ceil(float64(p.W)*leastPrintedText/least)
	return fmt.Sprintf("min-width:%.0fpx;max-width:%.0fpx;--printed:%.0fpt", narrow, max(narrow, usual), printed)
}

// element is a picture on its way into a page.
type element struct {
	b              bytes.Buffer
	skipped, paths int
}

// take takes a token of the picture's file.
func (e *element) take(d *xml.Decoder, token xml.Token) error {
	switch t := token.(type) {
	case xml.StartElement:
		return e.begin(d, t)
	case xml.EndElement:
		if _, ok := drawn[t.Name.Local]; ok {
			e.b.WriteString("</" + t.Name.Local + ">")
		}
	case xml.CharData:
		if text := string(t); strings.TrimSpace(text) != "" {
			e.b.WriteString(html.EscapeString(text))
		}
	}
	return nil
}

// begin begins an element that draws.
func (e *element) begin(d *xml.Decoder, t xml.StartElement) error {
	name := t.Name.Local
	allowed, ok := drawn[name]
	switch {
	case name == "svg":
		return nil
	case !ok:
		e.skipped++
		return nil
	case name == "path":
		if e.paths++; e.paths == 1 { // the white ground: the page is white
			return d.Skip()
		}
	}
	e.b.WriteString("<" + name)
	for _, a := range t.Attr {
		if !slices.Contains(allowed, a.Name.Local) {
			continue
		}
		value := a.Value
		if a.Name.Local == "style" {
			for _, w := range typeWords {
				value = strings.Replace(value, w, "", 1)
			}
		}
		fmt.Fprintf(&e.b, ` %s="%s"`, a.Name.Local, html.EscapeString(value))
	}
	e.b.WriteString(">")
	return nil
}
