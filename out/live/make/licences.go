package main

import (
	"errors"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
)

// licences are the texts that go with the engine: whoever hands a page on hands on what
// others wrote. Each text stands once, below the modules that have it.
func licences() (string, error) {
	list := exec.Command("go", "list", "-deps", "-f", "{{with .Module}}{{.Path}}\t{{.Version}}\t{{.Dir}}{{end}}", "./cmd/browser")
	list.Dir = "../.."
	list.Env = append(os.Environ(), "GOOS=js", "GOARCH=wasm", "CGO_ENABLED=0", "GOFLAGS=")
	said, err := list.Output()
	if err != nil {
		return "", fmt.Errorf("go list: %w", err)
	}
	// Some systems keep Go without its licence; its authors' modules have the same.
	golang := exec.Command("go", "list", "-m", "-f", "the Go standard library\t\t{{.Dir}}", "golang.org/x/sys")
	golang.Dir = "../.."
	own, err := golang.Output()
	if err != nil {
		return "", fmt.Errorf("go list: %w", err)
	}
	rows := strings.Split(strings.TrimSpace(string(said)+string(own)), "\n")
	slices.Sort(rows)
	of := map[string][]string{} // text -> who has it
	var order []string
	for _, row := range slices.Compact(rows) {
		f := strings.Split(row, "\t")
		if len(f) != 3 {
			continue
		}
		texts, err := textsIn(f[2])
		if err != nil {
			return "", fmt.Errorf("%s: %w", f[0], err)
		}
		for _, text := range texts {
			if of[text] == nil {
				order = append(order, text)
			}
			of[text] = append(of[text], strings.TrimSpace(f[0]+" "+f[1]))
		}
	}
	var b strings.Builder
	for _, text := range order {
		who := strings.Join(of[text], ", ")
		fmt.Fprintf(&b, "%s\n%s\n\n%s\n\n\n", who, strings.Repeat("-", min(72, len(who))), text)
	}
	return strings.TrimSpace(b.String()) + "\n", nil
}

// textsIn are the licences of a module: beside its go.mod and in its folder of those of
// others, whose texts of test data and of what is not linked do no harm.
func textsIn(folder string) ([]string, error) {
	var texts []string
	for _, pattern := range []string{"LICEN[CS]E*", "COPYING*", "THIRD_PARTY_LICENSES/*"} {
		files, err := filepath.Glob(filepath.Join(folder, pattern))
		if err != nil {
			return nil, err
		}
		for _, name := range files {
			text, err := os.ReadFile(name)
			if err != nil {
				return nil, err
			}
			texts = append(texts, strings.TrimSpace(strings.ToValidUTF8(strings.ReplaceAll(string(text), "\r", ""), "?")))
		}
	}
	if len(texts) == 0 {
		return nil, errors.New("no licence")
	}
	return texts, nil
}
