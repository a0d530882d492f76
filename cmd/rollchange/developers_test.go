package main

import (
	"os"
	"path/filepath"
	"regexp"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// The rows of DEVELOPERS.md name packages and files that there are.
func TestDevelopersNameWhatThereIs(t *testing.T) {
	text, err := os.ReadFile("../../DEVELOPERS.md")
	require.NoError(t, err)
	row := regexp.MustCompile("(?m)^\\| `((?:cmd|model|out|scenarios|sim)(?:/\\w+)*)` \\|.*$")
	file := regexp.MustCompile("`([\\w/]+\\.(?:go|js|html|css|toml))`")
	files := 0
	for _, line := range row.FindAllStringSubmatch(string(text), -1) {
		folder := filepath.Join("../..", line[1])
		assert.DirExists(t, folder)
		for _, name := range file.FindAllStringSubmatch(line[0], -1) {
			files++
			if _, err := os.Stat(filepath.Join(folder, name[1])); err != nil {
				assert.FileExists(t, filepath.Join(folder, "script", name[1])) // those of the page
			}
		}
	}
	assert.Greater(t, files, 100)
}
