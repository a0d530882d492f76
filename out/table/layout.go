package table

import (
	"strings"

	"rollchange/out/words"
)

// wrap breaks text at spaces into lines of a width on the screen.
func wrap(s string, width int) string {
	var lines []string
	line := ""
	for _, word := range strings.Fields(s) {
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
