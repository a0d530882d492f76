package report

import (
	"bytes"
	"encoding/base64"
	"encoding/xml"
	"errors"
	"fmt"
	"html/template"
	"image"
	_ "image/jpeg" // a logo may be one
	_ "image/png"
	"io"
	"os"

	"rollchange/model/legible"
)

// Logo is a picture of the reader's own at the head of a page.
type Logo struct{ url template.URL }

// mostLogo is the most that a logo may hold, bytes; mostSide the most pixels of
// a side.
const (
	mostLogo = 500 << 10
	mostSide = 4000
)

// ReadLogo reads a logo: PNG, JPEG or SVG, told by what it holds, not by its name.
func ReadLogo(path string) (*Logo, error) {
	shown := legible.Visible(path)
	f, err := os.Open(path)
	if err != nil {
		return nil, fmt.Errorf("%s: cannot be read", shown)
	}
	defer f.Close()
	data, err := io.ReadAll(io.LimitReader(f, mostLogo+1))
	if err != nil {
		return nil, fmt.Errorf("%s: cannot be read", shown)
	}
	l, err := newLogo(data)
	if err != nil {
		return nil, fmt.Errorf("%s: %w", shown, err)
	}
	return l, nil
}

func newLogo(data []byte) (*Logo, error) {
	if len(data) > mostLogo {
		return nil, fmt.Errorf("is larger than %d kB, too large for a logo", mostLogo>>10)
	}
	kind, err := logoKind(data)
	if err != nil {
		return nil, err
	}
	return &Logo{template.URL("data:" + kind + ";base64," + base64.StdEncoding.EncodeToString(data))}, nil
}

var errNoLogo = errors.New("is not a PNG, JPEG or SVG picture")

// logoKind is the media type of a logo by its content.
func logoKind(data []byte) (string, error) {
	if size, kind, err := image.DecodeConfig(bytes.NewReader(data)); err == nil {
		switch {
		case kind != "png" && kind != "jpeg":
			return "", errNoLogo
		case size.Width > mostSide || size.Height > mostSide || size.Width < 1 || size.Height < 1:
			return "", fmt.Errorf("is %d by %d pixels: at most %d a side", size.Width, size.Height, mostSide)
		}
		if _, _, err := image.Decode(bytes.NewReader(data)); err != nil {
			return "", errors.New("is a damaged picture")
		}
		return "image/" + kind, nil
	}
	// In an <img> an SVG can neither run anything nor ask for anything.
	d := xml.NewDecoder(bytes.NewReader(data))
	for first := true; ; {
		token, err := d.Token()
		if err == io.EOF && !first {
			return "image/svg+xml", nil
		}
		if err != nil {
			return "", errNoLogo
		}
		switch t := token.(type) {
		case xml.Directive:
			return "", errors.New("is an SVG with a document type or entities: save it as plain SVG")
		case xml.StartElement:
			if first && (t.Name.Local != "svg" || t.Name.Space != "http://www.w3.org/2000/svg") {
				return "", errNoLogo
			}
			first = false
		}
	}
}
