package scenarios

import (
	"fmt"
	"maps"
	"math"
	"slices"
	"strconv"
	"strings"
)

// inTOML writes the raw value of a key as a file would have it, on one line; numbers of a
// law, which may have been scaled, to six digits.
func inTOML(raw any) string {
	switch v := raw.(type) {
	case string:
		if x, unit, ok := SplitQuantity(v); ok && unit != "" {
			v = strconv.FormatFloat(rounded(x, 6), 'f', -1, 64) + " " + unit
		}
		return textInTOML(v)
	case float64:
		text := strconv.FormatFloat(rounded(v, 6), 'f', -1, 64)
		if !strings.Contains(text, ".") && v == math.Trunc(v) {
			text += ".0"
		}
		return text
	case []any:
		parts := make([]string, len(v))
		for i, x := range v {
			parts[i] = inTOML(x)
		}
		return "[" + strings.Join(parts, ", ") + "]"
	case map[string]any:
		names := slices.SortedFunc(maps.Keys(v), func(a, b string) int { return lawOrder(a) - lawOrder(b) })
		parts := make([]string, len(names))
		for i, name := range names {
			parts[i] = name + " = " + inTOML(v[name])
		}
		return "{ " + strings.Join(parts, ", ") + " }"
	}
	return fmt.Sprint(raw)
}

// lawOrder is the place of a part of a law in writing.
func lawOrder(name string) int {
	return slices.Index([]string{"dist", "min", "mode", "max", "shape", "scale", "mean", "sd", "least", "values", "file", "column", "observed", "source"}, name)
}

// textInTOML writes a text in quotes.
func textInTOML(s string) string {
	var b strings.Builder
	b.WriteByte('"')
	for _, r := range s {
		switch {
		case r == '"' || r == '\\':
			b.WriteByte('\\')
			b.WriteRune(r)
		case r == '\n':
			b.WriteString(`\n`)
		case r == '\t':
			b.WriteString(`\t`)
		case r < ' ' || r == 0x7f:
			fmt.Fprintf(&b, `\u%04X`, r)
		default:
			b.WriteRune(r)
		}
	}
	b.WriteByte('"')
	return b.String()
}
