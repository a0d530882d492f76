package live

import (
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
