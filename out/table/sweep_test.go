package table

import (
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"rollchange/model"
	"rollchange/out/invented"
	"rollchange/out/words"
	"rollchange/sim/metric"
	"rollchange/sim/replicate"
	"rollchange/sim/whatif"
)

// sweptOver is a sweep of one alternative: its good web is 10 for each value of
// the first key and 1 for each of the second, m/min.
func sweptOver(axes ...whatif.Axis) *whatif.Sweep {
	s := &whatif.Sweep{Axes: axes, Alternatives: []string{"by hand"}}
	n := 1
	for _, a := range axes {
		n *= len(a.Values)
	}
	for k := range n {
		p := whatif.Point{At: []int{k}, Binds: [][]whatif.Bound{nil}}
		if len(axes) == 2 {
			p.At = []int{k / len(axes[1].Values), k % len(axes[1].Values)}
		}
		good := 10 * float64(1+p.At[0])
		if len(axes) == 2 {
			good += float64(1 + p.At[1])
		}
		p.Results = &replicate.Results{Run: replicate.RunInfo{Replications: 5, Confidence: 0.95}, Alternatives: []replicate.Result{{Alternative: "by hand",
			Metrics: replicate.Metrics{metric.GoodRate: invented.Speed(good, 0.1), metric.Waste: invented.Share(0.05, 0.01)}}}}
		s.Points = append(s.Points, p)
	}
	return s
}

func axisOf(key string, n int) whatif.Axis {
	a := whatif.Axis{Key: key, Dim: model.Number}
	for i := range n {
		a.Values, a.Texts = append(a.Values, float64(i)), append(a.Texts, fmt.Sprint("v", i))
	}
	return a
}

func sweptText(t *testing.T, s *whatif.Sweep, columns int) string {
	t.Helper()
	var b strings.Builder
	require.NoError(t, Sweep(&b, words.About{Title: "line"}, s, model.Metric, Screen{Columns: columns}))
	return b.String()
}

func TestASweepOverTwoKeysIsATableForEachMetric(t *testing.T) {
	s := sweptOver(axisOf("line.speed", 2), axisOf("crew.operators", 3))
	s.Points[4].Binds[0] = []whatif.Bound{{Metric: metric.Waste}, {Metric: metric.CrewBusy}}
	s.Points[2].Results, s.Points[2].LeftOut = nil, "no such line"
	text := sweptText(t, s, 80)
	assert.Contains(t, text, strings.Join([]string{
		"by hand",
		"  good web, m/min (across: crew.operators)",
		"  line.speed            v0                    v1            v2",
		"  v0          11.00 ± 0.10  12.00 ± 0.10              left out",
		"  v1          21.00 ± 0.10  22.00 ± 0.10 [1] [2]  23.00 ± 0.10",
		"",
		"  waste, % (across: crew.operators)",
		"  line.speed         v0             v1         v2",
		"  v0          5.0 ± 1.0  5.0 ± 1.0       left out",
		"  v1          5.0 ± 1.0  5.0 ± 1.0 [1]  5.0 ± 1.0",
		"",
		"[1] too much waste", "[2] crew too busy"}, "\n"))
	assert.Contains(t, text, "line.speed v0, crew.operators v2: no such line")
	assert.NotContains(t, sweptText(t, sweptOver(axisOf("line.speed", 2)), 80), "across", "over one key each point is a row")
}

// What is too wide stands in blocks with the labels again; nothing is lost.
func TestAWideMapFitsTheScreen(t *testing.T) {
	s := sweptOver(axisOf("unwind.storage.restart_level", 3), axisOf("crew.operators", 9))
	for columns := 80; columns < 200; columns += 7 {
		text := sweptText(t, s, columns)
		within(t, fmt.Sprint(columns), text, columns)
		for i := range 3 {
			for k := range 9 {
				assert.Equal(t, 1, strings.Count(text, fmt.Sprintf("%d.00 ± 0.10", 10*(i+1)+k+1)), columns)
			}
		}
	}
	assert.Greater(t, strings.Count(sweptText(t, s, 80), "restart_level"), 2, "blocks")
	assert.Equal(t, 2, strings.Count(sweptText(t, s, 199), "restart_level"), "one for each metric")
}

// A head is never cut: a unit stays with its word.
func TestHeadsStandWhole(t *testing.T) {
	g := grid{label: "key"}
	var cells []string
	for range 7 {
		g.heads, cells = append(g.heads, "stopped, %"), append(cells, "12345678")
	}
	g.add("12345678", cells...)
	assert.Equal(t, 7, strings.Count(written(g, 80), "stopped, %"))
}

// Where distributions come from records the table says that they are not in its limits.
func TestASweepSaysThatItsLimitsAreOfTheSimulation(t *testing.T) {
	s := sweptOver(axisOf("line.speed", 2))
	assert.NotContains(t, sweptText(t, s, 80), "simulation alone")
	var b strings.Builder
	require.NoError(t, Sweep(&b, words.About{Title: "line", Records: true}, s, model.Metric, Screen{Columns: 80}))
	assert.Contains(t, strings.Join(strings.Fields(b.String()), " "), words.SweepRecords)
}
