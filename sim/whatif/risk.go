package whatif

import (
	"fmt"
	"strconv"
	"strings"

	"rollchange/model"
)

// Year is the planned time of a year of a line, s: its hours_per_year, or the
// calendar's 8760 h when that is not given.
func Year(l *model.Line) float64 {
	if h := l.Economics.HoursPerYear; h.Given() {
		return h.Mean()
	}
	return 8760 * 3600
}

// Risk is how often a storage may be used up: a chance of each change, or a
// number in a time of running.
type Risk struct {
	Share float64 // of the changes; 0 when Rate is given
	Rate  float64 // 1/s
	Text  string  // as it was asked for
}

// periods are the times that a risk can be counted in, s; a year is the line's.
var periods = map[string]float64{"hour": 3600, "h": 3600, "shift": 8 * 3600, "day": 86400, "d": 86400, "week": 7 * 86400, "month": 30 * 86400}

// ParseRisk reads "1e-4" or "0.01 %" of the changes, or "1 per year" of so many
// seconds; also per month, week, day, shift (8 h) and hour.
func ParseRisk(s string, year float64) (Risk, error) {
	r := Risk{Text: strings.TrimSpace(s)}
	bad := func(what string) (Risk, error) { return r, fmt.Errorf("%q: %s", s, what) }
	number, period, timed := strings.Cut(r.Text, "per ")
	if timed {
		n, err := strconv.ParseFloat(strings.TrimSpace(number), 64)
		seconds, ok := periods[strings.TrimSpace(period)]
		if strings.TrimSpace(period) == "year" {
			seconds, ok = year, true
		}
		switch {
		case err != nil || !ok:
			return bad("write a chance for each change, as in 1e-4, or a number in a period, such as \"1 per year\" (month, week, day, shift, hour)")
		case !(n > 0):
			return bad("a risk must be above 0: no storage makes depletion impossible")
		case n > 1e9:
			return bad("that is not a limit: write 1e9 at most")
		}
		r.Rate = n / seconds
		return r, nil
	}
	x, err := strconv.ParseFloat(r.Text, 64)
	if err != nil {
		x, err = model.ParseQuantity(r.Text, model.Share)
	}
	switch {
	case err != nil:
		return bad("write a chance for each change, as in 1e-4, or a number in a period, such as \"1 per year\" (month, week, day, shift, hour)")
	case !(x > 0):
		return bad("a risk must be above 0: no storage makes depletion impossible")
	case x >= 1:
		return bad("a chance for each change must be below 1")
	}
	r.Share = x
	return r, nil
}
