package learn

import (
	"fmt"
	"math"
	"math/rand/v2"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"

	"rollchange/scenarios/records"
	"rollchange/sim/effort"
)

// A rate that is one is said to change by shift, weekday or month as often as Speaks says,
// 1 in 100 of each test; one that is four times as high in one shift, or on one day, always.
func TestRatesThatChangeAreSaid(t *testing.T) {
	logs := effort.Of(15, 100, 1500)
	r := rand.New(rand.NewPCG(5, 1))
	said := func(rate func(at time.Time) float64) (shift, weekday, month bool) {
		var b strings.Builder
		b.WriteString("start,minutes,cause\n")
		begin := time.Date(2026, 1, 5, 6, 0, 0, 0, time.UTC)
		for at := begin; at.Before(begin.AddDate(0, 0, 84)); { // twelve weeks, thinned to the rate
			at = at.Add(time.Duration(4*3600*r.ExpFloat64()) * time.Second)
			if 4*r.Float64() < rate(at) {
				fmt.Fprintf(&b, "%s,5,jam\n", at.Format("2006-01-02 15:04"))
				at = at.Add(5 * time.Minute)
			}
		}
		c := lineOf(t, b.String(), Options{Seed: 1, Draws: 1}, records.Options{}).Causes[0].Calendar
		return Changes(c.Shift), Changes(c.Weekday), Changes(c.Month)
	}
	alarms := 0.0
	for range logs {
		a, b, c := said(func(time.Time) float64 { return 1 })
		for _, x := range []bool{a, b, c} {
			if x {
				alarms++
			}
		}
	}
	tests := 3 * float64(logs)
	assert.InDelta(t, Speaks, alarms/tests, 4.5*math.Sqrt(Speaks/tests)+0.002, "false alarm below 1e-4")
	t.Logf("%.3f of %g tests", alarms/tests, tests)
	night, _, _ := said(func(at time.Time) float64 {
		if at.Hour() >= 22 || at.Hour() < 6 {
			return 4
		}
		return 1
	})
	assert.True(t, night, "by shift")
	_, monday, _ := said(func(at time.Time) float64 {
		if at.Weekday() == time.Monday {
			return 4
		}
		return 1
	})
	assert.True(t, monday, "by weekday")
	_, _, march := said(func(at time.Time) float64 {
		if at.Month() == time.March {
			return 4
		}
		return 1
	})
	assert.True(t, march, "by month")
}
