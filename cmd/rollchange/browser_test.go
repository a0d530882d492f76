package main

import (
	"os"
	"os/exec"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// A page that holds the engine has to open from a mail: the program with what it
// needs is below 7.9 MB before it is packed, 1.6 MB after it. What made it larger stands in DEVELOPERS.md.
func TestEngineForABrowserIsSmall(t *testing.T) {
	if testing.Short() {
		t.Skip("builds for another system")
	}
	to := filepath.Join(t.TempDir(), "browser.wasm")
	build := exec.Command("go", "build", "-trimpath", "-ldflags", "-s -w", "-o", to, "../browser")
	build.Env = append(os.Environ(), "GOOS=js", "GOARCH=wasm")
	said, err := build.CombinedOutput()
	require.NoError(t, err, "%s", said)
	is, err := os.Stat(to)
	require.NoError(t, err)
	assert.Less(t, is.Size(), int64(7_900_000))
	assert.Greater(t, is.Size(), int64(3_500_000), "nothing of the engine is in it")
}
