package model

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// Exact factors: NIST Special Publication 811 (2008 edition), appendix B.8:
// inch 0.0254 m, foot 0.3048 m, mil 25.4e-6 m, pound (avoirdupois)
// 0.45359237 kg, pound-force 4.4482216152605 N. The others are products.
func TestQuantitiesInExactUnits(t *testing.T) {
	for _, c := range []struct {
		text string
		dim  Dimension
		want float64
	}{
		{"1 in", Length, 0.0254},
		{"1 ft", Length, 0.3048},
		{"1 mil", Length, 25.4e-6},
		{"1 km", Length, 1000},
		{"60 µm", Length, 60e-6}, // micro sign
		{"60 μm", Length, 60e-6}, // Greek mu
		{"127 um", Length, 127e-6},
		{"150 m/min", Speed, 2.5},
		{"492.125984251968 ft/min", Speed, 2.5},
		{"9000 m/h", Speed, 2.5},
		{"1 ft/s", Speed, 0.3048},
		{"0.5 m/s2", Acceleration, 0.5},
		{"0.5 m/s^2", Acceleration, 0.5},
		{"0.5 m/s²", Acceleration, 0.5},
		{"1 ft/s2", Acceleration, 0.3048},
		{"4 min", Time, 240},
		{"30 d", Time, 30 * 86400},
		{"1 lb", Mass, 0.45359237},
		{"80 g/m2", Grammage, 0.08},
		{"2.5 kg/m2", Grammage, 2.5},
		{"1 lb/ft2", Grammage, 0.45359237 / (0.3048 * 0.3048)},
		{"1 lbf ft", Torque, 4.4482216152605 * 0.3048},
		{"400 N·m", Torque, 400},
		{"1 lbf", Force, 4.4482216152605},
		{"3 %", Share, 0.03},
		{"100%", Share, 1},
		{"10 years", Years, 10},
		{"0.45 /ft2", MoneyPerArea, 0.45 / (0.3048 * 0.3048)},
		{" -5 m ", Length, -5},
	} {
		got, err := ParseQuantity(c.text, c.dim)
		if assert.NoError(t, err, c.text) {
			assert.InEpsilon(t, c.want, got, 1e-14, c.text)
		}
	}
	zero, err := ParseQuantity("0 m", Length)
	require.NoError(t, err)
	assert.Zero(t, zero)
}

// A speed by the minute and a share come out to the last bit, so that a
// scenario in either unit runs alike.
func TestWholePartsAreExact(t *testing.T) {
	v, err := ParseQuantity("225 m/min", Speed)
	require.NoError(t, err)
	assert.Equal(t, 3.75, v)
	v, err = ParseQuantity("95 %", Share)
	require.NoError(t, err)
	assert.Equal(t, 0.95, v)
}

func TestBadQuantities(t *testing.T) {
	for _, c := range []struct {
		text   string
		dim    Dimension
		reason error
		say    string
	}{
		{"", Length, ErrEmpty, `is empty; it must be a length such as "500 m"`},
		{"8", Time, ErrNoUnit, `"8" has no unit; it must be a time such as "8 s"`},
		{"0", Length, ErrNoUnit, `"0" has no unit; it must be a length such as "0 m"`},
		{"8 m", Time, ErrDimension, `"8 m" is a length; it must be a time such as "90 s"; write "8 min"`},
		{"150 m/s2", Speed, ErrDimension, `"150 m/s2" is a acceleration; it must be a speed such as "150 m/min"; write "150 m/min"`},
		{"3 furlong", Length, ErrUnknownUnit, `"3 furlong" has the unknown unit "furlong"; a length may be in m, um, mm, cm, km, mil, in, ft`},
		{"1,5 m", Length, ErrUnknownUnit, `"1,5 m": write the number with a decimal point and no thousands separators; write "1.5 m"`},
		{"10 000 m", Length, ErrUnknownUnit, `"10 000 m": write the number with a decimal point and no thousands separators; write "10000 m"`},
		{"NaN s", Time, ErrNotFinite, `"NaN s" is not a finite number`},
		{"-inf s", Time, ErrNotFinite, `"-inf s" is not a finite number`},
		{"1e999 s", Time, ErrNotFinite, `"1e999 s" is not a finite number`},
		{"1e308 km", Length, ErrNotFinite, `"1e308 km" is not a finite number`},
		{"fast", Speed, ErrNotNumber, `"fast" does not begin with a number; it must be a speed such as "150 m/min"`},
	} {
		_, err := ParseQuantity(c.text, c.dim)
		require.ErrorIs(t, err, c.reason, c.text)
		if c.reason != ErrDimension || c.dim == Time {
			assert.EqualError(t, err, c.say)
		}
		var q *QuantityError
		require.ErrorAs(t, err, &q)
		assert.Equal(t, c.dim, q.Want)
	}
}

// Every unit that may be written is read, and every example is valid.
func TestUnitsAndExamplesAreRead(t *testing.T) {
	for dim, list := range units {
		for _, u := range list {
			v, err := ParseQuantity("1 "+u.Name, dim)
			require.NoError(t, err, "%s %s", dim, u.Name)
			assert.InEpsilon(t, u.SI, v, 1e-15)
		}
		_, err := ParseQuantity(examples[dim], dim)
		require.NoError(t, err, dim)
	}
}

// What is shown in a unit for people reads back as what it was.
func TestDisplayReadsBack(t *testing.T) {
	for _, system := range []System{Metric, Imperial} {
		for _, dim := range []Dimension{Length, Speed, Acceleration, Time, Mass, Torque, Force, Share} {
			u := Display(dim, system)
			back, err := ParseQuantity("7 "+u.Name, dim)
			require.NoError(t, err)
			assert.InEpsilon(t, 7.0, u.From(back), 1e-14, "%s %s", dim, system)
		}
	}
	// 1 lb/h = 0.45359237 kg / 3600 s.
	assert.InEpsilon(t, 1.0, Display(MassRate, Imperial).From(0.45359237/3600), 1e-14)
	assert.Equal(t, "min", DisplayTime(600).Name)
}

func FuzzQuantity(f *testing.F) {
	for _, s := range []string{"150 m/min", "3 %", "-1e-3 m", "", "1e999 s", "µ", "5", "N m", "1 lbf ft"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		for dim := range units {
			v, err := ParseQuantity(s, dim)
			if err == nil && (math.IsNaN(v) || math.IsInf(v, 0)) {
				t.Fatalf("%q as %s is %v", s, dim, v)
			}
		}
	})
}
