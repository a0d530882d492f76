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
	var file, b bytes.Buffer
	if err := p.Write(&file, "svg"); err != nil {
		return "", err
	}
	id = html.EscapeString(id)
	size := fmt.Sprintf("max-width:%.0fpx", 1.25*float64(p.W))
	if least := leastType(file.Bytes()); least > 0 {
		narrow, printed := math.Ceil(float64(p.W)*leastText/least), math.Ceil(float64(p.W)*leastPrintedText/least)
		size = fmt.Sprintf("min-width:%.0fpx;max-width:%.0fpx;--printed:%.0fpt", narrow, max(narrow, 1.25*float64(p.W)), printed)
	}
	fmt.Fprintf(&b, `<svg role="img" viewBox="0 0 %g %g" aria-labelledby="%s-t" aria-describedby="%s-d" style="%s">`, p.W, p.H, id, id, size)
	fmt.Fprintf(&b, `<title id="%s-t">%s</title><desc id="%s-d">%s</desc>`, id, html.EscapeString(title), id, html.EscapeString(says))
	d := xml.NewDecoder(&file)
	skipped, paths := 0, 0
	for {
		token, err := d.Token()
		if err == io.EOF {
			break
		}
		if err != nil {
			return "", fmt.Errorf("picture %s: %w", id, err)
		}
		switch t := token.(type) {
		case xml.StartElement:
			allowed, ok := drawn[t.Name.Local]
			if t.Name.Local == "svg" {
				continue
			}
			if !ok {
				skipped++
				continue
			}
			if t.Name.Local == "path" {
				if paths++; paths == 1 { // the white ground: the page is white
					if err := d.Skip(); err != nil {
						return "", err
					}
					continue
				}
			}
			b.WriteString("<" + t.Name.Local)
			for _, a := range t.Attr {
				if slices.Contains(allowed, a.Name.Local) {
					value := a.Value
					if a.Name.Local == "style" {
						for _, w := range typeWords {
							value = strings.Replace(value, w, "", 1)
						}
					}
					fmt.Fprintf(&b, ` %s="%s"`, a.Name.Local, html.EscapeString(value))
				}
			}
			b.WriteString(">")
		case xml.EndElement:
			if _, ok := drawn[t.Name.Local]; ok {
				b.WriteString("</" + t.Name.Local + ">")
			}
		case xml.CharData:
			if text := string(t); strings.TrimSpace(text) != "" {
				b.WriteString(html.EscapeString(text))
			}
		}
	}
	if skipped > 0 {
		return "", fmt.Errorf("picture %s holds %d elements that a page does not take", id, skipped)
	}
	b.WriteString("</svg>")
	return template.HTML(b.String()), nil
}
