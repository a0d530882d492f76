package parts

import (
	"bytes"
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"rollchange/sim/replicate"
)

// header is part k of n of some work of so many units.
func header(units, k, n int) Header {
	return Header{Format: Format, Version: "1.0", Command: "run", Title: "A <line> & more", File: "line.toml", SHA256: "abc",
		Run: replicate.RunInfo{Seed: 7, Replications: units, Confidence: 0.95, Horizon: 86400}, Units: units, Details: json.RawMessage(`{"study":"x"}`), Part: k, Of: n}
}

// unitsOf is what a part should hold.
func unitsOf(h Header) []Unit {
	var units []Unit
	for i, end := h.Range(); i < end; i++ {
		units = append(units, Unit{i, json.RawMessage(fmt.Sprintf(`{"x":%d.5,"name":"a<b"}`, i))})
	}
	return units
}

// save writes a part file and returns its path.
func save(t *testing.T, folder, name string, h Header, units []Unit) string {
	t.Helper()
	var b bytes.Buffer
	require.NoError(t, Write(&b, h, units))
	path := filepath.Join(folder, name)
	require.NoError(t, os.WriteFile(path, b.Bytes(), 0o644))
	return path
}

func TestPartsJoinInAnyOrder(t *testing.T) {
	for _, n := range []int{1, 2, 3, 7, 12} {
		folder := t.TempDir()
		var paths []string
		for k := n; k >= 1; k-- {
			h := header(10, k, n)
			paths = append(paths, save(t, folder, fmt.Sprint(k), h, unitsOf(h)))
		}
		h, units, err := Join(paths)
		require.NoError(t, err, n)
		assert.Equal(t, "line.toml", h.File)
		assert.Equal(t, unitsOf(header(10, 1, 1)), units)
	}
}

func TestRangesCoverEveryUnitOnce(t *testing.T) {
	for units := range 30 {
		for n := 1; n < 40; n++ {
			next, least, most := 0, units, 0
			for k := 1; k <= n; k++ {
				h := header(units, k, n)
				first, end := h.Range()
				assert.Equal(t, next, first)
				next, least, most = end, min(least, end-first), max(most, end-first)
			}
			assert.Equal(t, units, next)
			assert.LessOrEqual(t, most-least, 1, "as even as can be")
		}
	}
}

func TestPartIsReadAsKOfN(t *testing.T) {
	k, n, err := ParsePart(" 2 / 7")
	require.NoError(t, err)
	assert.Equal(t, [2]int{2, 7}, [2]int{k, n})
	for text, says := range map[string]string{"3/2": "there is no part 3 of 2", "0/2": "there is no part 0", "1/0": "must be 1 to", "1": "write K/N", "a/b": "write K/N",
		"": "write K/N", "1/2/3": "write K/N", "-1/2": "there is no part -1", "1/99999999": "must be 1 to", "1/99999999999999999999": "write K/N"} {
		_, _, err := ParsePart(text)
		assert.ErrorContains(t, err, says, text)
	}
}

