package main

import (
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"rollchange/sim/effort"
)

// thirdParty is the list of what others wrote that is linked into the command, with
// the licences as they stand in the modules; go test ./cmd/... -update writes it.
const thirdParty = "../../THIRD_PARTY.md"

// licences are the names of licences by words that only they have.
var licences = []struct{ name, words string }{
	{"FTL", "The FreeType Project LICENSE"},
	{"OFL-1.1", "SIL OPEN FONT LICENSE Version 1.1"},
	{"Apache-2.0", "Apache License Version 2.0, January 2004"},
	{"CC-BY-4.0", "Creative Commons Attribution 4.0 International Public License"},
	{"BSL-1.0", "Boost Software License - Version 1.0"},
	{"MIT", "Permission is hereby granted, free of charge, to any person obtaining a copy of this software"},
	{"of Sun", "this software is freely granted, provided that this notice is preserved"},
	{"a disclaimer", `This software package is based on the paper I. Bogaert, "Iteration-Free`},
	{"BSD-3-Clause", "Neither the name"},
	{"BSD-3-Clause", "may not be used to endorse or promote products"},
	{"BSD-2-Clause", "Redistributions in binary form must reproduce the above copyright notice"},
}

// licenceOf is the name of the licence of a text, "" of one that is not known.
func licenceOf(text string) string {
	plain := strings.Join(strings.Fields(strings.NewReplacer("*", " ", "#", " ").Replace(text)), " ")
	for _, l := range licences {
		if strings.Contains(strings.ToLower(plain), strings.ToLower(l.words)) {
			return l.name
		}
	}
	return ""
}

// module is a module that is linked into the command.
type module struct{ path, version, folder string }

// linked are the modules of the command on the systems that it is built for, in
// order, and Go itself.
func linked(t *testing.T) []module {
	t.Helper()
	seen := map[string]module{}
	for _, system := range effort.Some([]string{"linux", "windows", "darwin"}, 1) {
		list := exec.Command("go", "list", "-deps", "-f", "{{with .Module}}{{if not .Main}}{{.Path}}\t{{.Version}}\t{{.Dir}}{{end}}{{end}}", ".")
		list.Env = append(os.Environ(), "GOOS="+system, "CGO_ENABLED=0")
		text, err := list.Output()
		require.NoError(t, err)
		for _, row := range strings.Split(strings.TrimSpace(string(text)), "\n") {
			if f := strings.Split(row, "\t"); len(f) == 3 {
				seen[f[0]] = module{f[0], f[1], f[2]}
			}
		}
	}
	// Some systems keep Go without its licence; its authors' modules have the same.
	golang := seen["golang.org/x/sys"].folder
	root, err := exec.Command("go", "env", "GOROOT").Output()
	require.NoError(t, err)
	if own, err := os.ReadFile(filepath.Join(strings.TrimSpace(string(root)), "LICENSE")); err == nil {
		same, err := os.ReadFile(filepath.Join(golang, "LICENSE"))
		require.NoError(t, err)
		assert.Equal(t, string(same), string(own))
	}
	all := []module{{"the Go standard library", "", golang}}
	for _, m := range seen {
		all = append(all, m)
	}
	slices.SortFunc(all, func(a, b module) int { return strings.Compare(a.path, b.path) })
	return all
}

var isLicence = regexp.MustCompile(`(?i)^(licen[cs]e.*|copying|notice|ofl.*|ftl\.txt)$`)

// texts are the licences in a module: beside its go.mod and in folders for them.
// Of two that may be chosen from, the GPL is not chosen.
func texts(t *testing.T, m module) []string {
	t.Helper()
	var list []string
	for _, pattern := range []string{"*", "licenses/*", "THIRD_PARTY_LICENSES/*"} {
		files, err := filepath.Glob(filepath.Join(m.folder, pattern))
		require.NoError(t, err)
		for _, file := range files {
			info, err := os.Stat(file)
			require.NoError(t, err)
			if name := filepath.Base(file); info.IsDir() || pattern != "THIRD_PARTY_LICENSES/*" && !isLicence.MatchString(name) || name == "LICENSE-link.txt" || strings.HasPrefix(name, "W3C-TestSuite") {
				continue // a link to the licence beside it; the licence of test data
			}
			text, err := os.ReadFile(file)
			require.NoError(t, err)
			list = append(list, strings.TrimSpace(strings.ToValidUTF8(strings.ReplaceAll(string(text), "\r", ""), "?")))
		}
	}
	return list
}

// Whoever hands the program on hands on these texts: each module that is linked is
// in the list, with its version and every licence in it, and each licence is one
// that is known to allow that.
func TestThirdPartyLicencesAreListed(t *testing.T) {
	if testing.Short() { // that each module is listed, without its texts
		got, err := os.ReadFile(thirdParty)
		require.NoError(t, err)
		for _, m := range linked(t) {
			assert.Contains(t, string(got), fmt.Sprintf("\n| %s | %s | ", m.path, m.version))
		}
		return
	}
	var table, full strings.Builder
	number := map[string]int{}
	for _, m := range linked(t) {
		var names []string
		all := texts(t, m)
		require.NotEmpty(t, all, "%s has no licence", m.path)
		for _, text := range all {
			name := licenceOf(text)
			if strings.Contains(text, "subject to your choice of exactly one") && strings.Contains(text, "The FreeType License") {
				name = "FTL chosen of two"
			}
			require.NotEmpty(t, name, "%s: a licence that is not known:\n%.300s", m.path, text)
			if number[text] == 0 {
				number[text] = len(number) + 1
				fence := "````"
				fmt.Fprintf(&full, "\n## Text %d: %s\n\n%s\n%s\n%s\n", number[text], name, fence, text, fence)
			}
			names = append(names, fmt.Sprintf("%s ([text %d](#text-%[2]d-%s))", name, number[text], anchor(name)))
		}
		fmt.Fprintf(&table, "| %s | %s | %s |\n", m.path, m.version, strings.Join(names, ", "))
	}
	want := "# What others wrote\n\nModules that are linked into `rollchange` on Linux, macOS or Windows, with the texts of their licences as they stand in\nthe modules. Whoever hands the program on hands this file on with it. `go test ./cmd/... -update` writes it.\n\n" +
		"| module | version | licence |\n|---|---|---|\n" + table.String() + full.String()
	if *update {
		require.NoError(t, os.WriteFile(thirdParty, []byte(want), 0o644))
	}
	got, err := os.ReadFile(thirdParty)
	require.NoError(t, err)
	assert.True(t, string(got) == want, "THIRD_PARTY.md is not what is linked now: go test ./cmd/... -update writes it")
}

// anchor is how a heading is linked to.
func anchor(name string) string {
	return strings.ReplaceAll(regexp.MustCompile(`[^a-z0-9 -]`).ReplaceAllString(strings.ToLower(name), ""), " ", "-")
}

func TestLicencesAreTold(t *testing.T) {
	for text, want := range map[string]string{
		"Permission is hereby granted, free of charge,\n to any person obtaining a copy of this software": "MIT",
		"* Redistributions in binary form must\n  reproduce the above copyright notice":                   "BSD-2-Clause",
		"... binary form must reproduce ...\n Neither the name of":                                        "BSD-3-Clause",
		"GNU GENERAL PUBLIC LICENSE Version 3":                                                            "",
	} {
		assert.Equal(t, want, licenceOf(text))
	}
}
