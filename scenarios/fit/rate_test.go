package fit

import (
	"math"
	"math/rand/v2"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"rollchange/sim/effort"
)

// Limits of a Poisson mean, 95 %, as Pearson and Hartley, Biometrika Tables for
// Statisticians I, table 40, print them (from memory).
func TestLimitsOfARate(t *testing.T) {
	for k, want := range map[int][2]float64{0: {0, 3.69}, 1: {0.0253, 5.57}, 2: {0.242, 7.22}, 5: {1.62, 11.67}, 10: {4.80, 18.39}, 30: {20.24, 42.83}} {
		r := Rate(k, 1, 0.95)
		assert.InDelta(t, want[0], r.Low, 0.006, "%d", k)
		assert.InDelta(t, want[1], r.High, 0.006, "%d", k)
		long := Rate(k, 1000, 0.95)
		assert.InDelta(t, r.High/1000, long.High, 1e-12)
		assert.Equal(t, float64(k)/1000, long.Mean)
	}
	assert.InEpsilon(t, -math.Log(0.025), Rate(0, 1, 0.95).High, 1e-12)
	// The limits are those at which so many or more, so few or fewer, have 2.5 %.
	r := Rate(3, 1, 0.95)
	few := func(m float64) float64 { return math.Exp(-m) * (1 + m + m*m/2 + m*m*m/6) }
	assert.InEpsilon(t, 0.025, few(r.High), 1e-9)
	assert.InEpsilon(t, 0.025, 1-math.Exp(-r.Low)*(1+r.Low+r.Low*r.Low/2), 1e-9)
}

// Two degrees of freedom have the closed tail exp(-x/2); of few events the chance is
// that of the binomial law.
func TestEvenRates(t *testing.T) {
	e := Even([]int{10, 20, 30}, []float64{5, 5, 5}, 0.95, 1)
	assert.InEpsilon(t, 10, e.Chi2, 1e-12)
	assert.InEpsilon(t, math.Exp(-5), e.P, 1e-9)
	assert.Equal(t, []float64{2, 4, 6}, []float64{e.Rates[0].Mean, e.Rates[1].Mean, e.Rates[2].Mean})
	e = Even([]int{10, 20, 30}, []float64{1, 2, 3}, 0.95, 1)
	assert.InDelta(t, 0, e.Chi2, 1e-12)
	assert.InDelta(t, 1, e.P, 1e-12)

	e = Even([]int{3, 0, 0}, []float64{1, 1, 0}, 0.95, 1) // nobody works in the third
	assert.InEpsilon(t, 3, e.Chi2, 1e-12)
	assert.InEpsilon(t, 0.25, e.P, 5*math.Sqrt(0.75/100), "two of eight orders, counted until 100 were; false alarm 6e-7")
	assert.Equal(t, e.P, Even([]int{3, 0, 0}, []float64{1, 1, 0}, 0.95, 1).P)
	assert.True(t, math.IsNaN(e.Rates[2].Mean) && e.Rates[2].Low == 0 && math.IsInf(e.Rates[2].High, 1))
	for _, none := range []Evenness{Even([]int{5}, []float64{1}, 0.95, 1), Even([]int{0, 0}, []float64{1, 1}, 0.95, 1), Even([]int{5, 0}, []float64{1, 0}, 0.95, 1)} {
		assert.True(t, math.IsNaN(none.P))
	}
}

func TestEvenRatesAreRefusedAsOftenAsSaid(t *testing.T) {
	tries := effort.Of(1000, 4000, 20000)
	r := rand.New(rand.NewPCG(3, 1))
	refused, found := 0.0, 0.0
	for range tries {
		even, odd := make([]int, 3), make([]int, 3)
		for range 60 {
			even[[]int{0, 0, 1, 2}[r.IntN(4)]]++
			odd[[]int{0, 1, 1, 2}[r.IntN(4)]]++
		}
		if Even(even, []float64{2, 1, 1}, 0.95, 1).P < 0.05 {
			refused++
		}
		if Even(odd, []float64{2, 1, 1}, 0.95, 1).P < 0.05 {
			found++
		}
	}
	assert.InDelta(t, 0.05, refused/float64(tries), 4.5*math.Sqrt(0.05*0.95/float64(tries))+0.01, "false alarm 7e-6, and what the chi-square law is off by")
	assert.Greater(t, found/float64(tries), 0.9)
}