// Whatever is wrong with the parts is named, all of it at once.
func TestEveryWrongPartIsNamed(t *testing.T) {
	folder := t.TempDir()
	good := save(t, folder, "good", header(9, 1, 5), unitsOf(header(9, 1, 5)))
	double := save(t, folder, "double", header(9, 1, 5), unitsOf(header(9, 1, 5)))
	paths := []string{good, double}
	wrong := func(name string, change func(h *Header)) {
		h := header(9, 2, 5)
		change(&h)
		paths = append(paths, save(t, folder, name, h, unitsOf(h)))
	}
	wrong("version", func(h *Header) { h.Version = "0.9" })
	wrong("command", func(h *Header) { h.Command = "sweep" })
	wrong("scenario", func(h *Header) { h.SHA256 = "def" })
	wrong("file", func(h *Header) { h.File = "other.toml" })
	wrong("seed", func(h *Header) { h.Run.Seed = 8 })
	wrong("replications", func(h *Header) { h.Run.Replications = 4 })
	wrong("horizon", func(h *Header) { h.Run.Horizon = 3600 })
	wrong("of", func(h *Header) { h.Of = 6 })
	wrong("settings", func(h *Header) { h.Details = json.RawMessage(`{"study":"y"}`) })
	text, err := os.ReadFile(save(t, folder, "whole", header(9, 3, 5), unitsOf(header(9, 3, 5))))
	require.NoError(t, err)
	put := func(name string, text []byte) {
		paths = append(paths, filepath.Join(folder, name))
		require.NoError(t, os.WriteFile(paths[len(paths)-1], text, 0o644))
	}
	put("cut", text[:len(text)-2])
	put("number", bytes.Replace(text, []byte(".5"), []byte(".6"), 1))
	put("more", append(bytes.Clone(text), text...))
	put("empty", nil)
	put("other", []byte("a scenario\n"))
	short := header(9, 4, 5)
	paths = append(paths, save(t, folder, "short", short, unitsOf(short)[:1]), filepath.Join(folder, "nowhere"), folder)
	_, _, err = Join(paths)
	require.Error(t, err)
	for _, says := range []string{"double: is part 1 of 5, as ", "version: does not belong to " + good + ": it was made by version 0.9, not 1.0", "command: does not", "of a sweep, not of a run",
		"scenario: does not", "another scenario", "was read from other.toml, not line.toml", "has seed 8, not 7", "has 4 replications, not 9", "has a horizon of 1 h, not 24 h", "is one of 6 parts, not of 5",
		"settings: does not", "other settings", "cut: is cut off", "number: was changed", "more: was changed", "empty: is not a part", "other: is not a part", "short: holds 1 units instead of 2",
		"nowhere: cannot be read", folder + ": cannot be read", "part 2 of 5 is missing", "part 5 of 5 is missing"} {
		assert.ErrorContains(t, err, says)
	}
	for _, not := range []string{"part 1 of 5 is missing", "part 3 of 5 is missing", "part 4 of 5 is missing"} {
		assert.NotContains(t, err.Error(), not, "it is there, and named")
	}
	assert.Equal(t, len(paths)-1+2, strings.Count(err.Error(), "\n")+1, "one line for each problem")
}

// A part that has been cut off anywhere, or in which any one byte is another,
// is refused.
func TestNoDamageIsOverlooked(t *testing.T) {
	folder := t.TempDir()
	h := header(2, 1, 1)
	text, err := os.ReadFile(save(t, folder, "part", h, unitsOf(h)))
	require.NoError(t, err)
	path := filepath.Join(folder, "damaged")
	check := func(damaged []byte, what string, at int) {
		_ = os.Remove(path) // a file that is written over waits for the disk
		require.NoError(t, os.WriteFile(path, damaged, 0o644))
		_, _, err := Join([]string{path})
		require.Error(t, err, "%s at %d", what, at)
	}
	for i := range text {
		check(text[:i], "cut off", i)
		damaged := bytes.Clone(text)
		damaged[i] ^= 1
		check(damaged, "changed", i)
	}
}

func TestADeviceIsNoPart(t *testing.T) {
	if _, err := os.Stat("/dev/zero"); err != nil {
		t.Skip("no /dev/zero here")
	}
	_, _, err := Join([]string{"/dev/zero"})
	assert.ErrorContains(t, err, "cannot be read")
	_, err = Open("/dev/zero", header(1, 1, 1))
	assert.ErrorContains(t, err, "is not a file")
}

// FuzzRead reads anything as a part: no panic, and no more units than there are lines.
func FuzzRead(f *testing.F) {
	h := header(3, 1, 1)
	var b bytes.Buffer
	if err := Write(&b, h, unitsOf(h)); err != nil {
		f.Fatal(err)
	}
	f.Add(b.Bytes())
	f.Add(b.Bytes()[:b.Len()/2])
	f.Add([]byte(`{"format":"` + Format + `","units":9223372036854775807,"part":9223372036854775807,"of":9223372036854775807}` + "\n" + `{"end":0}` + "\n"))
	f.Add([]byte(`{"format":"` + Format + `","units":1000000,"part":100000,"of":100000}` + "\n" + `{"unit":-1,"data":null}` + "\n"))
	f.Fuzz(func(t *testing.T, data []byte) {
		h, units, used, err := read(data, "part")
		if used > len(data) || len(units) > bytes.Count(data, []byte("\n")) {
			t.Fatal("more than there is")
		}
		if used > 0 {
			_ = h.inOrder(units)
		}
		mine := header(3, 1, 1)
		_ = h.foreign(&mine)
		if done, whole, err := finished(data, "part", mine); err == nil && (len(done) > 3 || whole > len(data)) {
			t.Fatal("more than there is to do")
		}
		if err == nil && used == 0 {
			t.Fatal("a part without a header")
		}
	})
}
