// Package source says of which sources the engine of the live page is made.
package source

import (
	"crypto/sha256"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
)

// Hash is a hash of all that cmd/browser is compiled of below a folder: the files of this
// module, and the modules of others by their version. What is Go's own the version of Go
// says.
func Hash(root string) (string, error) {
	list := exec.Command("go", "list", "-deps", "-json=Dir,GoFiles,EmbedFiles,Standard,Module", "./cmd/browser")
	list.Dir = root
	list.Env = append(os.Environ(), "GOOS=js", "GOARCH=wasm", "CGO_ENABLED=0", "GOFLAGS=")
	text, err := list.Output()
	if err != nil {
		return "", fmt.Errorf("go list: %w", err)
	}
	root, err = filepath.Abs(root)
	if err != nil {
		return "", err
	}
	var lines []string
	for all := json.NewDecoder(strings.NewReader(string(text))); ; {
		var p struct {
			Dir                 string
			GoFiles, EmbedFiles []string
			Standard            bool
			Module              *struct {
				Path, Version string
				Main          bool
			}
		}
		if err := all.Decode(&p); errors.Is(err, io.EOF) {
			break
		} else if err != nil {
			return "", err
		}
		switch {
		case p.Standard || p.Module == nil: // the version of Go says which
		case !p.Module.Main:
			lines = append(lines, p.Module.Path+" "+p.Module.Version)
		default:
			for _, name := range append(p.GoFiles, p.EmbedFiles...) {
				line, err := hashed(root, filepath.Join(p.Dir, name))
				if err != nil {
					return "", err
				}
				lines = append(lines, line)
			}
		}
	}
	slices.Sort(lines)
	return fmt.Sprintf("%x", sha256.Sum256([]byte(strings.Join(slices.Compact(lines), "\n")))), nil
}

// hashed is a file by its place below the root, and its hash.
func hashed(root, file string) (string, error) {
	text, err := os.ReadFile(file)
	if err != nil {
		return "", err
	}
	name, err := filepath.Rel(root, file)
	if err != nil {
		return "", err
	}
	return fmt.Sprintf("%s %x", filepath.ToSlash(name), sha256.Sum256(text)), nil
}
