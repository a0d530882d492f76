// Make compiles the engine of the live page to WebAssembly, packs it, and writes what
// the page needs of the Go distribution beside it; go generate ./out/live runs it.
package main

import (
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"

	"rollchange/out/live/lzma"
	"rollchange/out/live/source"
)

func main() {
	if err := make("engine"); err != nil {
		fmt.Fprintln(os.Stderr, err)
		os.Exit(1)
	}
}

// make writes the engine into a folder.
func make(folder string) error {
	sources, err := source.Hash("../..")
	if err != nil {
		return err
	}
	module, err := compiled()
	if err != nil {
		return err
	}
	packed := lzma.Pack(module)
	about, err := exec.Command("go", "env", "GOVERSION", "GOROOT").Output()
	if err != nil {
		return err
	}
	version, root, _ := strings.Cut(strings.TrimSpace(string(about)), "\n")
	glue, err := os.ReadFile(filepath.Join(root, "lib", "wasm", "wasm_exec.js"))
	if err != nil {
		return err
	}
	said, err := licences()
	if err != nil {
		return err
	}
	sum := fmt.Sprintf("go %s\nsources %s\n", version, sources)
	for name, data := range map[string][]byte{"engine.wasm.lzma": packed, "wasm_exec.js": glue, "licences.txt": []byte(said), "engine.sum": []byte(sum)} {
		if err := os.WriteFile(filepath.Join(folder, name), data, 0o644); err != nil {
			return err
		}
	}
	fmt.Printf("engine: %d bytes, packed %d\n", len(module), len(packed))
	return nil
}

// compiled is the engine, compiled so that the same sources and the same Go give the same
// bytes.
func compiled() ([]byte, error) {
	folder, err := os.MkdirTemp("", "rollchange-engine")
	if err != nil {
		return nil, err
	}
	defer os.RemoveAll(folder)
	to := filepath.Join(folder, "engine.wasm")
	build := exec.Command("go", "build", "-trimpath", "-buildvcs=false", "-ldflags=-s -w", "-o", to, "../../cmd/browser")
	build.Env = append(os.Environ(), "GOOS=js", "GOARCH=wasm", "CGO_ENABLED=0", "GOWASM=", "GOFLAGS=", "GOEXPERIMENT=")
	build.Stderr = os.Stderr
	if err := build.Run(); err != nil {
		return nil, fmt.Errorf("cmd/browser: %w", err)
	}
	return os.ReadFile(to)
}
