package words

import (
	"math"
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"

	"rollchange/model"
	"rollchange/model/legible"
	"rollchange/sim/metric"
)

var tidier = strings.NewReplacer("e-0", "e-", "e+0", "e", "e+", "e")

func Tidy(s string) string { return tidier.Replace(s) }

// Reading is how a metric is read in a picture.
type Reading struct {
	Label string
	Unit  model.Unit
	Share bool
	Of    string // of a chance what it is a share of: "splices"
	Log   bool   // rare shares: one step of the scale is a factor of ten
}

// ReadingOf is how a metric is read, from its SI unit and the values that are
// shown. A chance that varies by a factor of three, and any other share that is
// rare and spans more than two powers of ten, is read on a scale of ratios: a
// tail falls by factors.
func ReadingOf(name, unit string, values []float64, sys model.System) Reading {
	low, high := math.Inf(1), 0.0
	for _, v := range values {
		if v = math.Abs(v); Finite(v) {
			high = max(high, v)
			if v > 0 {
				low = min(low, v)
			}
		}
	}
	label := LabelOf(name).Text
	if part, ok := strings.CutPrefix(label, "  "); ok { // a row that belongs to the one above it
		if whole, _, ok := metric.RiskOf(name); ok {
			part = LabelOf(whole).Text + ", " + strings.TrimSpace(part)
		}
		label = part
	}
	r := Reading{Label: legible.Line(label), Unit: ShownUnit(unit, high, sys), Share: unit == "1"}
	m, _ := metric.Of(name)
	chance := m.Shown == metric.Chance || m.Shown == metric.ShareOfChanges
	if chance {
		r.Of = LabelOf(metric.ChangesOf(name)).Text
	}
	rare := low < 0.01 && high > 100*low && m.Shown != metric.ShareOfTime
	r.Log = unit == "1" && (rare || chance && high > 3*low)
	for _, v := range values {
		r.Log = r.Log && !(v < 0)
	}
	return r
}

// Title is what is shown, at the head of a picture: "Good web, m/min". On a
// scale of ratios the ticks say it all.
func (r Reading) Title() string {
	first, n := utf8.DecodeRuneInString(r.Label)
	s := string(unicode.ToUpper(first)) + r.Label[n:]
	switch {
	case r.Log && r.Of != "":
		return s + ", 1 in N " + r.Of
	case r.Log || r.Unit.Name == "":
		return s
	}
	return s + ", " + r.Unit.Name
}

// Floor is the least value, in the unit of people, that a scale of ratios
// shows; what is less counts as none.
func (r Reading) Floor(high float64) float64 { return high * 1e-12 }

// Level writes a value of the metric, in its unit: "412 m/min", "1 in 1,000".
func (r Reading) Level(v float64) string {
	if r.Log {
		return OneIn(v * r.Unit.SI)
	}
	return strings.TrimSpace(Short(v, 4) + " " + r.Unit.Name)
}

// OneIn says a rare share in words: 0.001 is "1 in 1,000".
func OneIn(share float64) string {
	n := 1 / share
	if math.Abs(n-math.Round(n)) < 1e-6*n {
		n = math.Round(n)
	}
	switch {
	case n < 1.05:
		return "all"
	case n >= 9.5e6:
		return "1 in " + Tidy(strconv.FormatFloat(n, 'g', 2, 64))
	}
	if n < 10 && n != math.Round(n) {
		return "1 in " + number(n, 1)
	}
	return "1 in " + Grouped(n)
}

// Finite says that a value can be drawn.
func Finite(v float64) bool { return !math.IsNaN(v) && !math.IsInf(v, 0) }

// UnitOf is the SI unit of a metric, by its name; of what is none, "1".
func UnitOf(name string) string {
	m, _ := metric.Of(name)
	return m.Unit
}
