package table

import (
	"strings"

	"rollchange/out/words"
)

// wrap breaks text at spaces into lines of a width on the screen, a figure and
// its "%" or "±" kept together.
func wrap(s string, width int) string {
	var lines []string
	line := ""
	for _, word := range unbroken(strings.Fields(s)) {
		if line != "" && words.Columns(line)+1+words.Columns(word) > width {
			lines = append(lines, line)
			line = ""
		}
		if line != "" {
			line += " "
		}
		line += word
	}
	return strings.Join(append(lines, line), "\n")
}

// unbroken joins what belongs to one figure.
func unbroken(fields []string) []string {
	var out []string
	for i, f := range fields {
		if i > 0 && (strings.HasPrefix(f, "%") || f == "±" || fields[i-1] == "±") {
			out[len(out)-1] += " " + f
			continue
		}
		out = append(out, f)
	}
	return out
}

// pad fills s with spaces to a width on the screen.
func pad(s string, width int) string {
	if n := words.Columns(s); n < width {
		return s + strings.Repeat(" ", width-n)
	}
	return s
}

func padLeft(s string, width int) string {
	if n := words.Columns(s); n < width {
		return strings.Repeat(" ", width-n) + s
	}
	return s
}

func bold(s string, color bool) string {
	if !color {
		return s
	}
	return "\x1b[1m" + s + "\x1b[0m"
}
