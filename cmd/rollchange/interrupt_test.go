package main

import (
	"bytes"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"syscall"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"rollchange/sim/effort"
)

// leavings are the temporary files anywhere below a folder.
func leavings(t *testing.T, folder string) []string {
	t.Helper()
	var found []string
	require.NoError(t, filepath.WalkDir(folder, func(path string, d os.DirEntry, err error) error {
		if err == nil && strings.HasPrefix(d.Name(), ".rollchange-") {
			found = append(found, path)
		}
		return err
	}))
	return found
}

// listed is what a message says after a word: the names and how many in all.
func listed(message, head string) (names []string, n int) {
	_, rest, ok := strings.Cut(message, head)
	if !ok {
		return nil, 0
	}
	rest, _, _ = strings.Cut(rest, ";")
	rest = strings.TrimSpace(rest)
	if m := regexp.MustCompile(` and (\d+) more$`).FindStringSubmatchIndex(rest); m != nil {
		n, _ = strconv.Atoi(rest[m[2]:m[3]])
		rest = rest[:m[0]]
	}
	names = strings.Split(rest, ", ")
	return names, n + len(names)
}

// honest asserts that what an interrupted command says is what there is.
func honest(t *testing.T, message, stdout string, planned []string) {
	t.Helper()
	var there []string
	for _, name := range planned {
		if _, err := os.Stat(name); err == nil {
			there = append(there, name)
		}
	}
	exists := func(name string) bool {
		if name == "the answer on standard output" {
			return stdout != ""
		}
		_, err := os.Stat(name)
		return err == nil
	}
	if strings.Contains(message, "nothing written") {
		assert.Empty(t, there, message)
		assert.Empty(t, stdout, message)
		return
	}
	head := "; written: "
	if strings.Contains(message, "after all was written: ") {
		head = "after all was written: "
	}
	done, n := listed(message, head)
	for _, name := range done {
		assert.True(t, exists(name), "%s: %s is not there", message, name)
		if name == "the answer on standard output" {
			n--
		}
	}
	if strings.Contains(message, "written in part only: the answer") {
		assert.NotEmpty(t, stdout)
	}
	assert.Equal(t, len(there), n, "%s: there is %v", message, there)
	none, _ := listed(message, "; not written: ")
	for _, name := range none {
		assert.False(t, exists(name), "%s: %s is there", message, name)
	}
}

// Interrupted at any moment, a command with several outputs says which were
// written and which not, and leaves no temporary file.
func TestInterruptedCommandsSayWhatWasWritten(t *testing.T) {
	if testing.Short() {
		t.Skip("long")
	}
	_, binary := built(t)
	for _, c := range []struct {
		args    []string
		planned []string
	}{
		{[]string{"report", "line.toml", "-o", "page.html", "--xlsx", "book.xlsx", "--plots", "p", "--replications", "2", "--horizon", "2 d"}, []string{"page.html", "book.xlsx"}},
		{[]string{"compare", "line.toml", "--plots", "p", "--replications", "2"}, nil},
		{[]string{"payback", "line.toml", "--xlsx", "book.xlsx", "-o", "answer.txt", "--replications", "2"}, []string{"book.xlsx", "answer.txt"}},
	}[:effort.Of(0, 1, 3)] {
		t.Chdir(t.TempDir())
		require.NoError(t, os.WriteFile("line.toml", []byte(template(t, "laminator_savings")), 0o644))
		begin := time.Now()
		require.NoError(t, exec.Command(binary, c.args...).Run())
		took := time.Since(begin)
		interrupted, several, times := 0, 0, effort.Of(0, 2, 16)
		for k := 0; k < times || interrupted <= times/3 && k < 10*times; k++ { // a busy machine may take longer or shorter than it took
			signal := []os.Signal{os.Interrupt, syscall.SIGTERM}[k%2]
			for _, name := range []string{"page.html", "book.xlsx", "answer.txt", "p"} {
				require.NoError(t, os.RemoveAll(name))
			}
			cmd := exec.Command(binary, c.args...)
			var stdout, stderr bytes.Buffer
			cmd.Stdout, cmd.Stderr = &stdout, &stderr
			start := time.Now()
			require.NoError(t, cmd.Start())
			time.Sleep(20*time.Millisecond + took*time.Duration(k%times)/time.Duration(times))
			_ = cmd.Process.Signal(signal)
			_ = cmd.Wait()
			assert.Empty(t, leavings(t, "."), "%v at %d", c.args, k)
			pictures, _ := filepath.Glob("p/*")
			planned := append(append([]string{}, c.planned...), pictures...)
			switch code := cmd.ProcessState.ExitCode(); code {
			case exitInterrupted:
				interrupted++
				lines := strings.Split(strings.TrimSpace(stderr.String()), "\n")
				message := lines[len(lines)-1]
				require.Contains(t, message, "rollchange: interrupted")
				honest(t, message, stdout.String(), planned)
				if strings.Contains(message, "; written: ") {
					several++
				}
			case -1: // before the program had begun to listen, on a busy machine
				honest(t, "nothing written", stdout.String(), planned)
			default:
				assert.Zero(t, code, stderr.String())
				took = min(took, time.Since(start)) // it was a busy machine that made it long
			}
		}
		assert.Greater(t, interrupted, times/3, "%v: the test interrupts", c.args)
		t.Logf("%v: took %v, %d interrupted, %d of them between outputs", c.args, took, interrupted, several)
	}
}

// What a command that was killed while it wrote has left is gone after the next.
func TestTheNextRunTakesAwayWhatAKilledOneLeft(t *testing.T) {
	if testing.Short() {
		t.Skip("long")
	}
	_, binary := built(t)
	t.Chdir(t.TempDir())
	require.NoError(t, os.WriteFile("line.toml", []byte(template(t, "laminator_savings")), 0o644))
	args := []string{"compare", "line.toml", "--plots", "p", "--replications", "2"}
	found := false
	for k := 0; k < 400 && !found; k++ {
		cmd := exec.Command(binary, args...)
		require.NoError(t, cmd.Start())
		deadline := time.Now().Add(5 * time.Second)
		for time.Now().Before(deadline) {
			if list, _ := filepath.Glob("p/.rollchange-*"); len(list) > 0 {
				break
			}
		}
		_ = cmd.Process.Kill()
		_ = cmd.Wait()
		found = len(leavings(t, "p")) > 0
	}
	require.True(t, found, "a command was killed while it wrote")
	require.NoError(t, exec.Command(binary, args...).Run())
	assert.Empty(t, leavings(t, "."))
}
