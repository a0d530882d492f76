package main

import (
	"fmt"
	"slices"
	"strings"

	"rollchange/model/legible"
)

// system is one that the program is built for, by its names in Go.
type system struct{ os, arch string }

func (s system) String() string { return s.os + "/" + s.arch }

// systems are all that archives are made for.
var systems = []system{
	{"linux", "amd64"}, {"linux", "arm64"}, {"windows", "amd64"}, {"windows", "arm64"}, {"darwin", "amd64"}, {"darwin", "arm64"},
}

// program is how the program is called there.
func (s system) program() string {
	if s.os == "windows" {
		return "rollchange.exe"
	}
	return "rollchange"
}

// ending is that of the archives which a system opens by itself.
func (s system) ending() string {
	if s.os == "windows" {
		return ".zip"
	}
	return ".tar.gz"
}

// choose is the systems of a list, all when it is empty.
func choose(list string) ([]system, error) {
	if list == "" {
		return systems, nil
	}
	var chosen []system
	for _, name := range strings.Split(list, ",") {
		i := slices.IndexFunc(systems, func(s system) bool { return s.String() == strings.TrimSpace(name) })
		if i < 0 {
			return nil, fmt.Errorf("-systems: %s is none of %s", legible.Quote(name), listed(systems))
		}
		if slices.Contains(chosen, systems[i]) {
			return nil, fmt.Errorf("-systems: %s stands there twice", systems[i])
		}
		chosen = append(chosen, systems[i])
	}
	return chosen, nil
}

func listed(all []system) string {
	var names []string
	for _, s := range all {
		names = append(names, s.String())
	}
	return strings.Join(names, ", ")
}
