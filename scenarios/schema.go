package scenarios

import (
	"encoding/json"
	"regexp"
	"slices"
	"strings"

	"rollchange/model"
)

// object is a JSON object under construction.
type object = map[string]any

// Schema is the JSON Schema (2020-12) of a scenario, made from the table of
// keys, for editors that complete and check TOML. It knows the form of each
// key; the rules across keys, and which keys a kind of change needs, are known
// to Parse alone.
func Schema() []byte {
	base, overlay := group("The base that every alternative begins with"), group("A way to equip or run the line, laid over the base")
	for i := range table {
		k := &table[i]
		if name, ok := strings.CutPrefix(k.Path, "alternative[]."); ok {
			put(overlay, name, k)
			continue
		}
		put(base, k.Path, k)
		if !studyOnly(k.Path) {
			put(overlay, k.Path, k)
		}
	}
	setRequired(base)
	setRequired(overlay)
	base["properties"].(object)["alternative"] = object{"type": "array", "minItems": 1, "items": overlay}
	overlay["properties"].(object)["source"] = object{"type": "string", "description": "Where the figures come from"}
	base["$schema"] = "https://json-schema.org/draft/2020-12/schema"
	base["title"] = "Scenario of a roll-to-roll line"
	text, err := json.MarshalIndent(base, "", "  ")
	if err != nil {
		panic(err) // maps, slices and text only
	}
	return append(text, '\n')
}

// group is the schema of a table without keys so far.
func group(words string) object {
	return object{"type": "object", "description": words, "additionalProperties": false, "properties": object{}}
}

// put writes the schema of a key into the table that its path leads to; tables
// on the way are made, and each may carry a source note.
func put(root object, path string, k *Key) {
	at := root
	parts := strings.Split(path, ".")
	for _, part := range parts[:len(parts)-1] {
		name, several := strings.CutSuffix(part, "[]")
		fields := at["properties"].(object)
		next, ok := fields[name].(object)
		if !ok {
			next = group(name)
			next["properties"].(object)["source"] = object{"type": "string", "description": "Where the figures come from"}
			if several {
				next = object{"type": "array", "items": next}
			}
			fields[name] = next
		}
		if at = next; several {
			at = next["items"].(object)
		}
	}
	name := parts[len(parts)-1]
	at["properties"].(object)[name] = schemaOf(k)
	if k.Needed == "always" && strings.Contains(k.Path, "[]") {
		needs, _ := at["needs"].([]string)
		at["needs"] = append(needs, name)
	}
}

// setRequired turns the keys that elements of arrays always need into "required".
// Other tables require nothing: an alternative may give what the base lacks.
func setRequired(o object) {
	if needs, ok := o["needs"].([]string); ok {
		slices.Sort(needs)
		o["required"] = needs
		delete(o, "needs")
	}
	fields, _ := o["properties"].(object)
	for _, field := range fields {
		f := field.(object)
		setRequired(f)
		if items, ok := f["items"].(object); ok {
			setRequired(items)
		}
	}
}

// schemaOf is the schema of the value of a key.
func schemaOf(k *Key) object {
	words := k.Meaning
	for _, x := range [][2]string{{"Range", k.Range}, {"Needed", k.Needed}, {"Used by", k.UsedBy}} {
		if x[1] != "" {
			words += ". " + x[0] + ": " + x[1]
		}
	}
	o := object{"description": words, "examples": []any{fromText(exampleValue(k))}}
	if k.Default != "" && k.kind != level {
		o["default"] = fromText(k.Default)
	}
	alternatives := func(list ...any) { o["anyOf"] = list }
	amount := amountOf(k.Dim)
	switch k.kind {
	case text:
		o["type"], o["maxLength"] = "string", 200
	case flag:
		o["type"] = "boolean"
	case choice:
		o["enum"] = k.Choices
	case integer:
		o["type"] = "integer"
		limits(o, k)
	case perRoll:
		whole := object{"type": "integer"}
		limits(whole, k)
		alternatives(object{"const": true}, whole)
	case number:
		o["type"] = "number"
		limits(o, k)
	case level:
		alternatives(amount, amountOf(model.Share))
	case special:
		alternatives(amount, object{"const": "auto"})
	case fraction:
		alternatives(amountOf(model.Share), object{"type": "number", "exclusiveMinimum": 0, "exclusiveMaximum": 1})
	case varying, vnumber:
		list := []any{amount}
		for _, law := range lawOrder() {
			list = append(list, lawSchema(law, laws[law], amount))
		}
		list = append(list, lawSchema("gamma", []string{"mean", "sd"}, amount))
		alternatives(append(list, fileSchema())...)
	default:
		for name, v := range amount {
			o[name] = v
		}
	}
	return o
}

// exampleValue is what stands right of the = in the example of a key.
func exampleValue(k *Key) string {
	_, v, _ := strings.Cut(k.Example(), " = ")
	return v
}

func limits(o object, k *Key) {
	if !k.bounded {
		return
	}
	o["minimum"] = k.low
	if k.high < inf {
		o["maximum"] = k.high
	}
}

// amountOf is a number with a unit of the dimension, a plain number where it
// has none, either where both are right.
func amountOf(dim model.Dimension) object {
	if !dim.Plain() {
		return object{"type": "string", "pattern": patternOf(dim)}
	}
	if dim.Units() == "" {
		return object{"type": "number"}
	}
	return object{"type": []string{"number", "string"}, "pattern": patternOf(dim)}
}

func patternOf(dim model.Dimension) string {
	names := strings.Split(dim.Units(), ", ")
	for i, name := range names {
		names[i] = regexp.QuoteMeta(name)
		for _, spelling := range [][2]string{{"m2", `m(2|²|\^2)`}, {"s2", `s(2|²|\^2)`}, {"um", `[uµμ]m`}, {"N m", `N[ ·*]?m`}} {
			names[i] = strings.ReplaceAll(names[i], spelling[0], spelling[1])
		}
	}
	return `^\s*[+-]?([0-9]+\.?[0-9]*|\.[0-9]+)([eE][+-]?[0-9]+)?\s*(` + strings.Join(names, "|") + `)\s*$`
}

// lawOrder is the names of the laws, sorted.
func lawOrder() []string {
	var names []string
	for name := range laws {
		names = append(names, name)
	}
	slices.Sort(names)
	return names
}

func lawSchema(law string, params []string, amount object) object {
	fields := object{"dist": object{"const": law}, "source": object{"type": "string"}}
	for _, p := range params {
		switch p {
		case "shape":
			fields[p] = object{"type": "number", "exclusiveMinimum": 0}
		case "values":
			fields[p] = object{"type": "array", "minItems": 1, "items": amount}
		default:
			fields[p] = amount
		}
	}
	return object{"type": "object", "additionalProperties": false, "properties": fields, "required": append([]string{"dist"}, params...)}
}

func fileSchema() object {
	return object{"type": "object", "additionalProperties": false, "required": []string{"dist", "file"},
		"properties": object{"dist": object{"const": "empirical"}, "file": object{"type": "string"}, "column": object{"type": "string"}, "unit": object{"type": "string"}, "source": object{"type": "string"}}}
}
