package model

import (
	"errors"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"rollchange/model/legible"
)

// System is the units that tables and pictures are shown in.
type System string

// The systems of units for people. Machine output is always SI.
const (
	Metric   System = "metric"
	Imperial System = "imperial"
)

// Dimension is what a quantity measures. Its values are kept in the unit that
// the constant names; for money and for what is said by the year that is the
// unit of Economics.
type Dimension string

// The dimensions of scenario keys.
const (
	Length        Dimension = "length"          // m
	Speed         Dimension = "speed"           // m/s
	Acceleration  Dimension = "acceleration"    // m/s2
	Time          Dimension = "time"            // s
	Mass          Dimension = "mass"            // kg
	Grammage      Dimension = "grammage"        // kg/m2
	Torque        Dimension = "torque"          // N m
	Force         Dimension = "force"           // N
	Share         Dimension = "share"           // 1
	Number        Dimension = "number"          // 1, written without a unit
	Years         Dimension = "years"           // years
	Money         Dimension = "money"           // currency
	MoneyPerYear  Dimension = "money a year"    // currency a year
	MoneyPerArea  Dimension = "money an area"   // currency per m2
	MoneyPerMass  Dimension = "money a mass"    // currency per kg
	MoneyPerHour  Dimension = "money an hour"   // currency per h
	MoneyPerMetre Dimension = "money a length"  // currency per m
	Thickness     Dimension = "thickness"       // m, shown in mm or in; for Display only
	Frequency     Dimension = "frequency"       // 1/s, for Display only
	AreaRate      Dimension = "area by time"    // m2/s, for Display only
	MassRate      Dimension = "mass by time"    // kg/s, for Display only
	ShareRate     Dimension = "share by length" // 1/m, for Display only
)

// Unit is a unit of measure: one of it is SI units of its dimension.
type Unit struct {
	Name string
	SI   float64
}

// From is a value of the dimension, in SI, in this unit.
func (u Unit) From(si float64) float64 { return si / u.SI }

// Exact definitions, as NIST Special Publication 811 (2008), appendix B, gives
// them: the inch, the foot, the avoirdupois pound, the pound-force.
const (
	inch       = 0.0254          // m
	foot       = 12 * inch       // m
	mil        = inch / 1000     // m
	pound      = 0.45359237      // kg
	poundForce = 4.4482216152605 // N
	minute     = 60.0            // s
	hour       = 60 * minute     // s
	day        = 24 * hour       // s
)

// units are the units that ParseQuantity reads, the usual one of each
// dimension first.
var units = map[Dimension][]Unit{
	Length: {{"m", 1}, {"um", 1e-6}, {"mm", 1e-3}, {"cm", 1e-2}, {"km", 1e3},
		{"mil", mil}, {"in", inch}, {"ft", foot}},
	Speed:         {{"m/s", 1}, {"m/min", 1 / minute}, {"m/h", 1 / hour}, {"ft/min", foot / minute}, {"ft/s", foot}},
	Acceleration:  {{"m/s2", 1}, {"ft/s2", foot}},
	Time:          {{"s", 1}, {"min", minute}, {"h", hour}, {"d", day}},
	Mass:          {{"kg", 1}, {"g", 1e-3}, {"lb", pound}},
	Grammage:      {{"g/m2", 1e-3}, {"kg/m2", 1}, {"lb/ft2", pound / (foot * foot)}},
	Torque:        {{"N m", 1}, {"lbf ft", poundForce * foot}},
	Force:         {{"N", 1}, {"lbf", poundForce}},
	Share:         {{"%", 1e-2}},
	Years:         {{"years", 1}, {"year", 1}, {"a", 1}},
	Number:        {{"", 1}},
	Money:         {{"", 1}},
	MoneyPerYear:  {{"", 1}, {"/year", 1}, {"/a", 1}},
	MoneyPerArea:  {{"/m2", 1}, {"/ft2", 1 / (foot * foot)}},
	MoneyPerMass:  {{"/kg", 1}, {"/lb", 1 / pound}},
	MoneyPerHour:  {{"/h", 1}},
	MoneyPerMetre: {{"/m", 1}, {"/ft", 1 / foot}},
}

// examples are how a quantity of each dimension is written.
var examples = map[Dimension]string{
	Length: "500 m", Speed: "150 m/min", Acceleration: "0.5 m/s2", Time: "90 s", Mass: "800 kg",
	Grammage: "80 g/m2", Torque: "400 N m", Force: "5 N", Share: "3 %", Years: "10 years",
	Money: "250000", Number: "1.5", MoneyPerYear: "5000 /year",
	MoneyPerArea: "0.45 /m2", MoneyPerMass: "0.12 /kg", MoneyPerHour: "35 /h", MoneyPerMetre: "0.3 /m",
}

