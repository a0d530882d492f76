package report

import (
	"fmt"
	"strconv"
	"strings"

	"rollchange/out/words"
	"rollchange/sim/metric"
	"rollchange/sim/whatif"
)

// mostAssumed is how many assumptions the first page tells of.
const mostAssumed = 3

// assumptionsTable are the inputs that move the answer most, with where each comes from;
// nil where none is shown to move it.
func (c *Content) assumptionsTable(w *phrases) *table {
	if c.Stakes == nil {
		return nil
	}
	f, sys := w.First, c.Scenario.Study.Units
	of := metric.GoodRate
	if c.chosen() != nil {
		of = "npv"
	}
	list := c.Stakes.Swings[of]
	if len(list) == 0 {
		return nil
	}
	read := words.StakeReading(c.Stakes, of, list[0].Base, sys)
	t := &table{Texts: true,
		Head: []string{f["assumption"], f["given"], fmt.Sprintf(f["moves"], read.Label), w.Found["source"]}}
	unshown := false
	for _, s := range list {
		if s.Size() == 0 || len(t.rows()) == mostAssumed {
			continue
		}
		given, source := c.sourceOf(s.Key)
		if given == "" {
			given = words.SettingText(s.At[1], sys)
		}
		if plain := s.At[1]; plain.Unit == "m" && words.IsQuantity(given) { // in the unit of what it is moved to
			given = words.SettingText(plain, sys)
		}
		switch source {
		case "":
			source = w.Found["no_source"]
		case "--set":
			source = f["set"]
		}
		if n := observed(given); n != "" {
			source = fmt.Sprintf(f["observed"], n) + "; " + source
		}
		moves := ""
		for end, at := range []whatif.Setting{s.At[0], s.At[2]} {
			moves = strings.TrimPrefix(moves+"; "+fmt.Sprintf(f["at"], words.SettingText(at, sys), read.Moves(s, end)), "; ")
			unshown = unshown || read.Moves(s, end) == words.NotShown
		}
		t.add("", row{Head: words.Line(words.KeyOf(s.Key, s.Of), mostWide), Cells: []cell{{Text: words.Line(words.Written(given), 110)}, {Text: words.Line(moves, 160)}, {Text: words.Line(source, 140)}}})
	}
	if len(t.Bodies) == 0 {
		return nil
	}
	t.Note = f["assumptions_note"]
	if unshown {
		t.Note += " " + f["unshown_note"]
	}
	return t
}

// sourceOf is a value as the scenario gives it, and where it says that it is from: of
// the alternative that is told of in full, else of the first.
func (c *Content) sourceOf(key string) (given, source string) {
	sides := []int{c.Answer, 0}
	if of, is := strings.CutPrefix(key, "first."); is { // as the savings case calls what the first has of its own
		sides, key = sides[1:], "alternative."+of
		if of == "hours_per_year" || of == "crew_hours_saved" {
			key = "economics." + of
		}
	}
	for _, i := range sides {
		for _, g := range c.Scenario.Given(i) {
			if g.Key == key {
				return plainLaw(c.withUnit(g.Key, strings.Trim(g.Text, `"`))), g.Source
			}
		}
	}
	return "", ""
}

// plainLaw is a value for a reader: a law that is known by its ends or by its mean and
// standard deviation in plain words.
func plainLaw(text string) string {
	text = valuesInWords(text)
	name, rest, _ := strings.Cut(text, ", ")
	of := map[string]string{}
	var more []string // such as how many values were observed
	for _, p := range strings.Split(rest, ", ") {
		switch key, value, _ := strings.Cut(p, " "); key {
		case "min", "mode", "max", "mean", "sd":
			of[key] = value
		default:
			more = append(more, p)
		}
	}
	says := ""
	switch {
	case name == "triangular" && len(of) == 3:
		says = fmt.Sprintf("%s to %s, most likely %s", of["min"], of["max"], of["mode"])
	case name == "uniform" && len(of) == 2:
		says = fmt.Sprintf("%s to %s, evenly", of["min"], of["max"])
	case name == "normal" && len(of) == 2 && of["sd"] != "":
		says = fmt.Sprintf("mean %s, standard deviation %s", of["mean"], of["sd"])
	default:
		return text
	}
	return strings.TrimSuffix(strings.Join(append([]string{says}, more...), ", "), ", ")
}

// observed is how many recorded values stand behind a law, as plainLaw has it; empty: none are told of.
func observed(given string) string {
	_, after, is := strings.Cut(given, "observed ")
	if !is {
		return ""
	}
	n, _, _ := strings.Cut(after, ",")
	if _, err := strconv.Atoi(strings.TrimSpace(n)); err != nil {
		return ""
	}
	return strings.TrimSpace(n)
}
