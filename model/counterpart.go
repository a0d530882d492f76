package model

import (
	"strconv"
	"strings"
)

// counterparts are the units that people who work in feet write for what others write in
// these, by turns.
var counterparts = [...]string{"m", "ft", "km", "ft", "cm", "in", "mm", "in", "um", "mil", "m/min", "ft/min", "m/s", "ft/s", "m/s2", "ft/s2",
	"g/m2", "lb/ft2", "kg", "lb", "g", "lb", "N m", "lbf ft", "N", "lbf", "/m2", "/ft2", "/kg", "/lb", "/m", "/ft"}

// UnitIn is the name of the unit that is written in a system for a metric one: "ft/min" for
// "m/min"; the same where there is no other.
//
//go:noinline
func (s System) UnitIn(metric string) string {
	for i := 0; i < len(counterparts) && s == Imperial; i += 2 {
		if counterparts[i] == metric {
			return counterparts[i+1]
		}
	}
	return metric
}

// In is an example with its metric quantities of the dimension, which stand in quotes, in
// the units of a system, to two digits: `speed = "150 m/min"` is `speed = "490 ft/min"`.
func (d Dimension) In(s System, example string) string {
	if s != Imperial {
		return example
	}
	parts := strings.Split(example, `"`)
	for i := 1; i < len(parts); i += 2 {
		parts[i] = d.in(s, parts[i])
	}
	return strings.Join(parts, `"`)
}

// in is such a quantity; what is none stays as it is.
func (d Dimension) in(s System, text string) string {
	number, metric, _ := strings.Cut(text, " ")
	x, err := strconv.ParseFloat(number, 64)
	from, known := UnitOf(metric, d)
	to, other := UnitOf(s.UnitIn(metric), d)
	if err != nil || !known || !other || from == to {
		return text
	}
	if x *= from.SI; to.Name == "in" && x < inch/20 { // of films and papers
		to = Unit{"mil", mil}
	}
	x, _ = strconv.ParseFloat(strconv.FormatFloat(to.From(x), 'g', 2, 64), 64)
	return strconv.FormatFloat(x, 'f', -1, 64) + " " + to.Name
}

// In is the whole in words, with the unit that people of a system write.
func (e *QuantityError) In(s System) string {
	i := strings.LastIndex(e.Say, "such as ") // what was written may say it too
	if i < 0 || s != Imperial {
		return e.Say
	}
	says, usual := e.Say[:i], e.Say[i:]
	if e.Reason == ErrNoUnit { // the number is theirs
		name := units[e.Want][0].Name
		return says + strings.TrimSuffix(usual, name+`"`) + s.UnitIn(name) + `"`
	}
	return says + e.Want.In(s, usual)
}
