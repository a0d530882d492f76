package files

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// The rules are those of Microsoft, "Naming Files, Paths, and Namespaces".
func TestNamesThatWindowsRefuses(t *testing.T) {
	for name, why := range map[string]string{
		"page.html": "", `C:\plant 2\page.html`: "", "C:page.html": "", "c:/p/./../page.html": "", `..\page.html`: "", `\page.html`: "", "/page.html": "",
		`\\server\share\page.html`: "", `//server/share/p/page.html`: "", `\\server\share`: "", `\\?\C:\p\con.html`: "", `\\.\COM1`: "", "": "",
		"NUL": "", "nul": "", "console.html": "", "com.html": "", "COM10.html": "", "grüße.html": "", ".rollchange.html": "", "a.b.c": "",
		"con.html": "keeps the name con for a device", `p\AUX`: "keeps the name AUX for a device", "p/Lpt9.tar.gz": "keeps the name Lpt9", "COM¹": "keeps the name COM¹", "nul.svg": "keeps the name nul",
		"p/NUL": "keeps the name NUL", "prn .txt": "keeps the name prn", "CONIN$": "keeps the name CONIN$", `C:\con\page.html`: "keeps the name con", `\\server\share\con.html`: "keeps the name con", "C:con": "keeps the name con",
		"page.html.": "a dot or a space at the end", "page.html ": "a dot or a space at the end", `p.\page.html`: "a dot or a space at the end", "...": "a dot or a space at the end",
		"page.html:old": "follows a colon", `C:\p:q\page.html`: "follows a colon", "ab:c": "follows a colon",
		"what?.html": `no "?" in a name`, "a*.html": `no "*" in a name`, `p<1>\a.html`: `no "<" in a name`, `a"b`: "in a name", "a|b": `no "|" in a name`, "a\tb": "in a name",
	} {
		got := Refused("windows", name)
		if why == "" {
			assert.Empty(t, got, name)
		} else {
			assert.Contains(t, got, why, name)
		}
		assert.Empty(t, Refused("linux", name), name)
		assert.Empty(t, Refused("darwin", name), name)
	}
}

// A picture is named after what a scenario calls something: its name is a file of
// the folder on every system.
func TestPortableNamesAreTakenEverywhere(t *testing.T) {
	for name, want := range map[string]string{
		"hours": "hours", "unwind-storage-2": "unwind-storage-2", "grüße": "grüße",
		"a/b": "a-b", `..\..\x`: "..-..-x", "C:x": "C-x", "50 %?": "50 %-", "con": "con-", "Nul.old": "Nul-.old", "com1 .x": "com1 -.x", "end. ": "end-", "...": "-", "a\x1bb": "a-b",
	} {
		got := Portable(name)
		assert.Equal(t, want, got)
		assert.Empty(t, Refused("windows", got), got)
		assert.False(t, strings.ContainsAny(got, `/\`), got)
		assert.Equal(t, got, Portable(got), "a portable name stays as it is")
	}
}

// Where Windows would not make the file that a name says, the run ends before any
// work, for outputs and for folders.
func TestARefusedNameEndsTheRunBeforeAnyWork(t *testing.T) {
	folder := t.TempDir()
	t.Chdir(folder)
	r := newRun()
	r.system = "windows"
	assert.EqualError(t, r.Writes("con.html", "--output"), "--output: con.html: cannot be written: Windows keeps the name con for a device")
	assert.EqualError(t, r.Save("page.html:x", says("x")), "output: page.html:x: cannot be written: Windows takes what follows a colon for a part of another file")
	assert.EqualError(t, r.Folder("p?"), `p?: cannot be made a folder: Windows allows no "?" in a name`)
	only(t, folder)
	require.NoError(t, r.Save("page.html", says("x")))
	only(t, folder, "page.html")
}
