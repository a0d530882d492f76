// Package invented makes stop logs for tests: what happened is known, and it is
// written down in the ways in which people do. No row of it is of a real line.
package invented

import (
	"math"
	"math/rand/v2"
	"time"
)

// Cause is a cause of stops and what is true of it.
type Cause struct {
	Text   string
	Every  float64 // s of running time between stops, exponential
	Lasts  float64 // s, the mean of a lognormal duration
	Spread float64 // coefficient of variation of it
}

// Causes are those of the logs that Of makes.
func Causes() []Cause {
	return []Cause{
		{"Web break", 5 * 3600, 540, 0.8},
		{"Roll change", 1.2 * 3600, 170, 0.3},
		{"Changeover", 7 * 3600, 1500, 0.5},
		{"Print register", 9 * 3600, 260, 1},
		{"Knife jam", 16 * 3600, 700, 1.2},
	}
}

// Stop is a stop as it happened, to the second.
type Stop struct {
	Start, End time.Time
	Cause      string
	Line       string
	Note       string
	Open       bool // nobody wrote down its end
}

// Of is what happened on a line from a moment on: so many stops, one after the
// other. The same seed gives the same log.
func Of(seed uint64, stops int, from time.Time, line string) []Stop {
	r := rand.New(rand.NewPCG(seed, 7))
	causes := Causes()
	rate := 0.0
	for _, c := range causes {
		rate += 1 / c.Every
	}
	notes := []string{"", "", "", "", "tail stuck at the turret", "seal; worn, ordered", "waited for the \"other\" core"}
	var out []Stop
	at := from
	for range stops {
		at = at.Add(time.Duration(max(1, math.Round(r.ExpFloat64()/rate))) * time.Second)
		pick := r.Float64() * rate
		k := 0
		for ; k < len(causes)-1 && pick > 1/causes[k].Every; k++ {
			pick -= 1 / causes[k].Every
		}
		c := causes[k]
		s := math.Sqrt(math.Log(1 + c.Spread*c.Spread))
		lasts := c.Lasts * math.Exp(s*r.NormFloat64()-s*s/2)
		end := at.Add(time.Duration(max(1, math.Round(lasts))) * time.Second)
		out = append(out, Stop{Start: at, End: end, Cause: c.Text, Line: line, Note: notes[r.IntN(len(notes))]})
		at = end
	}
	return out
}
