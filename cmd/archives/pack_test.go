package main

import (
	"archive/tar"
	"archive/zip"
	"bytes"
	"compress/gzip"
	"context"
	"io"
	"io/fs"
	"os"
	"path"
	"path/filepath"
	"runtime"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// entry is a file in an archive, as it is read by the library.
type entry struct {
	data []byte
	mode fs.FileMode
	when time.Time
}

// unpacked is what is in an archive, by names, and these in their order. Nobody owns
// anything in it.
func unpacked(t *testing.T, s system, archive []byte) (map[string]entry, []string) {
	t.Helper()
	all, order := map[string]entry{}, []string(nil)
	if s.os == "windows" {
		z, err := zip.NewReader(bytes.NewReader(archive), int64(len(archive)))
		require.NoError(t, err)
		for _, f := range z.File {
			r, err := f.Open()
			require.NoError(t, err)
			data, err := io.ReadAll(r)
			require.NoError(t, err)
			all[f.Name], order = entry{data, f.Mode(), f.Modified.UTC()}, append(order, f.Name)
		}
		return all, order
	}
	g, err := gzip.NewReader(bytes.NewReader(archive))
	require.NoError(t, err)
	assert.Empty(t, g.Name)
	assert.True(t, g.ModTime.IsZero())
	for r := tar.NewReader(g); ; {
		h, err := r.Next()
		if err == io.EOF {
			return all, order
		}
		require.NoError(t, err)
		assert.Equal(t, []any{0, 0, "", "", byte(tar.TypeReg)}, []any{h.Uid, h.Gid, h.Uname, h.Gname, h.Typeflag})
		data, err := io.ReadAll(r)
		require.NoError(t, err)
		all[h.Name], order = entry{data, h.FileInfo().Mode(), h.ModTime.UTC()}, append(order, h.Name)
	}
}

func small(s system) []file {
	return []file{{s.program(), []byte("program of " + s.String()), true}, {"README.md", []byte("# read\n"), false}, {"docs/grüße.md", bytes.Repeat([]byte("text "), 1000), false}}
}

// The same files give the same bytes at any time; names, order, contents, modes and
// times are in them, and nobody owns them.
func TestPackingIsTheSameAgain(t *testing.T) {
	for _, s := range systems {
		once, err := pack("rollchange-1-x", s, small(s))
		require.NoError(t, err)
		time.Sleep(2 * time.Millisecond)
		twice, err := pack("rollchange-1-x", s, small(s))
		require.NoError(t, err)
		assert.True(t, bytes.Equal(once, twice), s)
		got, order := unpacked(t, s, once)
		assert.Equal(t, []string{"rollchange-1-x/" + s.program(), "rollchange-1-x/README.md", "rollchange-1-x/docs/grüße.md"}, order)
		for _, f := range small(s) {
			e := got["rollchange-1-x/"+f.name]
			assert.Equal(t, string(f.data), string(e.data), f.name)
			assert.Equal(t, map[bool]fs.FileMode{true: 0o755, false: 0o644}[f.runs], e.mode, f.name)
			assert.Equal(t, when, e.when, f.name)
		}
		other := small(s)
		other[1].data = []byte("# Read\n")
		changed, err := pack("rollchange-1-x", s, other)
		require.NoError(t, err)
		assert.False(t, bytes.Equal(once, changed))
	}
}

func TestWhatCannotBeUnpackedEverywhereIsRefused(t *testing.T) {
	for name, why := range map[string]string{
		"docs/con.md": "Windows keeps the name con for a device", "a:b.md": "leads out of the archive", "C:/a.md": "leads out of the archive", "what?.md": "Windows allows no", "notes.": "a dot or a space at the end",
		"../README.md": "leads out of the archive", "/etc/x": "leads out of the archive", `docs\a.md`: "leads out of the archive", "readme.MD": "README.md and readme.MD are one file on some systems",
	} {
		for _, s := range systems[1:4] {
			_, err := pack("x", s, append(small(s), file{name: name}))
			assert.ErrorContains(t, err, why, name)
		}
	}
	_, err := pack("x", systems[0], nil)
	assert.Error(t, err)
}

// What every archive holds: all that the documents in it link to, every shipped
// scenario, the licences, and no program of ours for tests.
func TestContents(t *testing.T) {
	m := module{root: filepath.FromSlash("../.."), version: "1"}
	all, err := m.contents()
	require.NoError(t, err)
	require.NoError(t, check(all))
	have := map[string]bool{}
	for _, f := range all {
		have[f.name] = true
		assert.NotContains(t, f.name, ".go")
		for folder := path.Dir(f.name); folder != "."; folder = path.Dir(folder) {
			have[folder] = true
		}
	}
	for _, name := range []string{"README.md", "LICENSE", "THIRD_PARTY.md", livePage, "docs/model.md", "scenarios/label_press.toml", "scenarios/label_press_stops.csv"} {
		assert.True(t, have[name], name)
	}
	links := 0
	for _, f := range all {
		if path.Ext(f.name) != ".md" || f.name == "THIRD_PARTY.md" {
			continue
		}
		for _, part := range strings.Split(string(f.data), "](")[1:] {
			to, _, ok := strings.Cut(part, ")")
			to, _, _ = strings.Cut(to, "#")
			if !ok || to == "" || strings.Contains(to, "://") || strings.ContainsAny(to, " \n`") {
				continue
			}
			links++
			assert.True(t, have[path.Join(path.Dir(f.name), to)], "%s links to %s", f.name, to)
		}
	}
	assert.Greater(t, links, 50)
	_, err = module{root: t.TempDir()}.contents()
	assert.ErrorContains(t, err, "the sources have no README.md")
}

func TestTheGoMustBeThePinnedOne(t *testing.T) {
	assert.NoError(t, sameGo("go1.26.8", "go1.26.8", "go1.26.8"))
	assert.EqualError(t, sameGo("go1.26.8", "go1.26.8", "go1.27.0"), "this is go1.27.0 and go.mod names go1.26.8: the bytes of an archive differ by the version of Go; set GOTOOLCHAIN=go1.26.8")
	assert.ErrorContains(t, sameGo("", "go1.26.8"), "go.mod names no toolchain")
	m, err := findModule(context.Background(), ".")
	if err != nil { // another Go than the pinned one runs these tests
		assert.ErrorContains(t, err, runtime.Version())
		return
	}
	assert.FileExists(t, filepath.Join(m.root, "go.mod"))
	assert.NotEmpty(t, m.version)
}

// What is wrong with the flags or the folder is said in a line, and nothing is made.
func TestArchivesThatCannotBe(t *testing.T) {
	t.Chdir(t.TempDir())
	for _, c := range []struct {
		args []string
		says string
	}{
		{nil, "archives: -o DIR is needed: the folder that the archives are written to\n"},
		{[]string{"-o", "d", "-systems", "linux/amd64,plan9/amd64"}, `archives: -systems: "plan9/amd64" is none of linux/amd64, linux/arm64, windows/amd64, windows/arm64, darwin/amd64, darwin/arm64` + "\n"},
		{[]string{"-o", "d", "-systems", "linux/arm64, linux/arm64"}, "archives: -systems: linux/arm64 stands there twice\n"},
		{[]string{"-o", "d", "more"}, `archives: "more": there are flags only; archives -h lists them` + "\n"},
		{[]string{"-o", "d"}, "archives: this folder is in no module of Go: run it in the sources of rollchange\n"},
	} {
		var out, errs strings.Builder
		assert.Equal(t, exitBad, execute(context.Background(), ".", c.args, &out, &errs), c.args)
		assert.Equal(t, c.says, errs.String())
		assert.Empty(t, out.String())
	}
	list, err := os.ReadDir(".")
	require.NoError(t, err)
	assert.Empty(t, list)
}

// Interrupted, it leaves nothing and says so.
func TestInterruptedArchivesLeaveNothing(t *testing.T) {
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	folder := t.TempDir()
	var out, errs strings.Builder
	assert.Equal(t, exitInterrupted, execute(ctx, ".", []string{"-o", filepath.Join(folder, "d")}, &out, &errs))
	assert.Equal(t, "archives: interrupted, nothing written\n", errs.String())
	list, err := os.ReadDir(folder)
	require.NoError(t, err)
	assert.Empty(t, list)
}
