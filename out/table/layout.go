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

// flushRight writes figures behind a label in columns of a width; one that is too
// long for its column reaches into the room at its left, and moves what is there.
func flushRight(label string, figures []string, first, width int) string {
	at := make([]int, len(figures)) // where each begins
	end := first + width*len(figures)
	for k := len(figures) - 1; k >= 0; k-- {
		end = min(end, first+width*(k+1))
		at[k] = end - words.Columns(figures[k])
		if figures[k] != "" {
			end = at[k] - 2
		}
	}
	line := label
	for k, s := range figures {
		if s != "" {
			line = pad(line, at[k]) + s
		}
	}
	return line
}

func bold(s string, color bool) string {
	if !color {
		return s
	}
	return "\x1b[1m" + s + "\x1b[0m"
}
