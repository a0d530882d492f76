package scenarios

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"

	"rollchange/model"
)

// unspliced is the plain line without what follows from how its splices are made.
var unspliced = strings.NewReplacer("residual = \"6 m\"\n", "", "prepare = \"40 s\"\n", "", "dwell = \"8 s\"\n", "").Replace(plain)

const printedWeb = "\n[web]\nwidth = \"330 mm\"\ncaliper = \"0.1 mm\"\nregister_repeat = \"400 mm\"\n"

func valuesOf(l *model.Line) []float64 {
	u := &l.Unwind
	return []float64{u.TapePerSplice, u.Prepare.Mean(), u.Dwell.Mean(), u.SpliceScrap.Mean(), u.Residual}
}

// By hand, with the default times: 60 s to square, 30 s a strip, 5 s to press, 3 s to align.
func TestWhatFollowsFromHowSplicesAreMade(t *testing.T) {
	for text, want := range map[string][]float64{
		`method = "butt"`: {0.33, 90, 5, 0, 0},
		"method = \"butt\"\ntapes = 2\nlock = \"20 m\"":                        {0.66, 120, 5, 20, 0},
		"method = \"butt\"\nin_register = true\nlock = \"20 m\"":               {0.33, 90, 8, 0.4, 0.4},
		"method = \"overlap\"\ntapes = 0":                                      {0, 60, 5, 0, 0},
		`method = "heat seal"`:                                                 {0, 60, 5, 0, 0},
		"method = \"heat seal\"\ntrim_time = \"100 s\"\npress_time = \"20 s\"": {0, 100, 20, 0, 0},
	} {
		l := parsed(t, unspliced+printedWeb+"[unwind.splice]\n"+text).Study.Alternatives[0].Line
		assert.InDeltaSlice(t, want, valuesOf(&l), 1e-12, text)
		assert.Equal(t, model.SpliceGiven{}, l.Unwind.Splicing.Given)
	}
}

// Each value that is given goes before its formula, and the others follow as before.
func TestAGivenValueGoesBefore(t *testing.T) {
	made := printedWeb + "[unwind.splice]\nmethod = \"butt\"\nin_register = true\nlock = \"20 m\"\n"
	followed := parsed(t, unspliced+made).Study.Alternatives[0].Line
	for i, set := range []string{`tape_per_splice=2 m`, `prepare=77 s`, `dwell={ dist = "uniform", min = "10 s", max = "14 s" }`, `splice_scrap=3 m`, `residual=9 m`} {
		l := parsed(t, unspliced+made, ParseSet("unwind."+set)).Study.Alternatives[0].Line
		want := valuesOf(&followed)
		want[i] = []float64{2, 77, 12, 3, 9}[i]
		assert.InDeltaSlice(t, want, valuesOf(&l), 1e-12, set)
		given := [5]bool{}
		given[i] = true
		g := l.Unwind.Splicing.Given
		assert.Equal(t, given, [5]bool{g.Tape, g.Prepare, g.Dwell, g.Scrap, g.Residual}, set)
	}
}

// Alternatives lay keys over those of the base, and a sweep or --set reaches them.
func TestSplicesOfAlternatives(t *testing.T) {
	text := unspliced + printedWeb + "[unwind.splice]\nmethod = \"butt\"\nlock = \"20 m\"\n[[alternative]]\nname = \"out\"\n[[alternative]]\nname = \"in\"\nunwind.splice.in_register = true\n[[alternative]]\nname = \"by hand\"\nunwind = { change = \"manual\", change_time = \"4 min\" }\n"
	s := parsed(t, text, Override{Key: "unwind.splice.tapes", Value: "2"})
	out, in, hand := &s.Study.Alternatives[0].Line, &s.Study.Alternatives[1].Line, &s.Study.Alternatives[2].Line
	assert.InDeltaSlice(t, []float64{0.66, 120, 5, 20, 0}, valuesOf(out), 1e-12)
	assert.InDeltaSlice(t, []float64{0.66, 120, 8, 0.4, 0.4}, valuesOf(in), 1e-12)
	assert.InDeltaSlice(t, []float64{0.66, 0, 0, 20, 0}, valuesOf(hand), 1e-12, "a change by hand prepares nothing and has no dwell of its own")
	k, err := Numeric("unwind.splice.lock")
	assert.NoError(t, err)
	assert.Equal(t, model.Length, k.Dim)
}

// Without the table nothing follows, whatever the web is.
func TestNoSpliceTableNothingFollows(t *testing.T) {
	l := parsed(t, plain+printedWeb).Study.Alternatives[0].Line
	assert.Equal(t, model.Splicing{}, l.Unwind.Splicing)
	assert.InDeltaSlice(t, []float64{0, 40, 8, 0, 6}, valuesOf(&l), 0)
}

// A key that changes nothing is told of, with what goes before it.
func TestSpliceKeysThatChangeNothing(t *testing.T) {
	made := printedWeb + "[unwind.splice]\nmethod = \"butt\"\n"
	for _, c := range []struct{ base, keys, warns string }{
		{plain, `trim_time = "50 s"`, "unwind.splice.trim_time is not used: prepare goes before it"},
		{unspliced, `trim_time = "50 s"`, ""},
		{plain, `press_time = "7 s"`, "unwind.splice.press_time is not used: dwell goes before it"},
		{unspliced, `press_time = "7 s"`, ""},
		{unspliced, `align_time = "7 s"`, "unwind.splice.align_time is not used: it is for splices in register"},
		{unspliced, "align_time = \"7 s\"\nin_register = true", ""},
		{unspliced, `lock = "7 m"`, ""},
		{strings.Replace(unspliced, "[unwind]\n", "[unwind]\nsplice_scrap = \"3 m\"\n", 1), `lock = "7 m"`, "unwind.splice.lock is not used: splice_scrap goes before it"},
		{strings.Replace(plain, "[unwind]\n", "[unwind]\nsplice_scrap = \"3 m\"\n", 1), `in_register = true`, "unwind.splice.in_register is not used: residual and splice_scrap go before it, and dwell"},
		{plain, `in_register = true`, ""},
	} {
		var got []string
		for _, w := range parsed(t, c.base+made+c.keys).Warnings {
			got = append(got, w.Key+" "+w.What)
		}
		assert.Equal(t, c.warns, strings.Join(got, "; "), "%s", c.keys)
	}
}
