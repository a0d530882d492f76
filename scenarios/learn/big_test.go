package learn

import (
	"fmt"
	"math/rand/v2"
	"strings"
	"testing"
	"time"

	"rollchange/scenarios/cells"
	"rollchange/scenarios/records"
)

// bigLog is so many rows of so many causes, in minutes.
func bigLog(rows, causes int) string {
	var b strings.Builder
	b.WriteString("start;end;cause\n")
	r := rand.New(rand.NewPCG(1, 1))
	at := time.Date(2015, 1, 1, 0, 0, 0, 0, time.UTC)
	for range rows {
		at = at.Add(time.Duration(1+r.IntN(60)) * time.Minute)
		end := at.Add(time.Duration(4.5*r.ExpFloat64()+0.5) * time.Minute)
		fmt.Fprintf(&b, "%s;%s;cause %d\n", at.Format("02.01.2006 15:04"), end.Format("02.01.2006 15:04"), r.IntN(causes))
		at = end
	}
	return b.String()
}

// A log of 100,000 rows, read and fitted: without bootstrap (one draw a law), with it,
// and with a cause in ten rows. User CPU a log: below 1, 2 and 2 s.
func BenchmarkBigLog(b *testing.B) {
	for _, x := range []struct {
		name          string
		causes, draws int
	}{{"read-and-fit", 40, 1}, {"bootstrap", 40, 0}, {"ten-thousand-causes", 10000, 0}} {
		text := bigLog(100_000, x.causes)
		b.Run(x.name, func(b *testing.B) {
			for range b.N {
				t, err := cells.Read("log.csv", []byte(text))
				if err != nil {
					b.Fatal(err)
				}
				log, err := records.Read(t, records.Options{})
				if err != nil {
					b.Fatal(err)
				}
				if _, err = Of(log, Options{Seed: 1, Confidence: 0.95, Draws: x.draws}); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}