// Units are the names of the units that a quantity of the dimension may be
// written in, the usual one first: "m, um, mm".
func (d Dimension) Units() string {
	var names []string
	for _, u := range units[d] {
		if u.Name != "" {
			names = append(names, u.Name)
		}
	}
	return strings.Join(names, ", ")
}

// Usual is the unit that people write a quantity of the dimension in.
func (d Dimension) Usual() Unit {
	_, name, _ := strings.Cut(examples[d], " ")
	u, _ := UnitOf(name, d)
	if u.SI == 0 {
		u.SI = 1
	}
	return u
}

// article is the dimension with the article that goes before it.
func (d Dimension) article() string {
	switch d {
	case Number, Years:
		return "a number"
	case Money, MoneyPerYear:
		return "an amount of money"
	case MoneyPerArea, MoneyPerMass, MoneyPerMetre, MoneyPerHour:
		return "a price"
	}
	if strings.ContainsRune("aeiou", rune(d[0])) {
		return "an " + string(d)
	}
	return "a " + string(d)
}

// Plain says whether a quantity of the dimension may be a bare number: counts,
// money and years, whose unit is then that of the dimension's constant.
func (d Dimension) Plain() bool {
	switch d {
	case Number, Money, MoneyPerYear, MoneyPerArea, MoneyPerMass, MoneyPerHour, MoneyPerMetre, Years:
		return true
	}
	return false
}

// Example is how a scenario writes a quantity of the dimension, in quotes when
// it has a unit: "150 m/min". Numbers and money have none.
func (d Dimension) Example() string {
	if d == Number || d == Money {
		return examples[d]
	}
	return strconv.Quote(examples[d])
}

// The ways in which ParseQuantity fails, for errors.Is.
var (
	ErrEmpty       = errors.New("is empty")
	ErrNotNumber   = errors.New("does not begin with a number")
	ErrNotFinite   = errors.New("is not a finite number")
	ErrNoUnit      = errors.New("has no unit")
	ErrUnknownUnit = errors.New("unknown unit")
	ErrDimension   = errors.New("wrong kind of quantity")
)

// QuantityError says what is wrong with the text of a quantity.
type QuantityError struct {
	Text   string
	Want   Dimension
	Reason error  // one of the errors above
	Say    string // the whole in words
}

// Error is what is wrong and, where the number can be read, how it may have been meant.
func (e *QuantityError) Error() string {
	_, usual, _ := strings.Cut(examples[e.Want], " ")
	if list := Suggest(e.Text, e.Want, usual, true); len(list) > 0 && (e.Reason == ErrUnknownUnit || e.Reason == ErrDimension) {
		return e.Say + "; write " + strings.Join(quoted(list), " or ")
	}
	return e.Say
}

func quoted(list []string) []string {
	q := make([]string, len(list))
	for i, s := range list {
		q[i] = strconv.Quote(s)
	}
	return q
}

// Unwrap is the reason.
func (e *QuantityError) Unwrap() error { return e.Reason }

var simplifier = strings.NewReplacer("µ", "u", "μ", "u", "²", "2", "^2", "2", "·", " ", "*", " ", "Nm", "N m")

// ParseQuantity reads a number with a unit, such as "150 m/min", as a quantity
// of the dimension, in the unit that the dimension is kept in. It refuses an
// empty text, a bare number (zero too), NaN and infinity, a unit that it does
// not know and a unit of another dimension, with a *QuantityError.
func ParseQuantity(text string, dim Dimension) (float64, error) {
	fail := func(reason error, format string, args ...any) (float64, error) {
		return 0, &QuantityError{Text: text, Want: dim, Reason: reason, Say: fmt.Sprintf(format, args...)}
	}
	s, shown := strings.TrimSpace(text), legible.Quote(text)
	if s == "" {
		return fail(ErrEmpty, "is empty; it must be %s such as %q", dim.article(), examples[dim])
	}
	if notFinite(s) {
		return fail(ErrNotFinite, "%s is not a finite number", shown)
	}
	digits := LeadingNumber(s, ".")
	if digits == "" {
		return fail(ErrNotNumber, "%s does not begin with a number; it must be %s such as %q", shown, dim.article(), examples[dim])
	}
	value, err := strconv.ParseFloat(digits, 64)
	if err != nil || math.IsInf(value, 0) {
		return fail(ErrNotFinite, "%s is not a finite number", shown)
	}
	name := strings.Join(strings.Fields(simplifier.Replace(s[len(digits):])), " ")
	known := units[dim]
	if i := slices.IndexFunc(known, func(u Unit) bool { return u.Name == name }); i >= 0 {
		value = scale(value, known[i])
		if math.IsInf(value, 0) {
			return fail(ErrNotFinite, "%s is not a finite number", shown)
		}
		return value, nil
	}
	switch {
	case name == "" && len(known) > 0:
		return fail(ErrNoUnit, "%s has no unit; it must be %s such as %s", shown, dim.article(), legible.Quote(s+" "+known[0].Name))
	case name[0] == ',' || name[0] == '\'' || name[0] >= '0' && name[0] <= '9':
		return fail(ErrUnknownUnit, "%s: write the number with a decimal point and no thousands separators", shown)
	}
	if other, ok := dimensionOf(name); ok {
		return fail(ErrDimension, "%s is %s; it must be %s such as %q", shown, other.article(), dim.article(), examples[dim])
	}
	return fail(ErrUnknownUnit, "%s has the unknown unit %s; %s may be in %s", shown, legible.Quote(name), dim.article(), dim.Units())
}

