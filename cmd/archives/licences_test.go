package main

import (
	"os"
	"runtime/debug"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func TestALicenceThatIsNotHandedOnIsFound(t *testing.T) {
	const list = "| module | version | licence |\n|---|---|---|\n| example.org/a | v1.2.0 | MIT |\n| example.org/b | v2.0.0 | MIT |\n"
	a, b := &debug.Module{Path: "example.org/a", Version: "v1.2.0"}, &debug.Module{Path: "example.org/b", Version: "v2.0.0"}
	assert.NoError(t, inList(nil, list))
	assert.NoError(t, inList([]*debug.Module{a, b}, list))
	assert.ErrorContains(t, inList([]*debug.Module{a, {Path: "example.org/b", Version: "v2.0.1"}}, list), "example.org/b v2.0.1 is linked into the program")
	assert.ErrorContains(t, inList([]*debug.Module{{Path: "example.org", Version: "v1.2.0"}}, list), "example.org v1.2.0")
	assert.ErrorContains(t, inList([]*debug.Module{{Path: "example.org/a", Version: "v1.2.0", Replace: &debug.Module{Path: "example.org/fork", Version: "v9"}}}, list), "example.org/fork v9")

	own, err := os.Executable()
	require.NoError(t, err)
	data, err := os.ReadFile(own)
	require.NoError(t, err)
	text, err := os.ReadFile("../../" + thirdParty)
	require.NoError(t, err)
	itself := file{name: "x", data: data} // it is linked with many
	assert.NoError(t, licensed(itself, []file{{name: thirdParty, data: text}}))
	assert.ErrorContains(t, licensed(itself, []file{{name: thirdParty}}), "is linked into the program, and its licence is not in THIRD_PARTY.md")
	assert.ErrorContains(t, licensed(itself, nil), "the archive has no THIRD_PARTY.md")
	assert.ErrorContains(t, licensed(file{name: "x", data: []byte("no program")}, nil), "x: what is linked into it is not known")
}
