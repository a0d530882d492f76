package model

import (
	"math"
	"slices"
	"strconv"
	"strings"
)

// meant is what a spelling stands for: so many of a unit that ParseQuantity reads.
type meant struct {
	unit  string
	times float64
}

// spellings are ways of writing units that people use and ParseQuantity does not
// read, in small letters; a message proposes what they stand for. Factors are
// exact by definition: the yard is 3 feet, the mile 5280 feet, the ounce 1/16
// pound (NIST Special Publication 811, appendix B), standard gravity 9.80665 m/s2.
// Which spellings are used is common practice, no source.
var spellings = map[Dimension]map[string]meant{
	Length: merged(spelt("m", "metre metres meter meters mtr mtrs mt mts lm rm lfm running-metres"), spelt("mm", "millimetre millimetres millimeter millimeters"),
		spelt("cm", "centimetre centimetres centimeter centimeters"), spelt("km", "kilometre kilometres kilometer kilometers kms"),
		spelt("um", "u mu micron microns micrometre micrometres micrometer micrometers mic my"), spelt("mil", "mils thou thous"),
		spelt("in", "inch inches \" ″ ''"), spelt("ft", "foot feet ' ′ lf lin-ft"), times(3, "ft", "yd yds yard yards"), times(5280, "ft", "mi mile miles")),
	Time: merged(spelt("s", "sec secs second seconds sek"), spelt("min", "mins minute minutes mn mns m '"), spelt("h", "hr hrs hour hours std"), spelt("d", "day days"),
		times(1e-3, "s", "ms msec milliseconds"), times(7, "d", "wk wks week weeks"), times(365, "d", "y yr yrs year years a")),
	Mass: merged(spelt("kg", "kgs kilo kilos kilogram kilograms"), spelt("g", "gr gram grams gramme grammes"), spelt("lb", "lbs pound pounds #"),
		times(1000, "kg", "t tonne tonnes mt"), times(1./16, "lb", "oz ounce ounces")),
	Force:    merged(spelt("N", "newton newtons"), spelt("lbf", "lb lbs pounds"), times(1000, "N", "kn"), times(9.80665, "N", "kgf kp")),
	Torque:   merged(spelt("N m", "nm n-m newton-metres newton-meters"), spelt("lbf ft", "ft-lb ft-lbs ft-lbf lb-ft lbf-ft lbft ftlb ft lb"), times(1000, "N m", "knm kn-m"), times(1./12, "lbf ft", "in-lb in-lbs lb-in lbf-in")),
	Share:    merged(spelt("%", "percent per-cent pct prozent pc"), times(0.1, "%", "‰"), times(1e-4, "%", "ppm")),
	Years:    merged(spelt("years", "yr yrs y jahre"), times(1./12, "years", "month months")),
	Grammage: merged(spelt("g/m2", "gsm gm2 gr/m2 g/sqm g/qm gram/m2 grams/m2 gms g/m"), times(1, "kg/m2", "kg/sqm"), spelt("lb/ft2", "lb/sqft lbs/ft2 psf"), times(pound/16/(9*foot*foot)*1000, "g/m2", "oz/yd2 oz/sqyd osy")),
	Acceleration: merged(spelt("m/s2", "m/s/s m/sec2 m/s*s mps2"), spelt("ft/s2", "ft/s/s ft/sec2 fps2"), times(9.80665, "m/s2", "g g0"), times(1e-3, "m/s2", "mm/s2"),
		times(1./60, "m/s2", "m/min/s")),
	Speed: merged(spelt("m/min", "mpm m/mn"), spelt("ft/min", "fpm"), spelt("m/s", "mps"), spelt("ft/s", "fps"), times(1000./60, "m/min", "kph kmh km/h"), times(60e-3, "m/min", "mm/s")),
}

func spelt(unit, ways string) map[string]meant { return times(1, unit, ways) }

func times(n float64, unit, ways string) map[string]meant {
	m := map[string]meant{}
	for _, way := range strings.Fields(ways) {
		m[strings.ReplaceAll(way, "-", " ")] = meant{unit, n}
		m[way] = meant{unit, n}
	}
	return m
}

func merged(parts ...map[string]meant) map[string]meant {
	all := map[string]meant{}
	for _, p := range parts {
		for way, m := range p {
			if _, twice := all[way]; !twice {
				all[way] = m
			}
		}
	}
	return all
}

// UnitOf finds a unit of a dimension by its name, as ParseQuantity reads it.
func UnitOf(name string, dim Dimension) (Unit, bool) {
	for _, u := range units[dim] { // as most are written
		if u.Name == name {
			return u, true
		}
	}
	name = strings.Join(strings.Fields(simplifier.Replace(name)), " ")
	i := slices.IndexFunc(units[dim], func(u Unit) bool { return u.Name == name })
	if i < 0 {
		return Unit{}, false
	}
	return units[dim][i], true
}

// SIOf is a value in this unit in the unit that the dimension is kept in.
func (u Unit) SIOf(value float64) float64 { return scale(value, u) }

