package model

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// What people write and what it means, number and all. Factors are exact, as
// named in spelling.go; an ounce by the square yard is 28.349523125 g in
// 0.83612736 m2.
func TestSuggestionsTakeTheNumberThatWasWritten(t *testing.T) {
	for _, c := range []struct {
		dim  Dimension
		text string
		want string
	}{
		{Grammage, "15 gsm", "15 g/m2"}, {Grammage, "15gsm", "15 g/m2"}, {Grammage, "80 GSM", "80 g/m2"}, {Grammage, "0.08 kg/sqm", "0.08 kg/m2"}, {Grammage, "2 oz/yd2", "67.811494949765 g/m2"},
		{Speed, "300 mpm", "300 m/min"}, {Speed, "300 M/MIN", "300 m/min"}, {Speed, "300 m/mn", "300 m/min"}, {Speed, "300 metres per minute", "300 m/min"}, {Speed, "500 fpm", "500 ft/min"},
		{Speed, "500 feet/minute", "500 ft/min"}, {Speed, "2 m/sec", "2 m/s"}, {Speed, "500 mm/s", "30 m/min"}, {Speed, "18 km/h", "300 m/min"}, {Speed, "100 yd/min", "91.44 m/min"}, {Speed, "150 m", "150 m/min"},
		{Length, "20 microns", "20 um"}, {Length, "20 µ", "20 um"}, {Length, "2 mils", "2 mil"}, {Length, "13 inches", "13 in"}, {Length, "13\"", "13 in"}, {Length, "1500 feet", "1500 ft"}, {Length, "1500'", "1500 ft"},
		{Length, "2 yd", "6 ft"}, {Length, "1,5 m", "1.5 m"}, {Length, "1 500 m", "1500 m"}, {Length, "1.234,5 m", "1234.5 m"}, {Length, "1,234.5 m", "1234.5 m"}, {Length, "1,234 m", "1.234 m or 1234 m"},
		{Length, "12.345.678 m", "12345678 m"}, {Length, "13 Metres", "13 m"},
		{Time, "90 sec", "90 s"}, {Time, "90 secs", "90 s"}, {Time, "5 mins", "5 min"}, {Time, "5 Min.", "5 min"}, {Time, "8 m", "8 min"}, {Time, "2 hrs", "2 h"}, {Time, "500 ms", "0.5 s"}, {Time, "2 weeks", "14 d"}, {Time, "3 days", "3 d"},
		{Mass, "50 lbs", "50 lb"}, {Mass, "800 kgs", "800 kg"}, {Mass, "1.2 t", "1200 kg"}, {Mass, "8 oz", "0.5 lb"},
		{Share, "3 percent", "3 %"}, {Share, "3 per cent", "3 %"}, {Share, "3 pct", "3 %"}, {Share, "5 ‰", "0.5 %"},
		{Acceleration, "0.5 m/s/s", "0.5 m/s2"}, {Acceleration, "0.1 g", "0.980665 m/s2"}, {Torque, "400 NM", "400 N m"}, {Torque, "30 ft-lb", "30 lbf ft"}, {Force, "5 newtons", "5 N"},
		{Years, "10 yrs", "10 years"}, {Years, "6 months", "0.5 years"},
		{MoneyPerArea, "0.45 EUR/m2", "0.45 /m2"}, {MoneyPerHour, "35 $/hr", "35 /h"}, {MoneyPerYear, "5000 per year", "5000 /year"}, {MoneyPerMass, "0.1 € per kg", "0.1 /kg"},
		{Length, "-5 m", "5 m"}, {Length, "7", "7 m"}, {Length, "3 furlong", ""}, {Length, "fast", ""}, {Length, "", ""}, {Length, "1e999 m", ""}, {Length, ", m", ""},
	} {
		_, usual, _ := strings.Cut(examples[c.dim], " ")
		list := Suggest(c.text, c.dim, usual, false)
		assert.Equal(t, c.want, strings.Join(list, " or "), "%s as %s", c.text, c.dim)
		for _, s := range list {
			_, err := ParseQuantity(s, c.dim)
			require.NoError(t, err, "what is proposed is right")
		}
	}
}

// Every spelling stands for a unit that is read, and is read by no name of its own.
func TestSpellingsStandForUnits(t *testing.T) {
	for dim, ways := range spellings {
		for way, m := range ways {
			_, ok := UnitOf(m.unit, dim)
			assert.True(t, ok, "%s: %s", dim, m.unit)
			if _, known := UnitOf(way, dim); known {
				u, _ := UnitOf(way, dim)
				assert.Equal(t, m.unit, u.Name)
			}
			assert.Equal(t, strings.ToLower(way), way)
		}
	}
}

func FuzzSuggest(f *testing.F) {
	for _, s := range []string{"15 gsm", "1,234 m", "1.234,5 m", "'", "-0", "1e308 km/h", "1 m/m/m"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		for dim := range units {
			_, usual, _ := strings.Cut(examples[dim], " ")
			for _, proposed := range Suggest(s, dim, usual, false) {
				if dim.Plain() {
					continue
				}
				if v, err := ParseQuantity(proposed, dim); err != nil || v < 0 {
					t.Fatalf("%q as %s: proposed %q, %v %v", s, dim, proposed, v, err)
				}
			}
		}
	})
}
