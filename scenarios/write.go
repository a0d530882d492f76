package scenarios

import (
	"fmt"
	"maps"
	"math"
	"strconv"
	"strings"

	"rollchange/model"
)

// ExampleIn is the example of the key in the units of a system.
//
// In line it would make the engine of a page larger.
//
//go:noinline
func (k *Key) ExampleIn(system model.System) string { return k.Dim.In(system, k.Example()) }

// write is how to write the key in place of a raw value that was wrong: with the
// number that was written where it can be read, a law with its own parameters; in the unit
// of a system where none was written.
func (k *Key) write(raw any, system model.System) string {
	name, usual, _ := strings.Cut(k.ExampleIn(system), " = ")
	_, unit, _ := strings.Cut(strings.Trim(usual, `"`), " ")
	if law, ok := raw.(map[string]any); ok && (k.kind == varying || k.kind == vnumber) {
		if text := k.writeLaw(law, unit); text != "" {
			return name + " = " + text
		}
		if k.kind == varying {
			return fmt.Sprintf("%s = { dist = \"lognormal\", mean = %q, sd = %q }, or a distribution that rollchange keys lists", name, "30 "+unit, "8 "+unit)
		}
	}
	var ways []string
	for _, way := range k.meant(raw, unit) {
		if _, _, err := k.Read(unquoted(way)); err == nil {
			ways = append(ways, way)
		}
	}
	if len(ways) > 0 {
		return name + " = " + strings.Join(ways, " or "+name+" = ")
	}
	return k.ExampleIn(system)
}

// meant is how a value may have been meant, as it would be written.
func (k *Key) meant(raw any, unit string) []string {
	switch k.kind {
	case text, choice, flag, integer, perRoll, texts, wholes, days, shares, amounts:
		return nil
	}
	said, quoted := raw.(string)
	if f, ok := toFloat(raw); ok {
		if k.Dim == model.Share && f > 0 && f <= 1 {
			f = math.Round(f*1e14) / 1e12
		}
		said = strconv.FormatFloat(f, 'f', -1, 64)
	} else if !quoted {
		return nil
	} else if f, err := strconv.ParseFloat(strings.TrimSpace(said), 64); err == nil && k.Dim == model.Share && f > 0 && f <= 1 {
		said = strconv.FormatFloat(math.Round(f*1e14)/1e12, 'f', -1, 64)
	}
	var ways []string
	if k.Dim.Plain() && k.Dim.Units() == "" { // a number alone, whatever stands behind it
		if model.LeadingNumber(said, ".,") != "" {
			said = strings.TrimRight(said[:strings.LastIndexAny(said, "0123456789")+1], " ")
		}
		return model.Suggest(said, k.Dim, "", k.signed)
	}
	for _, way := range model.Suggest(said, k.Dim, unit, k.signed) {
		ways = append(ways, strconv.Quote(way))
	}
	return ways
}

func unquoted(s string) string { return strings.Trim(s, `"`) }

// writeLaw is a law with each quantity that cannot be read as it may have been
// meant; empty when that is no law of the key either.
func (k *Key) writeLaw(law map[string]any, unit string) string {
	fixed := maps.Clone(law)
	for p, raw := range law {
		if p == "dist" || p == "shape" || p == "values" || p == "source" || p == "observed" {
			continue
		}
		if _, err := k.readNumber(raw); err != nil {
			ways := k.meant(raw, unit)
			if len(ways) != 1 {
				return ""
			}
			fixed[p] = fromText(unquoted(ways[0]))
		}
	}
	if _, err := k.readLaw(fixed, &data{dir: "."}); err != nil || fixed["file"] != nil || fixed["values"] != nil {
		return ""
	}
	name, _ := fixed["dist"].(string)
	parts := []string{fmt.Sprintf("dist = %q", name)}
	for _, p := range []string{"min", "mode", "max", "shape", "scale", "mean", "sd", "least"} {
		switch v := fixed[p].(type) {
		case string:
			parts = append(parts, fmt.Sprintf("%s = %q", p, v))
		case nil:
		default:
			parts = append(parts, fmt.Sprintf("%s = %v", p, v))
		}
	}
	if n, ok := fixed["observed"]; ok {
		parts = append(parts, fmt.Sprintf("observed = %v", n))
	}
	return "{ " + strings.Join(parts, ", ") + " }"
}
