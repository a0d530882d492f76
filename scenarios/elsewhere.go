//go:build !js

package scenarios

import (
	"errors"
	"fmt"
	"os"
	"path"
	"path/filepath"
	"runtime"
	"strings"
	"unicode"

	"rollchange/model/legible"
)

// A scenario names its files as every system reads them: beside it or in folders
// below, those apart by /, in the capitals that the file has. One that was written
// on a system which takes more is read on another with an error that says so.

// parted says how folders are written.
const parted = `folders are kept apart by /, which every system reads, not by \`

// slashes writes a name with /. A \ in quotes may have become a tab or a new line.
var slashes = strings.NewReplacer(`\`, "/", "\b", "/b", "\t", "/t", "\n", "/n", "\f", "/f", "\r", "/r")

// missing is the error of a file that is not there.
func (d *data) missing(name string) error {
	const none = "there is no such file"
	slash := slashes.Replace(name)
	if runtime.GOOS != "windows" && ofWindows(name) {
		return fmt.Errorf("%s: a drive or another computer is named so on Windows alone; put it beside the scenario and write %s", none, legible.Quote(path.Base(slash[strings.IndexByte(slash, ':')+1:])))
	}
	if there, ok := d.spelled(slash); ok {
		return fmt.Errorf("%s; there is %s: write it so, which every system reads", none, legible.Quote(there))
	}
	if slash != name && (runtime.GOOS != "windows" || strings.ContainsAny(name, "\b\t\n\f\r")) {
		return errors.New(none + "; " + parted)
	}
	return errors.New(none)
}

// ofWindows says whether a name begins with a drive or a computer as only Windows
// has them: C:\log.csv, C:log.csv, \\server\share\log.csv.
func ofWindows(name string) bool {
	return strings.HasPrefix(name, `\\`) || len(name) > 2 && name[1] == ':' && name[0] < unicode.MaxASCII && unicode.IsLetter(rune(name[0]))
}

// spelled is the name of a file that may be read and that differs by capitals, or
// by the separators of a name that is written with / here; false when there is none,
// or several.
func (d *data) spelled(name string) (there string, ok bool) {
	if !filepath.IsLocal(name) {
		return "", false // what is outside is not told
	}
	folder := "."
	for _, part := range strings.Split(path.Clean(name), "/") {
		list, err := os.ReadDir(filepath.Join(d.dir, folder))
		if err != nil {
			return "", false
		}
		found := ""
		for _, e := range list {
			if e.Name() == part {
				found = part
				break
			}
			if strings.EqualFold(e.Name(), part) {
				if found != "" {
					return "", false
				}
				found = e.Name()
			}
		}
		if found == "" {
			return "", false
		}
		folder = path.Join(folder, found)
	}
	real, err := filepath.EvalSymlinks(filepath.Join(d.dir, folder))
	if err != nil {
		return "", false
	}
	home, err := filepath.EvalSymlinks(d.dir)
	if err != nil {
		return "", false
	}
	if _, in := inside(home, real); !in {
		return "", false
	}
	info, err := os.Stat(real)
	return folder, err == nil && info.Mode().IsRegular()
}
