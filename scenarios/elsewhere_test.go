package scenarios

import (
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// A scenario that was written on a system which takes other names says here how
// every system reads them; nothing is told of what is outside its folder.
func TestNamesOfFilesFromAnotherSystem(t *testing.T) {
	if runtime.GOOS != "linux" {
		t.Skip("the names of others are none here")
	}
	home := t.TempDir()
	for _, folder := range []string{"data", "Plant 2", "twice"} {
		require.NoError(t, os.Mkdir(filepath.Join(home, folder), 0o755))
	}
	for _, name := range []string{"data/log.csv", "data/times.csv", "Plant 2/Log.CSV", "twice/a.csv", "twice/A.csv", `odd\name.csv`} {
		require.NoError(t, os.WriteFile(filepath.Join(home, name), []byte("dwell [s]\n7\n"), 0o644))
	}
	away := t.TempDir()
	require.NoError(t, os.WriteFile(filepath.Join(away, "secret.csv"), nil, 0o644))
	require.NoError(t, os.Symlink(away, filepath.Join(home, "link")))
	read := func(written string) error {
		_, err := Parse("line.toml", []byte(strings.Replace(plain, `dwell = "8 s"`, `dwell = { dist = "empirical", file = `+written+` }`, 1)), home)
		return err
	}
	require.NoError(t, read(`"data/log.csv"`))
	require.NoError(t, read(`'odd\name.csv'`), "a name that is there is read, whatever it is elsewhere")
	const there = `there is no such file; there is "data/log.csv": write it so, which every system reads`
	for written, says := range map[string]string{
		`'data\log.csv'`:                 there,
		`"data\\log.csv"`:                there,
		`'.\data\log.csv'`:               there,
		`"Data/LOG.csv"`:                 there,
		`"data\times.csv"`:               `there is "data/times.csv": write it so`, // \t is a tab
		`'plant 2\log.csv'`:              `there is "Plant 2/Log.CSV": write it so`,
		`'data\none.csv'`:                "there is no such file; folders are kept apart by /",
		`'..\x.csv'`:                     "there is no such file; folders are kept apart by /",
		`'C:\plant\log.csv'`:             `there is no such file: a drive or another computer is named so on Windows alone; put it beside the scenario and write "log.csv"`,
		`"D:log.csv"`:                    `put it beside the scenario and write "log.csv"`,
		`'\\server\share\stops\log.csv'`: `put it beside the scenario and write "log.csv"`,
		`"data\log.csv"`:                 `"data/log.csv" for a file in a folder: every system reads that`,
	} {
		assert.ErrorContains(t, read(written), says, written)
	}
	for _, written := range []string{`"none.csv"`, `"Twice/a.CSV"`, `"Link/secret.csv"`, `"LINK/Secret.csv"`, `"data/none/log.csv"`} {
		err := read(written)
		assert.ErrorContains(t, err, "there is no such file", written)
		assert.NotContains(t, err.Error(), "write", written)
	}
}
