package main

import (
	"bytes"
	"context"
	"crypto/sha256"
	"debug/buildinfo"
	"debug/elf"
	"debug/macho"
	"debug/pe"
	"fmt"
	"io/fs"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"rollchange/sim/effort"
)

// everyArchive names the variable that makes the test build for every system, and anew
// without anything that was compiled before: ten minutes of processor time.
const everyArchive = "ROLLCHANGE_ARCHIVES"

// Built anew in another folder an archive has the same bytes; those of the other systems
// are its twins; it runs. The long form builds for two systems.
func TestArchivesAreTheSameFromAnyFolderAndRun(t *testing.T) {
	if !effort.Long() {
		t.Skip("builds the whole program: " + effort.Variable + "=1")
	}
	if runtime.GOOS != "linux" {
		t.Skip("runs programs of Linux")
	}
	m, err := findModule(context.Background(), ".")
	require.NoError(t, err)
	own := system{"linux", "amd64"}
	of, every := []system{own, {"windows", "amd64"}}, os.Getenv(everyArchive) != ""
	if every {
		of = systems
	}
	all := made(t, m.root, t.TempDir(), of...)

	copied := filepath.Join(t.TempDir(), "another place")
	require.NoError(t, os.CopyFS(copied, withoutHistory{os.DirFS(m.root)}))
	if every {
		t.Setenv("GOCACHE", t.TempDir())
	}
	again := made(t, copied, t.TempDir(), own)
	assert.True(t, bytes.Equal(all[m.archive(own)], again[m.archive(own)]), "an archive of other sources, or one that a machine shows through")

	twin, _ := unpacked(t, own, all[m.archive(own)])
	for _, s := range of {
		t.Run(s.String(), func(t *testing.T) {
			files, _ := unpacked(t, s, all[m.archive(s)])
			assert.Len(t, files, len(twin))
			for name, e := range files {
				name = strings.TrimPrefix(name, m.stem(s)+"/")
				if name == s.program() {
					judge(t, m, s, e.data)
					continue
				}
				assert.True(t, bytes.Equal(twin[m.stem(own)+"/"+name].data, e.data), name)
			}
			if s.os == "linux" {
				starts(t, m, s, files)
			}
		})
	}
}

// withoutHistory is a folder of sources without what the sources do not need.
type withoutHistory struct{ fs.FS }

func (w withoutHistory) ReadDir(name string) ([]fs.DirEntry, error) {
	list, err := fs.ReadDir(w.FS, name)
	var kept []fs.DirEntry
	for _, e := range list {
		if e.Name() != ".git" && e.Type()&(fs.ModeSymlink|fs.ModeIrregular) == 0 {
			kept = append(kept, e)
		}
	}
	return kept, err
}

// made makes archives by the command, and checks the checksums of all.
func made(t *testing.T, sources, to string, of ...system) map[string][]byte {
	t.Helper()
	args := []string{"-o", to}
	if len(of) > 0 {
		args = append(args, "-systems", listed(of))
	} else {
		of = systems
	}
	var out, errs strings.Builder
	require.Zero(t, execute(context.Background(), sources, args, &out, &errs), errs.String())
	sum, err := os.ReadFile(filepath.Join(to, sums))
	require.NoError(t, err)
	rows := strings.Split(strings.TrimSpace(string(sum)), "\n")
	require.Len(t, rows, len(of))
	all := map[string][]byte{}
	for _, row := range rows {
		hash, name, ok := strings.Cut(row, "  ")
		require.True(t, ok, row)
		data, err := os.ReadFile(filepath.Join(to, name))
		require.NoError(t, err)
		assert.Equal(t, hash, fmt.Sprintf("%x", sha256.Sum256(data)), name)
		all[name] = data
	}
	list, err := os.ReadDir(to)
	require.NoError(t, err)
	assert.Len(t, list, len(of)+1, "nothing else is left there")
	return all
}

