package main

import (
	"bytes"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"rollchange/scenarios"
	"rollchange/sim/effort"
)

// builtForABrowser builds testdata/browser as a page would have it.
func builtForABrowser(t *testing.T) string {
	t.Helper()
	if testing.Short() {
		t.Skip("builds for another system")
	}
	to := filepath.Join(t.TempDir(), "browser.wasm")
	build := exec.Command("go", "build", "-trimpath", "-ldflags", "-s -w", "-o", to, "../../testdata/browser")
	build.Env = append(os.Environ(), "GOOS=js", "GOARCH=wasm")
	said, err := build.CombinedOutput()
	require.NoError(t, err, "%s", said)
	return to
}

// A page that holds the engine has to open from a mail: the program with what it
// needs is below 7 MB before it is packed. What made it larger stands in DEVELOPERS.md.
func TestEngineForABrowserIsSmall(t *testing.T) {
	is, err := os.Stat(builtForABrowser(t))
	require.NoError(t, err)
	assert.Less(t, is.Size(), int64(7_000_000))
	assert.Greater(t, is.Size(), int64(3_500_000), "nothing of the engine is in it")
}

// A page comes to what the command comes to, to the last digit: every figure, interval,
// saving and sentence of each shipped scenario.
func TestBrowserComesToTheSame(t *testing.T) {
	effort.NotInRace(t)
	node, err := exec.LookPath("node")
	if err != nil {
		t.Skip("no node here to run the program for a browser")
	}
	page := builtForABrowser(t)
	here := filepath.Join(t.TempDir(), "here")
	build := exec.Command("go", "build", "-o", here, "../../testdata/browser")
	build.Env = append(os.Environ(), "GOAMD64=v1") // v3 multiplies and adds in one step
	if runtime.GOARCH != "amd64" {
		build.Args = append(build.Args[:2:2], append([]string{"-gcflags=all=-d=fmahash=qn"}, build.Args[2:]...)...) // as others do unless they are told not to
	}
	said, err := build.CombinedOutput()
	require.NoError(t, err, "%s", said)
	root, err := exec.Command("go", "env", "GOROOT").Output()
	require.NoError(t, err)
	wasm := filepath.Join(strings.TrimSpace(string(root)), "lib", "wasm", "wasm_exec_node.js")
	var set []string
	usual := []string{"label_press", "label_week"} // savings, and a list of orders
	if !effort.Long() {
		set = []string{"run.replications=2"}
	}
	for _, x := range scenarios.Templates() {
		if !effort.Long() && !slices.Contains(usual, x.Name) {
			continue
		}
		t.Run(x.Name, func(t *testing.T) {
			run := func(name string, args ...string) string {
				c := exec.Command(name, append(args, set...)...)
				c.Stdin = bytes.NewReader(x.Text)
				c.Stderr = os.Stderr
				out, err := c.Output()
				require.NoError(t, err, "%s", name)
				return string(out)
			}
			want := strings.Split(run(here), "\n")
			assert.Greater(t, len(want), 100)
			for i, line := range strings.Split(run(node, "--stack-size=8192", wasm, page), "\n") {
				require.Equal(t, want[i], line, "line %d", i+1)
			}
		})
	}
}
