package scenarios

import (
	"encoding/json"
	"maps"
	"slices"
	"strings"

	"rollchange/model"
)

// object is a JSON object under construction.
type object = map[string]any

// Schema is the JSON Schema (2020-12) of a scenario, made from the table of
// keys, for editors that complete and check TOML. It knows the form of each
// key; the rules across keys, and which keys a kind of change needs, are known
// to Parse alone. What stands in several places, amounts, laws and the tables of
// the base and of its alternatives, is defined once.
func Schema() []byte {
	s := &schema{defs: object{}}
	base, overlay, shared := group("The base of every alternative"), group("A way to equip or run the line, laid over the base"), group("")
	for i := range table {
		k := &table[i]
		switch name, alternative := strings.CutPrefix(k.Path, "alternative[]."); {
		case alternative:
			s.put(overlay, name, k)
		case studyOnly(k.Path):
			s.put(base, k.Path, k)
		default:
			s.put(shared, k.Path, k)
		}
	}
	for _, root := range []object{base, overlay, shared} {
		setRequired(root)
	}
	product := shared["properties"].(object)["product"].(object)["items"].(object)["properties"].(object)
	for _, table := range productTables {
		name := strings.TrimSuffix(table, ".")
		product[name] = ref(name)
	}
	for name, fields := range shared["properties"].(object) {
		s.defs[name] = fields
		for _, root := range []object{base, overlay} {
			root["properties"].(object)[name] = ref(name)
		}
	}
	overlay["properties"].(object)["source"] = ref("source")
	base["properties"].(object)["alternative"] = object{"type": "array", "minItems": 1, "maxItems": mostAlternatives, "items": overlay}
	s.defs["source"] = object{"type": "string", "description": "Where the figures come from"}
	s.defs["law"] = lawForms()
	base["$schema"] = "https://json-schema.org/draft/2020-12/schema"
	base["title"] = "Scenario of a roll-to-roll line"
	base["$defs"] = s.defs
	text, err := json.MarshalIndent(base, "", " ")
	if err != nil {
		panic(err) // maps, slices and text only
	}
	return append(text, '\n')
}

// schema gathers the definitions while the tables are made.
type schema struct{ defs object }

func ref(name string) object { return object{"$ref": "#/$defs/" + name} }

// group is the schema of a table without keys so far.
func group(words string) object {
	o := object{"type": "object", "additionalProperties": false, "properties": object{}}
	if words != "" {
		o["description"] = words
	}
	return o
}