// judge looks at a program: it is one of its system, and nothing of this machine is in it.
func judge(t *testing.T, m module, s system, program []byte) {
	t.Helper()
	r := bytes.NewReader(program)
	switch s.os {
	case "linux":
		f, err := elf.NewFile(r)
		require.NoError(t, err)
		assert.Equal(t, map[string]elf.Machine{"amd64": elf.EM_X86_64, "arm64": elf.EM_AARCH64}[s.arch], f.Machine)
		needs, err := f.ImportedLibraries()
		require.NoError(t, err)
		assert.Empty(t, needs, "it needs no library of the system")
	case "windows":
		f, err := pe.NewFile(r)
		require.NoError(t, err)
		assert.Equal(t, map[string]uint16{"amd64": pe.IMAGE_FILE_MACHINE_AMD64, "arm64": pe.IMAGE_FILE_MACHINE_ARM64}[s.arch], f.Machine)
		assert.Zero(t, f.FileHeader.TimeDateStamp)
		assert.Equal(t, uint16(pe.IMAGE_SUBSYSTEM_WINDOWS_CUI), f.OptionalHeader.(*pe.OptionalHeader64).Subsystem, "it has a console")
	case "darwin":
		f, err := macho.NewFile(r)
		require.NoError(t, err)
		assert.Equal(t, map[string]macho.Cpu{"amd64": macho.CpuAmd64, "arm64": macho.CpuArm64}[s.arch], f.Cpu)
		assert.True(t, hasIdentity(f), "a newer macOS runs no program without LC_UUID")
	}
	info, err := buildinfo.Read(bytes.NewReader(program))
	require.NoError(t, err)
	assert.Equal(t, "rollchange/cmd/rollchange", info.Path)
	settings := map[string]string{}
	for _, x := range info.Settings {
		settings[x.Key] = x.Value
		assert.False(t, strings.HasPrefix(x.Key, "vcs"), x.Key)
		assert.NotContains(t, x.Value, string(filepath.Separator), x.Key)
	}
	assert.Equal(t, []string{s.os, s.arch, "0", "true"}, []string{settings["GOOS"], settings["GOARCH"], settings["CGO_ENABLED"], settings["-trimpath"]})
	home, err := os.UserHomeDir()
	require.NoError(t, err)
	modules, err := output(context.Background(), m.root, nil, "env", "GOMODCACHE")
	require.NoError(t, err)
	for _, place := range []string{m.root, strings.TrimSpace(string(modules)), os.TempDir() + "/rollchange", home + "/go"} {
		assert.False(t, bytes.Contains(program, []byte(place)), "%s is in it", place)
	}
}

func hasIdentity(f *macho.File) bool {
	const identity = 0x1b // LC_UUID, in mach-o/loader.h
	for _, l := range f.Loads {
		if raw := l.Raw(); len(raw) == 24 && f.ByteOrder.Uint32(raw) == identity {
			return true
		}
	}
	return false
}

// starts runs the program of an archive in the folder that it is unpacked to.
func starts(t *testing.T, m module, s system, files map[string]entry) {
	t.Helper()
	home := filepath.Join(t.TempDir(), "where it is unpacked")
	for name, e := range files {
		path := filepath.Join(home, filepath.FromSlash(name))
		require.NoError(t, os.MkdirAll(filepath.Dir(path), 0o755))
		require.NoError(t, os.WriteFile(path, e.data, e.mode))
	}
	home = filepath.Join(home, m.stem(s))
	var before []string
	if s.arch != runtime.GOARCH {
		emulator := ""
		for _, name := range map[string][]string{"arm64": {"qemu-aarch64-static", "qemu-aarch64"}}[s.arch] {
			if path, err := exec.LookPath(name); err == nil {
				emulator = path
			}
		}
		if emulator == "" {
			t.Logf("%s cannot be run here: its contents and its head were looked at alone", s)
			return
		}
		before = []string{emulator}
	}
	call := func(args ...string) string {
		t.Helper()
		line := append(append(append([]string{}, before...), filepath.Join(home, s.program())), args...)
		cmd := exec.Command(line[0], line[1:]...)
		cmd.Dir, cmd.Env = home, []string{"HOME=" + home, "ROLLCHANGE_CACHE=" + filepath.Join(home, "cache")}
		out, err := cmd.CombinedOutput()
		require.NoError(t, err, "%v: %s", args, out)
		return string(out)
	}
	assert.Equal(t, "rollchange "+m.version+", "+runtime.Version()+"\n", call("version"))
	for name := range files {
		if name, ok := strings.CutPrefix(name, m.stem(s)+"/"); ok && strings.HasSuffix(name, ".toml") {
			call("check", name)
		}
	}
	first := call("run", "scenarios/slitter.toml", "--replications", "2", "--json")
	assert.Contains(t, first, `"good_rate"`)
	assert.Equal(t, first, call("run", "scenarios/slitter.toml", "--replications", "2", "--json"), "and again from what was kept")
	call("live", "-o", "again.html")
	again, err := os.ReadFile(filepath.Join(home, "again.html"))
	require.NoError(t, err)
	assert.True(t, bytes.Equal(files[m.stem(s)+"/"+livePage].data, again), "the page is the one that the program writes")
	call("report", "scenarios/slitter.toml", "--replications", "2", "-o", "page.html")
	assert.FileExists(t, filepath.Join(home, "page.html"))
}
