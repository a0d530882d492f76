package live

import "io"

// Write writes a page: one HTML file that needs nothing else.
func Write(w io.Writer, p Page) error {
	run, err := engineParts()
	if err != nil {
		return err
	}
	return p.write(w, run)
}
