package picture

import (
	"fmt"
	"math/rand/v2"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"
	"gonum.org/v1/plot/vg/recorder"

	"rollchange/model"
	"rollchange/out/invented"
	"rollchange/out/words"
	"rollchange/sim"
	"rollchange/sim/effort"
)

// struck lists the texts of a picture that a line runs through, what is drawn
// turned left out.
func struck(p *Picture) (list []string) {
	var rec recorder.Canvas
	p.draw(draw.Crop(draw.NewCanvas(&rec, p.W, p.H), 10, -12, 8, -8))
	var texts []inscription
	var ways [][2]vg.Point
	turned, depth := 0, 0
	for _, a := range rec.Actions {
		switch a := a.(type) {
		case *recorder.Push:
			depth++
		case *recorder.Pop:
			if depth--; depth < turned {
				turned = 0
			}
		case *recorder.Rotate:
			if turned == 0 {
				turned = depth
			}
		case *recorder.Stroke:
			var at vg.Point
			for _, c := range a.Path {
				if c.Type == vg.LineComp && turned == 0 {
					ways = append(ways, [2]vg.Point{at, c.Pos})
				}
				at = c.Pos
			}
		case *recorder.FillString:
			if turned == 0 {
				w := width(sans(style(a.Size, ink)), a.String)
				texts = append(texts, inscription{a.String, area{a.Point.X, a.Point.X + w, a.Point.Y, a.Point.Y + 0.6*a.Size}})
			}
		}
	}
	for _, x := range texts {
		for _, w := range ways {
			if x.area.crosses(w[0], w[1]) {
				list = append(list, x.text)
				break
			}
		}
	}
	return list
}

// No line runs through a label of the log: the interlock is named where the
// curves are not. The rewind's content crosses the unwind's interlock at the
// right, where its name once stood.
func TestNoLabelOfTheTraceIsStruckThrough(t *testing.T) {
	log := invented.Motion()
	last := log[len(log)-1]
	for k := range 40 { // the rewind storage fills through both interlocks, and drains
		r := last
		r.Time += float64(k+1) / 2
		r.RewindStorage = 2 + 36*float64(min(k, 40-k))/20
		r.SpeedW, r.Of, r.Event = r.SpeedP, sim.OfProcess, sim.ProcessAtSpeed
		log = append(log, r)
	}
	p, err := Trace(log, 0, invented.StorageLine(), model.Metric)
	require.NoError(t, err)
	for _, s := range struck(p) {
		assert.NotContains(t, s, "interlock")
	}
	texts := strings.Join(textsOf(p), "\n")
	assert.Contains(t, texts, "unwind interlock at line speed")
	assert.Contains(t, texts, "rewind interlock at line speed")
	assert.Equal(t, 1, strings.Count(texts, "time since"))
}

// textsOf are the texts of a picture.
func textsOf(p *Picture) (list []string) {
	var rec recorder.Canvas
	p.draw(draw.NewCanvas(&rec, p.W, p.H))
	for _, a := range rec.Actions {
		if s, ok := a.(*recorder.FillString); ok {
			list = append(list, s.String)
		}
	}
	return list
}

// The names of levels in the picture of a storage are struck through by no
// level, wherever they lie; nor are the names of bars by the lines of the scale.
func TestNoNameOfALevelIsStruckThrough(t *testing.T) {
	h := invented.Results().Alternatives[1].Lowest
	for _, reserve := range []float64{0, 1, 2, 3, 5, 8, 13, 20, 30} {
		for _, rewind := range []bool{false, true} {
			l := invented.StorageLine()
			l.Unwind.Storage.Reserve, l.Rewind.Storage.Reserve = reserve, reserve
			for _, s := range struck(Storage(h, "automatic", l, rewind, model.Metric)) {
				assert.Fail(t, fmt.Sprintf("reserve %g: %q is struck through", reserve, s))
			}
		}
	}
	for _, p := range []*Picture{Hours(invented.Results()), Waste(invented.Results()), Output(invented.Results(), model.Metric)} {
		for _, s := range struck(p) {
			assert.NotContains(t, []string{"by hand", "zero-speed, 60 m"}, s)
		}
	}
}

// Of two to four flags at random no line runs through a name where an order
// without that exists; two always have one.
func TestFlagsDoNotCross(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 2))
	s := sans(style(small, accent))
	for range effort.Of(500, 2000, 2000) {
		flags := []flag{{vg.Length(20 + 440*r.Float64()), "interlock at line speed 6.5 m"}, {vg.Length(20 + 440*r.Float64()), "capacity less reserve 34 m"}}
		at := placeFlags(flags, s, 0, 480, 200)
		for k, f := range flags {
			b := flags[1-k].area(s, at[1-k], 200)
			if at[k].row < at[1-k].row && f.x > b.x0 && f.x < b.x1 {
				t.Fatalf("%v at %v", flags, at)
			}
			assert.NotEqual(t, at[0].row, at[1].row)
		}
	}
}

// The limits of the output hold what the records leave open where that was looked for, and
// the title says so.
func TestOutputHoldsTheRecords(t *testing.T) {
	says := func(p *Picture) string { return strings.Join(textsOf(p), "\n") }
	assert.NotContains(t, says(Output(invented.Results(), model.Metric)), words.WithRecords)
	rs := invented.Results()
	invented.Recorded(rs, 0.2)
	wide := Output(rs, model.Metric)
	assert.Contains(t, says(wide), "confidence"+words.WithRecords)
	e := rs.Alternatives[0].Metrics["good_rate"]
	assert.Contains(t, says(wide), words.Figure(e.WithRecords(), model.Display(model.Speed, model.Metric)))
}
