package main

import (
	"bytes"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"rollchange/model/legible"
	"rollchange/out/files"
	"rollchange/out/live"
)

// file is one in an archive.
type file struct {
	name string // with / between folders
	data []byte
	runs bool // it is a program
}

// copied are the files of the sources that go into every archive, by patterns of their
// names: what a user reads and starts from, and all that this links to.
var copied = []string{
	"README.md", "DEVELOPERS.md", "LICENSE", "THIRD_PARTY.md",
	"docs/*.md", "docs/*.svg", "docs/*.png", "docs/studies/*.md", "docs/studies/*.html",
	"docs/examples/README.md", "docs/examples/*.sbatch", "docs/examples/*.yaml",
	"scenarios/*.toml", "scenarios/*.csv", "scenarios/*.xlsx",
}

// livePage is the page that is a tool of its own: it needs a browser alone, so it serves
// where no program may be installed.
const livePage = "live.html"

// contents is what is the same in every archive, in the order of its names: files of the
// sources, and the page.
func (m module) contents() ([]file, error) {
	var all []file
	for _, pattern := range copied {
		found, err := filepath.Glob(filepath.Join(m.root, filepath.FromSlash(pattern)))
		if err != nil {
			return nil, err
		}
		if len(found) == 0 {
			return nil, fmt.Errorf("the sources have no %s", pattern)
		}
		for _, path := range found {
			name, err := filepath.Rel(m.root, path)
			if err != nil {
				return nil, err
			}
			name = filepath.ToSlash(name)
			data, err := os.ReadFile(path)
			if err != nil {
				return nil, fmt.Errorf("%s cannot be read", legible.Visible(name))
			}
			all = append(all, file{name: name, data: data})
		}
	}
	var page bytes.Buffer
	if err := live.Write(&page, live.Page{Version: m.version}); err != nil {
		return nil, fmt.Errorf("%s: %w", livePage, err)
	}
	all = append(all, file{name: livePage, data: page.Bytes()})
	slices.SortFunc(all, func(a, b file) int { return strings.Compare(a.name, b.name) })
	return all, nil
}

// check is an error when some system cannot unpack files side by side.
func check(all []file) error {
	seen := map[string]string{}
	for _, f := range all {
		shown := legible.Visible(f.name)
		if !filepath.IsLocal(f.name) || strings.ContainsAny(f.name, `\:`) {
			return fmt.Errorf("%s: leads out of the archive", shown)
		}
		if why := files.Refused("windows", f.name); why != "" {
			return fmt.Errorf("%s: cannot be unpacked everywhere: %s", shown, why)
		}
		folded := strings.ToLower(f.name)
		if other, ok := seen[folded]; ok {
			return fmt.Errorf("%s and %s are one file on some systems", legible.Visible(other), shown)
		}
		seen[folded] = f.name
	}
	if len(all) == 0 {
		return errors.New("an archive of nothing")
	}
	return nil
}
