package scenarios

import "errors"

// text fails: a page has no files. What it would take to look for them is a
// twentieth of the program for a browser.
func (d *data) text(string) ([]byte, error) {
	return nil, errors.New("cannot be read in a browser: write its values into the scenario")
}
