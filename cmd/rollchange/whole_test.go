package main

import (
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"rollchange/sim/effort"
)

// built is the command as a program, for this test, and a folder with a scenario.
func built(t *testing.T) (folder, binary string) {
	t.Helper()
	folder = t.TempDir()
	binary, err := os.Executable()
	require.NoError(t, err)
	t.Setenv(asCommand, "1")
	make := exec.Command(binary, "new", "line.toml", "--template", "laminator_savings")
	make.Dir = folder
	require.NoError(t, make.Run())
	return folder, binary
}

// answers are commands that write one file, and how that file ends or begins when it is whole.
var answers = []struct {
	file, begins, ends string
	args               []string
}{
	{"page.html", "<!doctype html>", "</html>", []string{"report", "line.toml", "-o", "page.html", "--replications", "2"}},
	{"book.xlsx", "PK", "", []string{"payback", "line.toml", "--xlsx", "book.xlsx", "--replications", "2"}},
	{"hours.svg", "<?xml", "</svg>", []string{"plot", "hours", "line.toml", "-o", "hours.svg", "--replications", "2"}},
	{"sizes.json", "{", "}", []string{"size", "storage", "line.toml", "--risk", "2 %", "--json", "-o", "sizes.json", "--replications", "2"}},
}

// A disk that takes no more leaves what stood there, and nothing beside it.
func TestAFullDiskLeavesWhatWasThere(t *testing.T) {
	bash, err := exec.LookPath("bash")
	if err != nil || testing.Short() {
		t.Skip("long, and needs bash for the limit on the size of a file")
	}
	folder, binary := built(t)
	for i, a := range answers {
		if i%effort.Of(1, 2, 1) > 0 {
			continue // the usual form has every other
		}
		path := filepath.Join(folder, a.file)
		require.NoError(t, os.WriteFile(path, []byte("kept"), 0o600))
		cmd := exec.Command(bash, append([]string{"-c", `ulimit -f 1; exec "$0" "$@" >/dev/null`, binary}, a.args...)...)
		cmd.Dir = folder
		text, err := cmd.CombinedOutput()
		require.Error(t, err, a.file)
		assert.Contains(t, string(text), a.file+": cannot be written", a.file)
		kept, err := os.ReadFile(path)
		require.NoError(t, err)
		assert.Equal(t, "kept", string(kept), a.file)
		beside, _ := filepath.Glob(filepath.Join(folder, ".rollchange-*"))
		assert.Empty(t, beside, a.file)
	}
}

// Killed at any moment, a command leaves the file that was there or the whole new one.
func TestAKilledCommandLeavesAWholeFile(t *testing.T) {
	if testing.Short() {
		t.Skip("long")
	}
	folder, binary := built(t)
	for _, a := range answers {
		path := filepath.Join(folder, a.file)
		for delay := 20 * time.Millisecond; delay < time.Duration(effort.Of(1000, 500, 1000))*time.Millisecond; delay = delay * 7 / time.Duration(effort.Of(4, 1, 4)) {
			require.NoError(t, os.WriteFile(path, []byte("kept"), 0o600))
			cmd := exec.Command(binary, a.args...)
			cmd.Dir = folder
			require.NoError(t, cmd.Start())
			time.Sleep(delay)
			_ = cmd.Process.Kill()
			_ = cmd.Wait()
			left, err := os.ReadFile(path)
			require.NoError(t, err)
			if text := strings.TrimSpace(string(left)); text != "kept" {
				assert.True(t, strings.HasPrefix(strings.ToLower(text[:min(20, len(text))]), strings.ToLower(a.begins)), "%s after %v", a.file, delay)
				assert.True(t, strings.HasSuffix(text, a.ends), "%s after %v", a.file, delay)
			}
		}
	}
}