// scale multiplies or, where the unit is a whole part, divides: "150 m/min" is
// then 2.5 to the last bit.
func scale(value float64, u Unit) float64 {
	if inverse := math.Round(1 / u.SI); u.SI < 1 && 1/inverse == u.SI {
		return value / inverse
	}
	return value * u.SI
}

// dimensionOf finds the first dimension, in a fixed order, that has the unit.
func dimensionOf(unit string) (Dimension, bool) {
	for _, dim := range []Dimension{Length, Speed, Acceleration, Time, Mass, Grammage, Torque, Force, Share, Years,
		MoneyPerYear, MoneyPerArea, MoneyPerMass, MoneyPerHour, MoneyPerMetre} {
		if slices.ContainsFunc(units[dim], func(u Unit) bool { return u.Name == unit }) {
			return dim, true
		}
	}
	return "", false
}

// Display is the unit in which people read a quantity of the dimension.
func Display(dim Dimension, system System) Unit {
	us := system == Imperial
	pick := func(metric, imperial Unit) Unit {
		if us {
			return imperial
		}
		return metric
	}
	switch dim {
	case Length:
		return pick(Unit{"m", 1}, Unit{"ft", foot})
	case Thickness:
		return pick(Unit{"mm", 1e-3}, Unit{"in", inch})
	case Speed:
		return pick(Unit{"m/min", 1 / minute}, Unit{"ft/min", foot / minute})
	case Acceleration:
		return pick(Unit{"m/s2", 1}, Unit{"ft/s2", foot})
	case Time:
		return Unit{"s", 1}
	case Mass:
		return pick(Unit{"kg", 1}, Unit{"lb", pound})
	case Grammage:
		return Unit{"g/m2", 1e-3}
	case Torque:
		return pick(Unit{"N m", 1}, Unit{"lbf ft", poundForce * foot})
	case Force:
		return pick(Unit{"N", 1}, Unit{"lbf", poundForce})
	case Share:
		return Unit{"%", 1e-2}
	case Frequency:
		return Unit{"/h", 1 / hour}
	case AreaRate:
		return pick(Unit{"m2/h", 1 / hour}, Unit{"ft2/h", foot * foot / hour})
	case MassRate:
		return pick(Unit{"kg/h", 1 / hour}, Unit{"lb/h", pound / hour})
	case ShareRate:
		return pick(Unit{"%/km", 1e-2 / 1e3}, Unit{"%/1000 ft", 1e-2 / (1000 * foot)})
	case MoneyPerArea:
		return pick(Unit{"/m2", 1}, Unit{"/ft2", 1 / (foot * foot)})
	case MoneyPerMass:
		return pick(Unit{"/kg", 1}, Unit{"/lb", 1 / pound})
	case MoneyPerMetre:
		return pick(Unit{"/m", 1}, Unit{"/ft", 1 / foot})
	}
	return Unit{string(units0(dim)), 1}
}

// units0 is the unit that a dimension without a choice of units is kept in.
func units0(dim Dimension) string {
	if list := units[dim]; len(list) > 0 {
		return list[0].Name
	}
	return ""
}

// DisplayTime is the unit of time, s, min or h, in which people read a time of
// about the given number of seconds.
func DisplayTime(seconds float64) Unit {
	switch s := math.Abs(seconds); {
	case s >= 3*hour:
		return Unit{"h", hour}
	case s >= 3*minute:
		return Unit{"min", minute}
	}
	return Unit{"s", 1}
}
