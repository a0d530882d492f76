package words

import (
	"fmt"
	"math"

	"rollchange/model"
)

// Duration is a time for people: "30 d", "7.96 h".
func Duration(seconds float64) string {
	for _, u := range []model.Unit{{Name: "d", SI: 86400}, {Name: "h", SI: 3600}, {Name: "min", SI: 60}} {
		if seconds >= 2*u.SI || seconds == u.SI {
			return Short(u.From(seconds), 4) + " " + u.Name
		}
	}
	return Short(seconds, 4) + " s"
}

// Clock is a time of the simulation as h:min:s.
func Clock(t float64) string {
	t = math.Round(1000*t) / 1000
	h := math.Floor(t / 3600)
	m := math.Floor((t - h*3600) / 60)
	return fmt.Sprintf("%d:%02d:%06.3f", int(h), int(m), t-h*3600-m*60)
}