// MeantUnit finds what a spelling of a unit stands for: how many of which unit.
func MeantUnit(name string, dim Dimension) (unit string, times float64, ok bool) {
	if u, known := UnitOf(name, dim); known {
		return u.Name, 1, true
	}
	low := strings.ToLower(strings.TrimSpace(simplifier.Replace(name)))
	low = strings.TrimSuffix(strings.Join(strings.Fields(low), " "), ".")
	for _, u := range units[dim] {
		if strings.ToLower(u.Name) == low {
			return u.Name, 1, true
		}
	}
	if m, known := spellings[dim][low]; known {
		return m.unit, m.times, true
	}
	if dim == Speed {
		return meantSpeed(low)
	}
	if strings.HasPrefix(string(dim), "money ") {
		return meantPrice(low, dim)
	}
	return "", 0, false
}

// meantSpeed reads a length by a time, each in a spelling of its own.
func meantSpeed(name string) (unit string, times float64, ok bool) {
	parts := splitPer(name)
	if len(parts) != 2 {
		return "", 0, false
	}
	length, l, okL := MeantUnit(parts[0], Length)
	time, t, okT := MeantUnit(parts[1], Time)
	if !okL || !okT {
		return "", 0, false
	}
	if u, known := UnitOf(length+"/"+time, Speed); known && l == 1 && t == 1 {
		return u.Name, 1, true
	}
	long, _ := UnitOf(length, Length)
	short, _ := UnitOf(time, Time)
	to, _ := UnitOf("m/min", Speed)
	return "m/min", l * long.SI / (t * short.SI) / to.SI, true
}

// meantPrice reads what a price is by, whatever the currency before it.
func meantPrice(name string, dim Dimension) (unit string, times float64, ok bool) {
	parts := splitPer(name)
	by := strings.ReplaceAll(strings.ReplaceAll(parts[len(parts)-1], " ", ""), "p.a.", "year")
	for unit, ways := range map[string]string{"/m2": "m2 sqm qm", "/ft2": "ft2 sqft", "/kg": "kg kgs", "/lb": "lb lbs pound", "/h": "h hr hrs hour", "/m": "m metre meter",
		"/ft": "ft foot", "/year": "year yr y a annum"} {
		if _, known := UnitOf(unit, dim); known && slices.Contains(strings.Fields(ways), by) {
			return unit, 1, true
		}
	}
	return "", 0, false
}

var between = strings.NewReplacer("'", "", "’", "", "_", "", " ", "", "\u00a0", "", "\u2009", "", "\u202f", "")

// Suggest is how a quantity that ParseQuantity refuses may have been meant, with
// the number that was written, in the usual unit where it names none or one of
// another dimension; none when the number or the unit cannot be read. The number loses its
// sign unless it may be negative.
func Suggest(text string, dim Dimension, usual string, signed bool) []string {
	text = strings.TrimSpace(text)
	if len(text) > 200 {
		return nil
	}
	digits := looseNumber(text)
	var list []string
	for _, number := range numbers(strings.TrimSpace(digits)) {
		x, err := strconv.ParseFloat(number, 64)
		if err != nil || math.IsInf(x, 0) || math.IsNaN(x) {
			continue
		}
		name := strings.TrimSpace(text[len(digits):])
		unit, times, ok := MeantUnit(name, dim)
		if !ok || name == "" {
			if _, other := dimensionOf(strings.Join(strings.Fields(simplifier.Replace(name)), " ")); name != "" && !other {
				continue // what it was can only be guessed
			}
			unit, times = usual, 1
		}
		if x = math.Round(x*times*1e12) / 1e12; times == 1 {
			x, _ = strconv.ParseFloat(number, 64)
		}
		if size := math.Abs(x); size > 1e15 || x != 0 && size < 1e-9 {
			continue // nobody means that
		}
		if x < 0 && !signed {
			x = -x
		}
		list = append(list, strings.TrimSpace(strconv.FormatFloat(x, 'f', -1, 64)+spaced(unit)))
	}
	return list
}

func spaced(unit string) string {
	if unit == "" {
		return ""
	}
	return " " + unit
}

// numbers is how a number may have been meant, with a point for decimals and
// nothing between thousands.
func numbers(s string) []string {
	s = between.Replace(s)
	point, comma := strings.LastIndexByte(s, '.'), strings.LastIndexByte(s, ',')
	switch {
	case comma < 0 && strings.Count(s, ".") > 1:
		return []string{strings.ReplaceAll(s, ".", "")}
	case comma < 0:
		return []string{s}
	case point > comma:
		return []string{strings.ReplaceAll(s, ",", "")}
	case point >= 0: // 1.234,5
		return []string{strings.Replace(strings.ReplaceAll(s, ".", ""), ",", ".", 1)}
	case strings.Count(s, ",") > 1:
		return []string{strings.ReplaceAll(s, ",", "")}
	case grouped(s):
		return []string{strings.Replace(s, ",", ".", 1), strings.Replace(s, ",", "", 1)}
	}
	return []string{strings.Replace(s, ",", ".", 1)}
}
