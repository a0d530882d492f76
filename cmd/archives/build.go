package main

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"strings"
	"time"
)

// module is the sources that the archives are made of.
type module struct {
	root    string // its folder
	version string // of the program
}

// findModule finds the module that a folder is in. Its Go must be the one that it
// names: others compile and compress to other bytes.
func findModule(ctx context.Context, folder string) (module, error) {
	out, err := output(ctx, folder, nil, "env", "GOMOD", "GOVERSION")
	if err != nil {
		return module{}, err
	}
	rows := strings.Split(strings.TrimRight(strings.ReplaceAll(string(out), "\r", ""), "\n"), "\n")
	if len(rows) != 2 || filepath.Base(rows[0]) != "go.mod" {
		return module{}, errors.New("this folder is in no module of Go: run it in the sources of rollchange")
	}
	m := module{root: filepath.Dir(rows[0])}
	text, err := os.ReadFile(rows[0])
	if err != nil {
		return module{}, errors.New("go.mod cannot be read")
	}
	pinned := ""
	for line := range strings.Lines(string(text)) {
		if f := strings.Fields(line); len(f) == 2 && f[0] == "toolchain" {
			pinned = f[1]
		}
	}
	if err := sameGo(pinned, rows[1], runtime.Version()); err != nil {
		return module{}, err
	}
	text, err = os.ReadFile(filepath.Join(m.root, "cmd", "rollchange", "version.go"))
	if err != nil {
		return module{}, errors.New("these are not the sources of rollchange: they have no cmd/rollchange/version.go")
	}
	_, rest, _ := strings.Cut(string(text), `const version = "`)
	if m.version, _, _ = strings.Cut(rest, `"`); m.version == "" {
		return module{}, errors.New("cmd/rollchange/version.go says no version")
	}
	return m, nil
}

// sameGo is an error when the Go that compiles or that runs here is not the pinned one.
func sameGo(pinned string, each ...string) error {
	if pinned == "" {
		return errors.New("go.mod names no toolchain: the bytes of an archive differ by the version of Go, so it must say which")
	}
	for _, version := range each {
		if version != pinned {
			return fmt.Errorf("this is %s and go.mod names %s: the bytes of an archive differ by the version of Go; set GOTOOLCHAIN=%[2]s", version, pinned)
		}
	}
	return nil
}

// build is the program for a system. Its bytes hang on the sources and on the version
// of Go alone. It keeps its build ID, a hash of both: a newer macOS runs no program
// without the identity that is made from it, and kept figures are found by it.
func (m module) build(ctx context.Context, s system) (file, error) {
	dir, err := os.MkdirTemp("", "rollchange-archives-")
	if err != nil {
		return file{}, errors.New("no folder for temporary files can be made")
	}
	defer os.RemoveAll(dir)
	path := filepath.Join(dir, s.program())
	settings := []string{"GOOS=" + s.os, "GOARCH=" + s.arch, "GOAMD64=v1", "GOARM64=v8.0", "GOEXPERIMENT=", "GOFIPS140=off", "CGO_ENABLED=0", "GOFLAGS=-mod=readonly", "GOWORK=off"}
	if _, err := output(ctx, m.root, settings, "build", "-trimpath", "-buildvcs=false", "-ldflags", "-s -w", "-o", path, "./cmd/rollchange"); err != nil {
		return file{}, fmt.Errorf("%s: %w", s, err)
	}
	data, err := os.ReadFile(path)
	if err != nil {
		return file{}, fmt.Errorf("%s: the program was built and cannot be read", s)
	}
	return file{name: s.program(), data: data, runs: true}, nil
}

// output is what a command of Go prints, in a folder and with settings of its
// environment; its error says what it complains of.
func output(ctx context.Context, folder string, settings []string, args ...string) ([]byte, error) {
	cmd := exec.CommandContext(ctx, "go", args...)
	cmd.Dir = folder
	cmd.Env = append(os.Environ(), settings...)
	cmd.WaitDelay = 5 * time.Second
	var stderr bytes.Buffer
	cmd.Stderr = &stderr
	out, err := cmd.Output()
	if errors.Is(err, exec.ErrNotFound) {
		return nil, errors.New("there is no go command here")
	}
	if err != nil {
		return nil, fmt.Errorf("go %s: %w\n%s", args[0], err, strings.TrimSpace(stderr.String()))
	}
	return out, nil
}
