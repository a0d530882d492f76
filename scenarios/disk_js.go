package scenarios

import "errors"

// onDisk fails: a page has the files that it was made with. To look for others is a
// twentieth of the program for a browser.
func (d *data) onDisk(string) ([]byte, error) {
	return nil, errors.New("cannot be read in a browser: write its values into the scenario")
}
