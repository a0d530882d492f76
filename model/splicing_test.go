package model

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"pgregory.net/rapid"
)

// Worked out by hand: a web of 330 mm and 0.1 mm, repeat 400 mm, tape of 0.05 mm, 60 s
// to square a lead, 30 s a strip, 5 s to press, 3 s to align, 20 m out of register.
func TestPartsOfASplice(t *testing.T) {
	web := Web{Width: 0.33, Caliper: 1e-4, RegisterRepeat: 0.4}
	made := Splicing{Lock: 20, TapeThickness: 5e-5, TrimTime: 60, TapeTime: 30, PressTime: 5, AlignTime: 3}
	for _, c := range []struct {
		method   SpliceMethod
		tapes    int
		register bool
		want     SpliceParts
		extra    float64
	}{
		{Butt, 1, false, SpliceParts{Tape: 0.33, Prepare: 90, Dwell: 5, Scrap: 20}, 5e-5},
		{Butt, 2, false, SpliceParts{Tape: 0.66, Prepare: 120, Dwell: 5, Scrap: 20}, 1e-4},
		{Butt, 2, true, SpliceParts{Tape: 0.66, Prepare: 120, Dwell: 8, Scrap: 0.4, Residual: 0.4}, 1e-4},
		{Overlap, 1, true, SpliceParts{Tape: 0.33, Prepare: 90, Dwell: 8, Scrap: 0.4, Residual: 0.4}, 1.5e-4},
		{Overlap, 0, false, SpliceParts{Prepare: 60, Dwell: 5, Scrap: 20}, 1e-4},
		{HeatSeal, 0, false, SpliceParts{Prepare: 60, Dwell: 5, Scrap: 20}, 1e-4},
	} {
		s := made
		s.Method, s.Tapes, s.InRegister = c.method, c.tapes, c.register
		got := SpliceOf(s, web)
		assert.InDeltaSlice(t, parts(c.want), parts(got), 1e-12, "%v", c)
		assert.InDelta(t, c.extra, s.extraThickness(web.Caliper), 1e-15, "%v", c)
	}
}

func parts(p SpliceParts) []float64 {
	return []float64{p.Tape, p.Prepare, p.Dwell, p.Scrap, p.Residual}
}

// What the marks leave at tail and lead, each from nowhere in particular in a repeat,
// comes to a repeat in the mean: over an even grid of both the mean is R to the last
// digits.
func TestMarksLeaveARepeat(t *testing.T) {
	const r, n = 0.4, 200
	sum := 0.0
	for i := range n {
		for j := range n {
			sum += r*(float64(i)+0.5)/n + r*(float64(j)+0.5)/n
		}
	}
	assert.InDelta(t, sum/(n*n), SpliceOf(Splicing{Method: Butt, Tapes: 1, InRegister: true}, Web{RegisterRepeat: r}).Residual, 1e-12)
}

// More tape, a wider web, longer repeats and longer work never take less; scrap in
// register does not hang on the length out of register.
func TestSplicesGrow(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		x := func(name string) float64 { return rapid.Float64Range(0, 100).Draw(t, name) }
		s := Splicing{Method: rapid.SampledFrom([]SpliceMethod{Butt, Overlap}).Draw(t, "method"), Tapes: rapid.IntRange(0, 1).Draw(t, "tapes"), InRegister: rapid.Bool().Draw(t, "register"),
			Lock: x("lock"), TapeThickness: x("thick"), TrimTime: x("trim"), TapeTime: x("tape"), PressTime: x("press"), AlignTime: x("align")}
		w := Web{Width: x("width"), Caliper: x("caliper"), RegisterRepeat: x("repeat")}
		more, wide := s, w
		more.Tapes++
		more.TrimTime += x("longer")
		more.AlignTime += x("aligning")
		wide.Width += x("wider")
		wide.RegisterRepeat += x("repeats")
		a, b := parts(SpliceOf(s, w)), parts(SpliceOf(more, wide))
		for i := range a {
			assert.GreaterOrEqual(t, b[i], a[i])
		}
		assert.GreaterOrEqual(t, more.extraThickness(w.Caliper), s.extraThickness(w.Caliper))
		in, far := s, s
		in.InRegister, far.InRegister = true, true
		far.Lock += 1 + x("farther")
		assert.Equal(t, SpliceOf(in, w), SpliceOf(far, w))
	})
}

// Each value that check shows is the one that the line has, and says whether it is by
// formula.
func TestFactsOfHowSplicesAreMade(t *testing.T) {
	l := spliceLine()
	for _, f := range FactsOf(l) {
		assert.NotContains(t, f.Label, "tape", "nothing is said of how splices are made")
	}
	l.Web = Web{Width: 0.33, Caliper: 1e-4, RegisterRepeat: 0.4}
	l.Unwind.TapePerSplice, l.Unwind.Prepare, l.Unwind.Dwell, l.Unwind.SpliceScrap, l.Unwind.Residual = 0.66, Const(120), Const(8), Const(0.4), 0.4
	l.Unwind.Splicing = Splicing{Method: Butt, Tapes: 2, InRegister: true, Lock: 20, TapeThickness: 5e-5, TrimTime: 60, TapeTime: 30, PressTime: 5, AlignTime: 3}
	for label, want := range map[string]float64{"tape for a splice": 0.66, "time to prepare a splice": 120, "splice dwell": 8, "scrap of a splice": 0.4, "residual of a roll": 0.4,
		"web that register saves": 20 - 0.8, "extra thickness": 1e-4} {
		f := factOf(t, l, "unwind", label)
		assert.InDelta(t, want, f.Value, 1e-12, label)
		assert.NotContains(t, f.Note, "given")
	}
	l.Unwind.Splicing.Given = SpliceGiven{true, true, true, true, true}
	l.Unwind.Dwell = Const(11)
	for label, formula := range map[string]string{"tape for a splice": "tapes x web width", "time to prepare a splice": "trim_time", "splice dwell": "press_time + align_time", "scrap of a splice": "register repeat", "residual of a roll": "register repeat"} {
		assert.Contains(t, factOf(t, l, "unwind", label).Note, "as given, in place of the formula: ")
		assert.Contains(t, factOf(t, l, "unwind", label).Note, formula)
	}
	assert.Equal(t, 11.0, factOf(t, l, "unwind", "splice dwell").Value)
	l.Unwind.Splicing.InRegister = false
	for label, formula := range map[string]string{"splice dwell": "press_time", "scrap of a splice": "lock", "residual of a roll": "no mark"} {
		assert.Contains(t, factOf(t, l, "unwind", label).Note, formula)
		assert.NotContains(t, factOf(t, l, "unwind", label).Note, "align")
	}
	for _, f := range FactsOf(l) {
		assert.NotContains(t, f.Label, "register saves")
	}
}
