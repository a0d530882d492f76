package report

import (
	"strings"

	"rollchange/out/words"
	"rollchange/scenarios"
)

// inputsTable is what stands in the scenario, with the source of each value: for
// the first alternative, and beside it for the one that is told of in full.
func (c *Content) inputsTable(w *phrases) *table {
	f := w.Found
	first := c.Scenario.Study.Alternatives[0].Name
	t := &table{Name: f["inputs_name"], Head: []string{f["key"], name(first)}, Texts: true, Note: f["inputs_note"]}
	a := c.Scenario.Given(0)
	b := []scenarios.Given(nil)
	if c.Answer > 0 {
		t.Head = append(t.Head, name(c.Scenario.Study.Alternatives[c.Answer].Name))
		b = c.Scenario.Given(c.Answer)
	}
	shown := map[string]string{} // the source of a table of the scenario, said once
	for _, x := range merged(a, b) {
		table := x.key
		if i := strings.LastIndexByte(x.key, '.'); i > 0 {
			table = x.key[:i]
		}
		source := ""
		r := row{Head: words.KeyWords(x.key)}
		for i, g := range []*scenarios.Given{x.first, x.other} {
			switch {
			case i == 1 && c.Answer == 0:
				continue
			case g == nil:
				r.Cells = append(r.Cells, cell{Text: "–"})
				continue
			case i == 1 && x.first != nil && x.first.Text == g.Text:
				r.Cells = append(r.Cells, cell{Text: f["same"]})
			default:
				r.Cells = append(r.Cells, cell{Text: words.Line(c.shownValue(g), mostNote)})
			}
			if g.Source != "" && !strings.Contains(source, g.Source) {
				source = strings.TrimPrefix(source+"; "+g.Source, "; ")
			}
		}
		if source == "" {
			source = f["no_source"]
		}
		if _, ok := shown[table]; !ok {
			shown[table] = source
		} else if shown[table] != source {
			r.Sub = f["source"] + ": " + words.Line(source, mostNote)
		}
		t.add(words.TableWords(table)+" · "+f["source"]+": "+words.Line(shown[table], mostNote), r)
	}
	return t
}

// shownValue is a value as it was given, its thousands apart where it is a quantity, and
// with its unit where that is not written.
func (c *Content) shownValue(g *scenarios.Given) string {
	if strings.HasPrefix(g.Text, `"`) && !words.IsQuantity(strings.Trim(g.Text, `"`)) || strings.HasSuffix(g.Key, "seed") {
		return valuesInWords(g.Text)
	}
	return words.Written(c.withUnit(g.Key, valuesInWords(g.Text)))
}

// valuesInWords says of a law that is a list of values that they were recorded.
func valuesInWords(text string) string {
	if values, is := strings.CutPrefix(text, "empirical, "); is {
		return "as recorded, " + values
	}
	return text
}

// pair is a key and what two alternatives give for it.
type pair struct {
	key          string
	first, other *scenarios.Given
}

// merged is the keys of two lists in their common order.
func merged(a, b []scenarios.Given) []pair {
	at := map[string]int{}
	for i := range a {
		at[a[i].Key] = i
	}
	var list []pair
	i := 0
	for j := range b {
		k, both := at[b[j].Key]
		if !both {
			list = append(list, pair{b[j].Key, nil, &b[j]})
			continue
		}
		for ; i < k; i++ {
			list = append(list, pair{a[i].Key, &a[i], nil})
		}
		list = append(list, pair{b[j].Key, &a[k], &b[j]})
		i = max(i, k+1)
	}
	for ; i < len(a); i++ {
		list = append(list, pair{a[i].Key, &a[i], nil})
	}
	return list
}
