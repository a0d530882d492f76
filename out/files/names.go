package files

import (
	"fmt"
	"runtime"
	"strings"
	"unicode"

	"rollchange/model/legible"
)

// devices are names that Windows keeps for devices, whatever ending follows them.
// Source: Microsoft, "Naming Files, Paths, and Namespaces", section "Naming
// Conventions"; the console's two are those of CreateFile.
var devices = map[string]bool{"CON": true, "PRN": true, "AUX": true, "NUL": true, "CONIN$": true, "CONOUT$": true}

func init() {
	for _, digit := range "0123456789¹²³" {
		devices["COM"+string(digit)], devices["LPT"+string(digit)] = true, true
	}
}

// Refused says why a system, by its name in Go, makes no file of a name, or another
// one than that name says; empty when it may. Windows alone refuses names that the
// others take. What a file that is there may be read by is not judged.
func Refused(system, name string) string {
	if system != "windows" || strings.EqualFold(name, "NUL") || strings.HasPrefix(name, `\\.\`) || strings.HasPrefix(name, `\\?\`) {
		return "" // what goes to the null device is thrown away as asked for; the others are names of the system itself
	}
	for _, part := range strings.FieldsFunc(withoutVolume(name), func(r rune) bool { return r == '/' || r == '\\' }) {
		if why := refusedPart(part); why != "" {
			return why
		}
	}
	return ""
}

// withoutVolume is what follows the drive, or the computer and its share, in a name
// on Windows.
func withoutVolume(name string) string {
	slash := strings.ReplaceAll(name, "/", `\`)
	switch {
	case len(name) > 1 && name[1] == ':' && unicode.IsLetter(rune(name[0])):
		return name[2:]
	case strings.HasPrefix(slash, `\\`):
		if parts := strings.SplitN(slash[2:], `\`, 3); len(parts) == 3 {
			return parts[2]
		}
		return ""
	}
	return name
}

// refusedPart says why Windows makes no folder or file of one part of a name.
func refusedPart(part string) string {
	if part == "." || part == ".." {
		return ""
	}
	for _, r := range part {
		switch {
		case r == ':':
			return "Windows takes what follows a colon for a part of another file"
		case r < ' ' || strings.ContainsRune(`<>"|?*`, r):
			return fmt.Sprintf("Windows allows no %s in a name", legible.Quote(string(r)))
		}
	}
	if last := part[len(part)-1]; last == '.' || last == ' ' {
		return "Windows leaves out a dot or a space at the end of a name"
	}
	stem, _, _ := strings.Cut(part, ".")
	if stem = strings.TrimRight(stem, " "); devices[strings.ToUpper(stem)] {
		return fmt.Sprintf("Windows keeps the name %s for a device", legible.Visible(stem))
	}
	return ""
}

// Portable is the nearest name of one file, without folders, that every system
// takes: what one refuses becomes a dash, and a name of a device gets one.
func Portable(name string) string {
	name = strings.Map(func(r rune) rune {
		if legible.Hidden(r) || r < ' ' || strings.ContainsRune(`/\:*?"<>|`, r) {
			return '-'
		}
		return r
	}, name)
	if end := strings.TrimRight(name, ". "); end != name {
		name = end + "-"
	}
	if stem, _, _ := strings.Cut(name, "."); devices[strings.ToUpper(strings.TrimRight(stem, " "))] {
		name = stem + "-" + name[len(stem):]
	}
	return name
}

// system is the one that this program runs on.
const system = runtime.GOOS

// takesName is an error where the system makes no file of that name.
func (r *Run) takesName(name string) error {
	if why := Refused(r.system, name); why != "" {
		return fmt.Errorf("%s: cannot be written: %s", legible.Visible(name), why)
	}
	return nil
}