// put writes the schema of a key into the table that its path leads to; tables
// on the way are made, and each may carry a source note.
func (s *schema) put(root object, path string, k *Key) {
	at := root
	parts := strings.Split(path, ".")
	for _, part := range parts[:len(parts)-1] {
		name, several := strings.CutSuffix(part, "[]")
		fields := at["properties"].(object)
		next, ok := fields[name].(object)
		if !ok {
			next = group("")
			next["properties"].(object)["source"] = ref("source")
			if several {
				next = object{"type": "array", "maxItems": mostOf, "items": next}
			}
			fields[name] = next
		}
		if at = next; several {
			at = next["items"].(object)
		}
	}
	name := parts[len(parts)-1]
	at["properties"].(object)[name] = s.key(k)
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

// key is the schema of the value of a key.
func (s *schema) key(k *Key) object {
	words := k.Meaning
	for _, x := range [][2]string{{"Range", k.Range}, {"Needed", k.Needed}, {"Used by", k.UsedBy}} {
		if x[1] != "" {
			words += ". " + x[0] + ": " + x[1]
		}
	}
	o := s.value(k)
	o["description"] = words
	switch {
	case k.Default != "" && k.kind != level:
		o["default"] = fromText(k.Default)
	case k.kind != flag && k.kind != choice && k.kind != perRoll && k.kind != text:
		o["examples"] = []any{fromText(exampleValue(k))}
	}
	return o
}

// value is what a key may hold.
func (s *schema) value(k *Key) object {
	either := func(list ...any) object { return object{"anyOf": list} }
	of := spanOf(k)
	switch k.kind {
	case text:
		if k.long {
			return object{"type": "string"}
		}
		if k.dated {
			return object{"type": "string", "pattern": dayPattern}
		}
		return object{"type": "string", "maxLength": mostText}
	case texts, wholes, days:
		return listSchema(k)
	case shares, amounts:
		return s.years(k)
	case flag:
		return object{"type": "boolean"}
	case choice:
		return object{"enum": k.Choices}
	case integer, number:
		o := object{"type": map[kind]string{integer: "integer", number: "number"}[k.kind]}
		limits(o, k)
		return o
	case perRoll:
		whole := object{"type": "integer"}
		limits(whole, k)
		return either(object{"const": true}, whole)
	case level:
		return either(s.amount(k.Dim, of), s.amount(model.Share, upTo100))
	case special:
		return either(s.amount(k.Dim, of), object{"const": "auto"})
	case fraction:
		plain := object{"type": "number"}
		limits(plain, k)
		return either(s.amount(model.Share, upTo100), plain)
	case varying, vnumber:
		return s.varying(k.Dim, of)
	}
	return s.amount(k.Dim, of)
}

// varying is a quantity, or a law whose parameters are such quantities. A law may
// touch the open end of a range.
func (s *schema) varying(dim model.Dimension, of numbers) object {
	name := defName(dim, of) + "_or_law"
	if s.defs[name] == nil {
		wide := of
		if of == positive {
			wide = notNegative
		}
		params := object{}
		for _, l := range lawTable {
			for _, p := range slices.Concat(l.Params, l.May) {
				switch p {
				case "shape":
				case "values":
					params[p] = object{"type": "array", "items": s.amount(dim, wide)}
				default:
					params[p] = s.amount(dim, wide)
				}
			}
		}
		params["sd"] = s.amount(dim, notNegative)
		s.defs[name] = object{"anyOf": []any{s.amount(dim, of), object{"allOf": []any{ref("law")}, "properties": params}}}
	}
	return ref(name)
}

// lawForms is which parameters each law has and needs, whatever they measure.
func lawForms() object {
	form := func(law string, needed, more []string) object {
		fields := object{"dist": object{"const": law}, "source": object{"type": "string"}, "observed": object{"type": "integer", "minimum": 1}}
		for _, p := range slices.Concat(needed, more) {
			fields[p] = true
		}
		for p, v := range map[string]object{"shape": {"type": "number", "exclusiveMinimum": 0}, "values": {"type": "array", "minItems": 1}, "file": {"type": "string"},
			"unit": {"type": "string"}, "column": {"type": []string{"string", "integer"}}} {
			if fields[p] != nil {
				fields[p] = v
			}
		}
		return object{"type": "object", "additionalProperties": false, "properties": fields, "required": append([]string{"dist"}, needed...)}
	}
	var list []any
	for _, l := range lawTable {
		list = append(list, form(l.Name, l.Params, l.May))
		switch {
		case l.Name == "empirical":
			list = append(list, form(l.Name, l.Or[:1], l.Or[1:]))
		case l.Or != nil:
			list = append(list, form(l.Name, l.Or, l.May))
		}
	}
	return object{"anyOf": list}
}

// amount is a number with a unit of the dimension, a plain number where it
// has none, either where both are right.
func (s *schema) amount(dim model.Dimension, of numbers) object {
	name := defName(dim, of)
	if s.defs[name] == nil {
		o := object{}
		switch {
		case !dim.Plain():
			o["type"], o["pattern"] = "string", patternOf(dim, of)
		case dim.Units() == "":
			o["type"] = "number"
		default:
			o["type"], o["pattern"] = []string{"number", "string"}, patternOf(dim, of)
		}
		if dim.Plain() {
			maps.Copy(o, of.limits())
		}
		s.defs[name] = o
	}
	return ref(name)
}

func defName(dim model.Dimension, of numbers) string {
	return strings.ReplaceAll(string(dim), " ", "_") + string(of)
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