func TestRatesByCalendar(t *testing.T) {
	day := func(d, h, m int) time.Time { return time.Date(2026, time.March, d, h, m, 0, 0, time.UTC) }
	// Sunday 1 March; shifts from 6, 14 and 22 h. Monday 5 h to Tuesday 15 h, and Saturday 28
	// March 12 h to Sunday 1 h.
	periods := []Period{{day(2, 5, 0), day(3, 15, 0)}, {day(28, 12, 0), day(29, 1, 0)}}
	c := Calendar{Shift: 8 * time.Hour, Begins: 6 * time.Hour}
	events := []time.Time{day(2, 5, 30), day(2, 6, 0), day(2, 23, 0), day(3, 2, 0), day(3, 14, 59), day(3, 15, 0), day(28, 22, 0), day(29, 0, 30), day(10, 0, 0)}
	by := c.Over(periods).By(events, 0.95, 1)
	type group struct {
		n     int
		hours float64
	}
	groups := func(e Evenness) (list []group) {
		for _, r := range e.Rates {
			list = append(list, group{r.Events, r.Exposure / 3600})
		}
		return list
	}
	assert.Equal(t, []group{{1, 8 + 8 + 2}, {1, 8 + 1 + 8}, {5, 1 + 8 + 3}}, groups(by.Shift), "the last minute of a period is in it, its end is not")
	assert.Equal(t, []group{{1, 1}, {3, 19}, {2, 15}, {0, 0}, {0, 0}, {0, 0}, {1, 12}}, groups(by.Weekday))
	assert.Equal(t, group{7, 47}, groups(by.Month)[2])
	assert.True(t, math.IsNaN(by.Month.P), "one month has nothing to be compared with")
	assert.False(t, math.IsNaN(by.Weekday.P))
	none := Calendar{}.Over(periods).By(events, 0.95, 1)
	assert.Equal(t, []group{{7, 47}}, groups(none.Shift))
	assert.Equal(t, groups(by.Weekday), groups(none.Weekday))
}

// All the time of the periods falls into a group, also where clocks are changed.
func TestCalendarLosesNoTime(t *testing.T) {
	place, err := time.LoadLocation("Europe/Berlin")
	require.NoError(t, err)
	r := rand.New(rand.NewPCG(1, 1))
	for range 200 {
		from := time.Date(2026, time.Month(1+r.IntN(12)), 1+r.IntN(28), r.IntN(24), r.IntN(60), 0, 0, place)
		p := Period{from, from.Add(time.Duration(r.IntN(2000)) * time.Hour)}
		c := Calendar{Shift: []time.Duration{0, 6, 8, 12, 24}[r.IntN(5)] * time.Hour}
		if c.Shift > 0 {
			c.Begins = time.Duration(r.Int64N(int64(c.Shift)))
		}
		by := c.Over([]Period{p}).By(nil, 0.95, 1)
		for _, e := range []Evenness{by.Shift, by.Weekday, by.Month} {
			sum := 0.0
			for _, g := range e.Rates {
				sum += g.Exposure
			}
			assert.InDelta(t, p.To.Sub(p.From).Seconds(), sum, 1e-6, "%v %v", c, p)
		}
	}
	// A Sunday with 23 hours, when the clock is put on.
	sunday := Period{time.Date(2026, 3, 29, 0, 0, 0, 0, place), time.Date(2026, 3, 30, 0, 0, 0, 0, place)}
	by := Calendar{Shift: 8 * time.Hour}.Over([]Period{sunday}).By(nil, 0.95, 1)
	assert.Equal(t, []float64{7 * 3600, 8 * 3600, 8 * 3600}, []float64{by.Shift.Rates[0].Exposure, by.Shift.Rates[1].Exposure, by.Shift.Rates[2].Exposure})
}

// Where the clock is put forward at midnight, or over the begin of a shift, a day and a
// shift begin when it goes on. In Santiago 2 September 2023 is followed by 01:00 of the
// third; in New York 8 March 2026 has no time from 02:00 to 03:00.
func TestCalendarWhereAnHourIsNot(t *testing.T) {
	hours := func(zone string, y int, m time.Month, d, days int, c Calendar) (shifts []float64, weekday [7]float64) {
		place, err := time.LoadLocation(zone)
		require.NoError(t, err)
		from := time.Date(y, m, d, 12, 0, 0, 0, place)
		by := c.Over([]Period{{from, from.AddDate(0, 0, days)}}).By(nil, 0.95, 1)
		for _, r := range by.Shift.Rates {
			shifts = append(shifts, r.Exposure/3600)
		}
		for i, r := range by.Weekday.Rates {
			weekday[i] = r.Exposure / 3600
		}
		return shifts, weekday
	}
	eight := Calendar{Shift: 8 * time.Hour}
	shifts, weekday := hours("America/Santiago", 2023, time.September, 2, 2, eight) // from Saturday noon to Monday noon
	assert.Equal(t, []float64{7 + 8, 4 + 8 + 4, 8 + 8}, shifts)
	assert.Equal(t, [7]float64{23, 12, 0, 0, 0, 0, 12}, weekday)
	_, weekday = hours("America/Santiago", 2023, time.September, 2, 2, Calendar{})
	assert.Equal(t, [7]float64{23, 12, 0, 0, 0, 0, 12}, weekday)
	// Shifts from 2, 10 and 18 h: that from 2 h has one hour less.
	shifts, weekday = hours("America/New_York", 2026, time.March, 7, 2, Calendar{Shift: 8 * time.Hour, Begins: 2 * time.Hour})
	assert.Equal(t, []float64{7 + 8, 6 + 8 + 2, 8 + 8}, shifts)
	assert.Equal(t, [7]float64{23, 12, 0, 0, 0, 0, 12}, weekday)
}
