package main

import (
	"path/filepath"
	"strings"
)

// expanded are names of files with patterns written out, in order, on the system that
// leaves this to the program: Windows. One that no file fits stays, so that what reads
// it says that it is not there.
func expanded(system string, names []string) []string {
	if system != "windows" {
		return names
	}
	var all []string
	for _, name := range names {
		found := []string{name}
		if strings.ContainsAny(name, "*?") {
			if list, err := filepath.Glob(name); err == nil && len(list) > 0 {
				found = list
			}
		}
		all = append(all, found...)
	}
	return all
}
