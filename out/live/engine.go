package live

import (
	"embed"
	"fmt"
)

// The engine and what runs it are made by go generate, of cmd/browser and the Go
// distribution; engine/engine.sum says of which sources.
//
//go:generate go run ./make
//go:embed engine
var engineFiles embed.FS

// engineParts are the engine, compressed, and what runs it.
func engineParts() (parts, error) {
	engine, err := engineFiles.ReadFile("engine/engine.wasm.lzma")
	if err != nil {
		return parts{}, fmt.Errorf("the program was built without the engine of the page: go generate ./out/live makes it")
	}
	glue, err := engineFiles.ReadFile("engine/wasm_exec.js")
	if err != nil {
		return parts{}, fmt.Errorf("the program was built without what runs the engine of the page: go generate ./out/live makes it")
	}
	licences, err := engineFiles.ReadFile("engine/licences.txt")
	if err != nil {
		return parts{}, fmt.Errorf("the program was built without the licences of the engine: go generate ./out/live makes them")
	}
	return parts{engine, string(glue), string(licences)}, nil
}
