package words

import (
	"math"
	"strings"
	"testing"

	"rollchange/model"
	"rollchange/model/legible"
	"rollchange/out/invented"
	"rollchange/sim/estimate"
	"rollchange/sim/replicate"
)

func TestFigure(t *testing.T) {
	nan := math.NaN()
	for _, c := range []struct {
		mean, half float64
		want       string
	}{
		{412.34, 1.84, "412.3 ± 1.8"}, {0.3, 0.02, "0.300 ± 0.020"}, {1234567, 2345, "1,234,600 ± 2,300"}, {0, 0, "0"}, {2.9, 0, "2.90 ± 0"},
		{12, nan, "12.0 ± n/a"}, {0, nan, "0 ± n/a"}, {0, 1.5, "0.0 ± 1.5"}, {99.81, 20.94, "100 ± 21"}, {0.7251, 0.1443, "0.73 ± 0.14"}, {9.96, 9.96, "10 ± 10"}, {1043, 209, "1040 ± 210"}, {3, 209, "0 ± 210"}, {99.9, 0.00014, "99.900 ± <0.001"},
	} {
		if got := Figure(estimate.Estimate{Mean: c.mean, HalfWidth: c.half}, model.Unit{SI: 1}); got != c.want {
			t.Errorf("%g ± %g: %q, want %q", c.mean, c.half, got, c.want)
		}
	}
}

func TestShownUnits(t *testing.T) {
	for _, c := range []struct {
		unit  string
		size  float64
		m, us string
	}{
		{"m/s", 1, "m/min", "ft/min"}, {"m2/s", 1, "m2/h", "ft2/h"}, {"kg/s", 1, "kg/h", "lb/h"}, {"m", 1, "m", "ft"}, {"1", 1, "%", "%"},
		{"1/s", 1. / 3600, "/h", "/h"}, {"1/s", 1. / 86400, "/day", "/day"}, {"1/s", 1e-7, "/year", "/year"}, {"1/s", 0, "/h", "/h"},
		{"s", 10, "s", "s"}, {"s", 1000, "min", "min"}, {"s", 1e5, "h", "h"},
	} {
		if m, us := ShownUnit(c.unit, c.size, model.Metric).Name, ShownUnit(c.unit, c.size, model.Imperial).Name; m != c.m || us != c.us {
			t.Errorf("%s of %g: %s and %s, want %s and %s", c.unit, c.size, m, us, c.m, c.us)
		}
	}
}

// Every metric of the design has a label of its own.
func TestLabels(t *testing.T) {
	for _, r := range invented.Results().Alternatives {
		for _, name := range r.Names {
			_, fixed := labels[name]
			if l := LabelOf(name); l.Text == "" || l.Text == name && !fixed {
				t.Errorf("%s has no label", name)
			}
		}
	}
	for name, want := range map[string]string{"time.stopped.stop.jam": "stopped: jam", "time.stopped.web_break": "stopped: web break", "stop_rate.crew_break": "begins: crew break"} {
		if got := LabelOf(name).Text; got != want {
			t.Errorf("%s: %q, want %q", name, got, want)
		}
	}
}

func TestSafe(t *testing.T) {
	for in, want := range map[string]string{
		"a\nb\tc": "a b c", "\x1b[31mred\x07": "[31mred", "\u202edlo\u202c": "dlo", "a\u2028b": "a b", "naïve 自動": "naïve 自動", "\u009b1m": "1m",
	} {
		if got := legible.Line(in); got != want {
			t.Errorf("%q: %q, want %q", in, got, want)
		}
	}
	if s := legible.Line("\xff\xfe"); strings.Contains(s, "\xff") {
		t.Errorf("bytes that are no text are kept: %q", s)
	}
}

func TestShorten(t *testing.T) {
	for _, c := range []struct {
		in    string
		width int
		want  string
	}{{"abcdef", 6, "abcdef"}, {"abcdefg", 6, "abcde…"}, {"自動巻出", 6, "自動…"}, {"自動巻", 6, "自動巻"}, {"e\u0301e\u0301e\u0301", 2, "e\u0301…"}} {
		if got := Shorten(c.in, c.width); got != c.want || Columns(got) > c.width {
			t.Errorf("%q to %d: %q, want %q", c.in, c.width, got, c.want)
		}
	}
}

// The head says what the known means of the draws bring, and nothing where they
// bring nothing.
func TestHeadSaysWhatTheControlsBring(t *testing.T) {
	run := invented.Results().Run
	for _, c := range []struct {
		change func(r *replicate.RunInfo)
		want   string
	}{
		{func(*replicate.RunInfo) {}, "confidence; the known means of the draws narrow that of good web to 24 to 35 % of its plain width"},
		{func(r *replicate.RunInfo) { r.Narrowed[0] = 0.352 }, "confidence; the known means of the draws narrow that of good web to 35 % of its plain width"},
		{func(r *replicate.RunInfo) { r.Narrowed = [2]float64{} }, "confidence"},
		{func(r *replicate.RunInfo) { r.Narrowed = [2]float64{0.9, 1.3} }, "confidence"},
		{func(r *replicate.RunInfo) { r.Narrowed, r.NoControls = [2]float64{}, true }, "confidence; the known means of the draws are not used"},
	} {
		r := run
		c.change(&r)
		if got := Head(r); !strings.HasSuffix(got, c.want) {
			t.Errorf("%q, want its end %q", got, c.want)
		}
	}
}
