package words

import (
	"math"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// Both sides of each boundary of how a number is written: by hand.
func TestNumbersAreWritten(t *testing.T) {
	for _, c := range []struct {
		x    float64
		d    int
		want string
	}{
		{9999, 0, "9999"}, {10000, 0, "10,000"}, {-9999, 0, "−9999"}, {-10000, 0, "−10,000"}, {9999.4, 0, "9999"}, {9999.5, 0, "10,000"},
		{9999.94, 1, "9999.9"}, {9999.95, 1, "10,000.0"}, {1234567.891, 2, "1,234,567.89"}, {123456, -3, "123,000"}, {9960, -2, "10,000"}, {9940, -2, "9900"},
		{0, 3, "0.000"}, {-0.0004, 3, "0.000"}, {-0.0006, 3, "−0.001"}, {math.Copysign(0, -1), 0, "0"},
		{1e-4, 7, "0.0001000"}, {9.9e-5, 7, "9.90e-5"}, {3.1e-8, 9, "3.1e-8"}, {1e-9, 3, "0.000"},
		{99.9997, 3, "100.000"}, {99.9997, 4, "99.9997"}, {math.NaN(), 2, "–"}, {math.Inf(1), 2, "Inf"}, {math.Inf(-1), 2, "−Inf"},
	} {
		assert.Equal(t, c.want, number(c.x, c.d), "%g to %d", c.x, c.d)
	}
	for _, c := range []struct {
		x    float64
		n    int
		want string
	}{
		{9999, 4, "9999"}, {10000, 4, "10,000"}, {12345.6, 4, "12,346"}, {9999.6, 4, "10,000"}, {1234.5, 3, "1234"}, {12.345, 3, "12.3"}, {0.5, 3, "0.5"},
		{90e6, 6, "90,000,000"}, {0, 4, "0"}, {math.Copysign(0, -1), 4, "0"}, {-12345, 3, "−12,345"}, {1e-5, 4, "1e-5"}, {1e15, 4, "1e15"}, {9.99e14, 4, "999,000,000,000,000"},
		{99.9997, 3, "100"}, {99.9997, 6, "99.9997"}, {math.NaN(), 3, "–"},
	} {
		assert.Equal(t, c.want, Short(c.x, c.n), "%g to %d", c.x, c.n)
	}
	for x, want := range map[float64]string{9994: "9990", 9995: "10,000", 12345: "12,300", 0.012345: "0.0123", 0: "0", -123456: "−123,000"} {
		assert.Equal(t, want, Estimate(x))
	}
	for x, want := range map[float64]string{999: "999", 1000: "1,000", -1000: "−1,000", 0.4: "0", -0.4: "0", 1e6: "1,000,000"} {
		assert.Equal(t, want, Grouped(x))
	}
}

// What stands together has commas all of it or none.
func TestWhatStandsTogetherIsWrittenAlike(t *testing.T) {
	assert.Equal(t, []string{"10,000", "9,800", "10,200"}, aligned(0, 10000, 9800, 10200))
	assert.Equal(t, []string{"9998", "9800", "9999"}, aligned(0, 9998, 9800, 9999))
	assert.Equal(t, []string{"3.10e-8", "0.12e-8", "0.00e-8"}, aligned(10, 3.1e-8, 1.2e-9, 0))
	assert.Equal(t, "9,500 – 10,500 kg", Between(9500, 10500, "kg", "metric"))
	assert.Equal(t, "5400 – 6600 h", Between(5400*3600, 6600*3600, "s", "metric"))
}

// Of what a scenario gives, numbers get commas; what only holds digits does not.
func TestGivenValuesAreWritten(t *testing.T) {
	for text, want := range map[string]string{
		"90000000 ft": "90,000,000 ft", "9999 m": "9999 m", "10000 m": "10,000 m", "12345.678901 m": "12,345.678901 m", "0.1234567": "0.1234567", "-20000": "−20,000",
		"normal, mean 90000000 ft, sd 1000 ft": "normal, mean 90,000,000 ft, sd 1000 ft", "A12345": "A12345", "12345-7": "12345-7", "2026-11-25 120000": "2026-11-25 120,000", "": "",
		"90,000 ft": "90,000 ft", "1e10 m": "10,000,000,000 m", "mean 4.787e+04 m": "mean 47,870 m", "1e20": "1e20", "1e-5 m": "1e-5 m", "5e3 m": "5e3 m", "12345.67.8": "12345.67.8", "45000 EUR/year": "45,000 EUR/year",
	} {
		assert.Equal(t, want, Written(text))
	}
	for text, is := range map[string]bool{"90000000 ft": true, "-5 %": true, "12": true, "Recipe 12345": false, "12345 wide label": false, "": false, "uniform, min 1": false} {
		assert.Equal(t, is, IsQuantity(text), text)
	}
}

// A number for a person is written here: no table, picture or page chooses its digits by
// itself. The lengths of an SVG are for a program.
func TestNumbersForPeopleAreWrittenInOnePlace(t *testing.T) {
	byHand := regexp.MustCompile(`%\.\d[ge][^p]|FormatFloat\([^\n]*'[ge]'`)
	read := 0
	for _, room := range []string{"table", "picture", "report"} {
		files, err := filepath.Glob(filepath.Join("..", room, "*.go"))
		require.NoError(t, err)
		for _, f := range files {
			if strings.HasSuffix(f, "_test.go") {
				continue
			}
			text, err := os.ReadFile(f)
			require.NoError(t, err)
			read++
			assert.Empty(t, byHand.FindAllString(string(text), -1), f)
		}
	}
	assert.Greater(t, read, 50)
	assert.NotEmpty(t, byHand.FindString(`fmt.Sprintf("%.4g %s", x, u.Name)`))
	assert.NotEmpty(t, byHand.FindString(`strconv.FormatFloat(x, 'g', 4, 64)`))
}
