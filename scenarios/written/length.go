package written

import "strings"

// lengthUnits are the units of web, in m: the foot is 0.3048 m and the yard 3 feet
// by definition (NIST Special Publication 811, appendix B). Running metres have
// names of their own in German, French, Italian and Spanish, Polish: common
// practice, no source.
var lengthUnits = func() map[string]float64 {
	m := map[string]float64{}
	for unit, names := range map[float64]string{
		1:      "m metre metres meter meters mtr mtrs metro metros metri metrow metry lm lfm ml mb laufmeter laufmetern lopmeter",
		1000:   "km kilometre kilometres kilometer kilometers kilometros chilometri kilometrow",
		0.3048: "ft feet foot",
		0.9144: "yd yds yard yards",
	} {
		for name := range strings.FieldsSeq(names) {
			m[name] = unit
		}
	}
	return m
}()

// LengthUnit is a unit of web in m, by a word as Fold writes it; 0: it is none.
func LengthUnit(word string) float64 { return lengthUnits[word] }
