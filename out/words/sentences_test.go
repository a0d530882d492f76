package words

import (
	"math"
	"strings"
	"testing"

	"rollchange/model"
	"rollchange/out/invented"
)

func TestSentences(t *testing.T) {
	s := strings.Join(Sentences(invented.Results(), model.Metric), "\n")
	for _, want := range []string{`"zero-speed, 60 m" makes 31.20 ± 0.77 m/min more good web than "by hand" (+32.1 %), at 95 % confidence.`,
		"stopped time for unwind roll change falls by 20.00 ± 0.30", "waste from restarts falls by 1.550", `No difference between "zero-speed, 60 m" and "by hand" is shown in: crew busy.`} {
		if !strings.Contains(s, want) {
			t.Errorf("no %q in\n%s", want, s)
		}
	}
	if s := Sentences(invented.Once(), model.Metric); s != nil {
		t.Errorf("one replication separates alternatives: %q", s)
	}
	if s := strings.Join(Sentences(invented.Several(3, func(i int) string { return string(rune('a' + i)) }), model.Metric), "\n"); !strings.Contains(s, `it is not shown to make more than "c"`) {
		t.Errorf("two equal alternatives are told apart:\n%s", s)
	}
	rs := invented.Results()
	d := rs.Differences[1]["good_rate"]
	d.HalfWidth = 2 * math.Abs(d.Mean)
	d.Low, d.High = d.Mean-d.HalfWidth, d.Mean+d.HalfWidth
	rs.Differences[1]["good_rate"] = d
	if s := Sentences(rs, model.Metric); len(s) != 1 || !strings.HasPrefix(s[0], `"zero-speed, 60 m" is not shown to make more good web than "by hand"`) {
		t.Errorf("noise is called a difference: %q", s)
	}
}
