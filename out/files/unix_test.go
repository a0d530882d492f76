//go:build linux || darwin || freebsd || netbsd || openbsd || dragonfly

package files

import (
	"context"
	"fmt"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"syscall"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func TestModesAreKeptAndTheUmaskHolds(t *testing.T) {
	folder := t.TempDir()
	for mask, want := range map[int]os.FileMode{0o022: 0o644, 0o077: 0o600, 0o002: 0o664} {
		was := syscall.Umask(mask)
		path := filepath.Join(folder, fmt.Sprintf("%o", mask))
		err := newRun().Save(path, says("x"))
		syscall.Umask(was)
		require.NoError(t, err)
		info, err := os.Stat(path)
		require.NoError(t, err)
		assert.Equal(t, want, info.Mode().Perm(), "umask %o", mask)
		for _, mode := range []os.FileMode{0o600, 0o640, 0o755, 0o666} {
			require.NoError(t, os.Chmod(path, mode))
			require.NoError(t, newRun().Save(path, says("y")))
			info, err = os.Stat(path)
			require.NoError(t, err)
			assert.Equal(t, mode, info.Mode().Perm())
		}
	}
	if os.Geteuid() != 0 { // nothing is forbidden to the superuser
		path := put(t, filepath.Join(folder, "protected"), "kept")
		require.NoError(t, os.Chmod(path, 0o444))
		assert.Error(t, newRun().Writes(path, "--output"), "a file that may not be written is not replaced either")
	}
}

// What is no regular file is written straight and stays what it is.
func TestPipesAndDevicesAreWrittenStraight(t *testing.T) {
	folder := t.TempDir()
	pipe := filepath.Join(folder, "pipe")
	require.NoError(t, syscall.Mkfifo(pipe, 0o600))
	got := make(chan string)
	go func() {
		b, _ := os.ReadFile(pipe)
		got <- string(b)
	}()
	r := newRun()
	require.NoError(t, r.Writes(pipe, "--output"), "the check does not wait for a reader")
	require.NoError(t, r.Save(pipe, says("through")))
	assert.Equal(t, "through", <-got)
	info, err := os.Lstat(pipe)
	require.NoError(t, err)
	assert.NotZero(t, info.Mode()&os.ModeNamedPipe)
	only(t, folder, "pipe")
	require.NoError(t, newRun().Save(os.DevNull, says("x")))
	assert.ErrorIs(t, newRun().Save("/dev/full", says("x")), syscall.ENOSPC)

	var out strings.Builder
	r = New(context.Background(), nil, &out, nil)
	require.NoError(t, r.Writes("/dev/stdout", "--output"))
	require.NoError(t, r.Save("/dev/stdout", says("to standard output")))
	assert.Equal(t, "to standard output", out.String())
}

// A descriptor is written at the place where it stands.
func TestOpenDescriptors(t *testing.T) {
	t.Chdir(t.TempDir())
	f, err := os.OpenFile("log", os.O_RDWR|os.O_CREATE|os.O_APPEND, 0o644)
	require.NoError(t, err)
	defer f.Close()
	_, err = f.WriteString("before\n")
	require.NoError(t, err)
	name := fmt.Sprintf("/dev/fd/%d", f.Fd())
	assert.True(t, Straight(name))
	assert.False(t, Straight("log"))
	require.NoError(t, newRun().Save(name, says("after\n")))
	holds(t, "log", "before\nafter\n")
}

// What a run that was killed has left is taken away by the next beside it, and
// nothing else is.
func TestLeavingsOfAKilledRunAreTakenAway(t *testing.T) {
	if os.Getenv("FILES_TEST_CHILD") != "" {
		child()
	}
	folder := t.TempDir()
	path := filepath.Join(folder, "answer")
	alive, dead := start(t, path), start(t, path)
	require.NoError(t, dead.Process.Kill())
	_ = dead.Wait()
	kept := []string{".rollchange-notes", ".rollchange-12345", ".rollchange-0123456789abcdef.tmp.bak", "rollchange-0123456789abcdef.tmp"}
	for _, name := range kept {
		put(t, filepath.Join(folder, name), "of somebody")
	}
	require.NoError(t, os.Mkdir(filepath.Join(folder, ".rollchange-00000000000000aa.tmp"), 0o755))
	require.NoError(t, os.Symlink("rollchange-0123456789abcdef.tmp", filepath.Join(folder, ".rollchange-00000000000000bb.tmp")))
	put(t, filepath.Join(folder, ".rollchange-00000000000000cc.tmp"), "with another name")
	require.NoError(t, os.Link(filepath.Join(folder, ".rollchange-00000000000000cc.tmp"), filepath.Join(folder, "another name")))
	left := func() int {
		list, err := filepath.Glob(filepath.Join(folder, ".rollchange-*.tmp"))
		require.NoError(t, err)
		return len(list)
	}
	require.Equal(t, 5, left())
	require.NoError(t, newRun().Writes(filepath.Join(folder, "other"), "--output"))
	assert.Equal(t, 4, left(), "the one of the dead is gone; that of the living, a folder, a link and a file with two names stay")
	for _, name := range kept {
		holds(t, filepath.Join(folder, name), "of somebody")
	}
	require.NoError(t, alive.Process.Signal(syscall.SIGCONT))
	require.NoError(t, alive.Process.Kill())
	_ = alive.Wait()
	require.NoError(t, newRun().Save(path, says("x")))
	assert.Equal(t, 3, left())
}

// start runs this test in another process, which writes a file and never ends.
func start(t *testing.T, path string) *exec.Cmd {
	t.Helper()
	cmd := exec.Command(os.Args[0], "-test.run", "^TestLeavingsOfAKilledRunAreTakenAway$")
	cmd.Env = append(os.Environ(), "FILES_TEST_CHILD="+path)
	out, err := cmd.StdoutPipe()
	require.NoError(t, err)
	require.NoError(t, cmd.Start())
	t.Cleanup(func() { _ = cmd.Process.Kill() })
	_, err = io.ReadFull(out, make([]byte, 7))
	require.NoError(t, err)
	return cmd
}

func child() {
	_ = newRun().Save(os.Getenv("FILES_TEST_CHILD"), func(w io.Writer) error {
		fmt.Print("writing")
		time.Sleep(time.Minute)
		return nil
	})
}
