package live

import (
	"os"
	"os/exec"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"rollchange/out/live/source"
)

// The engine in the tool is made of the sources beside it: whoever changes one of them
// runs go generate ./out/live. That the bytes are what they make is for .ci/run, which has
// the Go that they were made with.
func TestEngineIsOfTheseSources(t *testing.T) {
	want, err := source.Hash("../..")
	require.NoError(t, err)
	is, err := engineFiles.ReadFile("engine/engine.sum")
	require.NoError(t, err)
	assert.Contains(t, string(is), "\nsources "+want+"\n", "the engine is out of date: go generate ./out/live")
}

// The licences in the page are those of every module that the engine is made of.
func TestLicencesOfTheEngine(t *testing.T) {
	list := exec.Command("go", "list", "-deps", "-f", "{{with .Module}}{{if not .Main}}{{.Path}} {{.Version}}{{end}}{{end}}", "../../cmd/browser")
	list.Env = append(os.Environ(), "GOOS=js", "GOARCH=wasm", "CGO_ENABLED=0", "GOFLAGS=")
	said, err := list.Output()
	require.NoError(t, err)
	run, err := engineParts()
	require.NoError(t, err)
	modules := strings.Fields(strings.TrimSpace(strings.ReplaceAll(string(said), " ", "@")))
	require.NotEmpty(t, modules)
	for _, m := range modules {
		assert.Contains(t, run.licences, strings.Replace(m, "@", " ", 1))
	}
	assert.Contains(t, run.licences, "The Go Authors", "the standard library and wasm_exec.js")
	assert.Contains(t, run.licences, "the rollchange authors")
}
