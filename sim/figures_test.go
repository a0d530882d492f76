package sim_test

import (
	"regexp"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"

	"rollchange/scenarios/random"
	"rollchange/sim"
)

var ofAStop = regexp.MustCompile(`\.stop\..*`)

// Every figure that a line can have is above 0 on some random line, so that the
// laws are tried where it counts.
func TestEveryFigureIsSeen(t *testing.T) {
	seen := map[string]bool{} // false: it applies, but was 0
	for seed := range uint64(3000) {
		_, parsed, err := random.Draw(seed)
		if err != nil || random.Events(&parsed.Study) > 5000 {
			continue
		}
		r, err := simulate(&parsed.Study, sim.Options{})
		if err != nil {
			continue // TestRandomLines is about those
		}
		for _, o := range sim.OutlinesOf(&parsed.Study) {
			for _, m := range o.Metrics {
				n := ofAStop.ReplaceAllString(m.Name, ".stop.NAME")
				seen[n] = seen[n] || false
			}
		}
		for i := range r.Alternatives {
			for _, name := range r.Alternatives[i].Names {
				n := ofAStop.ReplaceAllString(name, ".stop.NAME")
				seen[n] = seen[n] || r.Alternatives[i].Metrics[name].Mean > 0
			}
		}
	}
	var never []string
	for name, positive := range seen {
		if !positive {
			never = append(never, name)
		}
	}
	slices.Sort(never)
	assert.Empty(t, never, "figures that were 0 on every line")
	assert.Greater(t, len(seen), 60)
}
