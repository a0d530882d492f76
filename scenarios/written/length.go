package written

// lengthUnits are the units of web, in m.
var lengthUnits = map[string]float64{"m": 1, "metre": 1, "metres": 1, "meter": 1, "meters": 1, "km": 1000, "kilometre": 1000, "kilometres": 1000,
	"kilometer": 1000, "kilometers": 1000, "ft": 0.3048, "feet": 0.3048, "foot": 0.3048, "yd": 0.9144, "yards": 0.9144}

// LengthUnit is a unit of web in m, by a word as Fold writes it; 0: it is none.
func LengthUnit(word string) float64 { return lengthUnits[word] }
