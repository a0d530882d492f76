package main

import (
	"bytes"
	"debug/buildinfo"
	"fmt"
	"runtime/debug"
	"slices"
	"strings"
)

// thirdParty is the file with the licences of what others wrote.
const thirdParty = "THIRD_PARTY.md"

// licensed is an error when a module of others is linked into a program and its
// licences are not handed on with it.
func licensed(program file, all []file) error {
	info, err := buildinfo.Read(bytes.NewReader(program.data))
	if err != nil {
		return fmt.Errorf("%s: what is linked into it is not known: %w", program.name, err)
	}
	if len(info.Deps) == 0 {
		return fmt.Errorf("%s: it does not say what is linked into it", program.name)
	}
	i := slices.IndexFunc(all, func(f file) bool { return f.name == thirdParty })
	if i < 0 {
		return fmt.Errorf("the archive has no %s", thirdParty)
	}
	return inList(info.Deps, string(all[i].data))
}

// inList is an error when a module does not stand in the list, with its version.
func inList(linked []*debug.Module, list string) error {
	for _, m := range linked {
		if m.Replace != nil {
			m = m.Replace
		}
		if !strings.Contains(list, fmt.Sprintf("\n| %s | %s | ", m.Path, m.Version)) {
			return fmt.Errorf("%s %s is linked into the program, and its licence is not in %s; go test ./cmd/... -update writes it", m.Path, m.Version, thirdParty)
		}
	}
	return nil
}
