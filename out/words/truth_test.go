package words

import (
	"go/ast"
	"go/parser"
	"go/token"
	"math"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"rollchange/model"
	"rollchange/out/invented"
	"rollchange/sim/estimate"
	"rollchange/sim/replicate"
)

// made is an alternative by its good web, m/min, the half width of its
// difference from the first, and what else differs.
type made struct {
	name       string
	good, half float64
	more       map[string]estimate.Estimate // differences from the first
}

// outputs are invented results of several alternatives; the first has no half width.
func outputs(list ...made) *replicate.Results {
	rs := &replicate.Results{Run: replicate.RunInfo{Replications: 10, Confidence: 0.95}}
	for i, m := range list {
		r := replicate.Result{Alternative: m.name, Metrics: replicate.Metrics{"good_rate": invented.Speed(m.good, 1)}, Names: []string{"good_rate"}}
		d := replicate.Metrics{"good_rate": invented.Speed(m.good-list[0].good, m.half)}
		for name, e := range m.more {
			d[name], r.Metrics[name] = e, invented.Share(0.5, 0.01)
			r.Names = append(r.Names, name)
		}
		if i == 0 {
			d = nil
		}
		rs.Alternatives, rs.Differences = append(rs.Alternatives, r), append(rs.Differences, d)
	}
	return rs
}

// truth is one case and what is said of it, and what not, whole.
type truth struct {
	what  string
	rs    *replicate.Results
	says  []string
	never []string
}

func (x truth) check(t *testing.T, said string) {
	t.Helper()
	for _, s := range x.says {
		assert.Contains(t, said, s, x.what)
	}
	for _, s := range x.never {
		assert.NotContains(t, said, s, x.what)
	}
}

// jointly gives the covariance of good web between replications of the
// alternatives, (m/min)² a replication.
func jointly(rs *replicate.Results, cov [][]float64) *replicate.Results {
	k := len(replicate.JointMetrics)
	rs.Joint = &replicate.Joint{N: 10, Cov: make([][]float64, k*len(cov))}
	for i := range rs.Joint.Cov {
		rs.Joint.Cov[i] = make([]float64, k*len(cov))
	}
	for i := range cov {
		for j := range cov {
			rs.Joint.Cov[i*k][j*k] = cov[i][j] / 3600
		}
	}
	return rs
}

func outputTruths() []truth {
	stops := func(a, ha, b, hb float64) map[string]estimate.Estimate {
		return map[string]estimate.Estimate{"time.stopped.web_break": invented.Share(a, ha), "time.stopped.changeover": invented.Share(b, hb), "waste.total": invented.Share(0.1, 0.001)}
	}
	all := []string{"makes the most", "more good web than", "largest", "No difference"}
	once := outputs(made{name: "a", good: 100}, made{name: "b", good: 150, half: 1})
	once.Run.Replications = 1
	tied := map[string]estimate.Estimate{}
	for _, h := range []string{"web_break", "changeover", "unwind_change", "rewind_change", "crew_break"} {
		tied["time.stopped."+h] = invented.Share(-0.05, 0.01)
	}
	return []truth{
		{"one alternative", outputs(made{name: "a", good: 100}), nil, all},
		{"one replication", once, nil, all},
		{"two, one more", outputs(made{name: "a", good: 100}, made{name: "b", good: 110, half: 2}),
			[]string{`"b" makes 10.0 ± 2.0 m/min more good web than "a" (+10.0 %), at 95 % confidence.`}, []string{"most", "not shown"}},
		{"within its half width", outputs(made{name: "a", good: 100}, made{name: "b", good: 110, half: 11}),
			[]string{`"b" is not shown to make more good web than "a".`}, []string{"makes", "make less"}},
		{"equal to the first", outputs(made{name: "a", good: 100}, made{name: "b", good: 100, half: 0}),
			[]string{`"b" is not shown to make more good web than "a".`}, []string{"makes", "make less"}},
		{"less", outputs(made{name: "a", good: 100}, made{name: "b", good: 90, half: 2}),
			[]string{`"b" is not shown to make more good web than "a". These make less: "b".`}, []string{"makes "}},
		{"several, all less or the same", outputs(made{name: "a", good: 100}, made{name: "b", good: 90, half: 2}, made{name: "c", good: 101, half: 2}),
			[]string{`None is shown to make more good web than "a". These make less: "b".`}, []string{"makes ", `"c"`}},
		{"several, one most", outputs(made{name: "a", good: 100}, made{name: "b", good: 110, half: 2}, made{name: "c", good: 120, half: 2}),
			[]string{`"c" makes the most good web: 20.0 ± 2.0 m/min more than "a" (+20.0 %), at 95 % confidence.`}, []string{"not shown"}},
		{"several, two that are not told apart", outputs(made{name: "a", good: 100}, made{name: "b", good: 117, half: 2}, made{name: "c", good: 120, half: 2}),
			[]string{`"c" makes 20.0 ± 2.0 m/min more good web than "a" (+20.0 %), at 95 % confidence; it is not shown to make more than "b".`}, []string{"most"}},
		// The same, told apart by what moves together: sqrt((4+4-2*3.9)/10)*2.26 = 0.3 of 3 m/min.
		{"several, paired", jointly(outputs(made{name: "a", good: 100}, made{name: "b", good: 117, half: 2}, made{name: "c", good: 120, half: 2}), [][]float64{{4, 0, 0}, {0, 4, 3.9}, {0, 3.9, 4}}),
			[]string{`"c" makes the most good web`}, []string{"not shown"}},
		// And two that are far apart beside the first but move against each other are not.
		{"several, against each other", jointly(outputs(made{name: "a", good: 100}, made{name: "b", good: 115, half: 2}, made{name: "c", good: 120, half: 2}), [][]float64{{4, 0, 0}, {0, 30, -30}, {0, -30, 30}}),
			[]string{`it is not shown to make more than "b"`}, []string{"most"}},
		{"the first makes nothing", outputs(made{name: "a", good: 0}, made{name: "b", good: 10, half: 2}), []string{`more good web than "a", at 95 %`}, []string{"(+", "Inf"}},
		{"one change is largest", outputs(made{name: "a", good: 100}, made{name: "b", good: 110, half: 2, more: stops(-0.1, 0.01, 0.05, 0.01)}),
			[]string{`What changes most with "b": stopped time for web break falls by 10.0 ± 1.0 points of the hours.`}, []string{"changeover", "Among"}},
		{"two changes that are not told apart", outputs(made{name: "a", good: 100}, made{name: "b", good: 110, half: 2, more: stops(-0.06, 0.01, 0.05, 0.01)}),
			[]string{`What changes most with "b": stopped time for web break falls by 6.0 ± 1.0 points of the hours, and changeover rises by 5.0 ± 1.0 points of the hours.`}, nil},
		{"five changes that are not told apart", outputs(made{name: "a", good: 100}, made{name: "b", good: 110, half: 2, more: tied}), []string{`Among what changes most with "b": stopped time`}, nil},
		{"a change that lies to one side", outputs(made{name: "a", good: 100}, made{name: "b", good: 110, half: 2, more: map[string]estimate.Estimate{"waste.restart": {Unit: "1", Mean: -0.01, Low: -0.03, High: -0.005, HalfWidth: math.NaN(), Why: estimate.Skewed}}}),
			[]string{"waste from restarts falls by 1.0 (0.5–3.0) points"}, nil},
		{"a change that few events carry", outputs(made{name: "a", good: 100}, made{name: "b", good: 110, half: 2, more: map[string]estimate.Estimate{"waste.restart": {Unit: "1", Mean: -0.01, Low: math.NaN(), High: math.NaN(), HalfWidth: math.NaN(), Why: estimate.TooFew}}}), nil, []string{"changes most"}},
		{"output that few events carry, far from 0", outputs(made{name: "a", good: 100}, made{name: "b", good: 110, half: 2, more: map[string]estimate.Estimate{"good_rate": {Unit: "m/s", Mean: 10. / 60, SD: 0.001, N: 10, Low: math.NaN(), High: math.NaN(), HalfWidth: math.NaN(), Why: estimate.TooFew}}}),
			[]string{`"b" makes about 10.0 m/min more good web than "a" (+10.0 %), at 95 % confidence.`}, []string{"not shown", "± ?"}},
		{"waste that few events carry, far from 0", outputs(made{name: "a", good: 100}, made{name: "b", good: 110, half: 2, more: map[string]estimate.Estimate{"waste.total": {Unit: "1", Mean: -0.06, SD: 0.001, N: 10, Low: math.NaN(), High: math.NaN(), HalfWidth: math.NaN(), Why: estimate.TooFew}}}), nil, []string{"No difference"}},
		{"a change that is noise", outputs(made{name: "a", good: 100}, made{name: "b", good: 110, half: 2, more: map[string]estimate.Estimate{"waste.restart": invented.Share(-0.01, 0.02)}}), nil, []string{"changes most", "restarts"}},
		{"waste by cause", outputs(made{name: "a", good: 100}, made{name: "b", good: 110, half: 2, more: map[string]estimate.Estimate{"waste.restart": invented.Share(-0.01, 0.002)}}),
			[]string{`What changes most with "b": waste from restarts falls by 1.00 ± 0.20 points of the web supplied.`}, []string{"stopped time"}},
		{"what does not differ", outputs(made{name: "a", good: 100}, made{name: "b", good: 110, half: 2, more: map[string]estimate.Estimate{"waste.total": invented.Share(0.001, 0.002), "quality": invented.Share(0.1, 0.01)}}, made{name: "c", good: 101, half: 2}),
			[]string{`No difference between "b" and "a" is shown in: total waste.`, `No difference in good web from "a" is shown for: "c".`}, []string{"quality"}},
		{"all that differs", outputs(made{name: "a", good: 100}, made{name: "b", good: 110, half: 2, more: map[string]estimate.Estimate{"waste.total": invented.Share(0.1, 0.002)}}), nil, []string{"No difference"}},
	}
}

// Each sentence of a comparison is said where it is true, and not where it is
// false.
func TestSentencesOfOutputAreTrue(t *testing.T) {
	for _, x := range outputTruths() {
		x.check(t, strings.Join(Sentences(x.rs, model.Metric), "\n"))
	}
}

// A difference whose limits lie to one side shows them with their signs.
func TestDifferenceToOneSide(t *testing.T) {
	e := estimate.Estimate{Unit: "1", Mean: -0.007, Low: -0.014, High: -0.003, HalfWidth: math.NaN(), Why: estimate.Skewed}
	assert.Equal(t, "−0.70 (−1.40 to −0.30)", Difference(e, model.Unit{Name: "%", SI: 0.01}))
	assert.Equal(t, "+0.70 (0.30–1.40)", Difference(e.Opposite(), model.Unit{Name: "%", SI: 0.01}))
}

// phrases are the texts of a file that stand in a sentence, as patterns.
func phrases(t *testing.T, file string) map[string]*regexp.Regexp {
	t.Helper()
	f, err := parser.ParseFile(token.NewFileSet(), file, nil, 0)
	require.NoError(t, err)
	found := map[string]*regexp.Regexp{}
	verb := regexp.MustCompile(`%[-+.0-9]*[a-zA-Z]`)
	ast.Inspect(f, func(n ast.Node) bool {
		if _, isImport := n.(*ast.ImportSpec); isImport {
			return false
		}
		lit, ok := n.(*ast.BasicLit)
		if !ok || lit.Kind != token.STRING {
			return true
		}
		s, err := strconv.Unquote(lit.Value)
		require.NoError(t, err)
		if strings.Count(strings.TrimSpace(s), " ") < 2 || strings.Contains(s, `json:"`) {
			return true
		}
		parts := verb.Split(s, -1)
		for i := range parts {
			parts[i] = regexp.QuoteMeta(strings.ReplaceAll(parts[i], "%%", "%"))
		}
		found[s] = regexp.MustCompile(`(?s)` + strings.Join(parts, `.*`))
		return true
	})
	require.NotEmpty(t, found, file)
	return found
}

// Whatever a sentence can say is said in one of the cases above and below, so
// that no phrase is printed that no test has read.
func TestEveryPhraseIsRead(t *testing.T) {
	if testing.Short() {
		t.Skip("long")
	}
	var said []string
	for _, x := range outputTruths() {
		said = append(said, Sentences(x.rs, model.Metric)...)
	}
	for _, x := range moneyTruths() {
		said = append(said, x.said(t)...)
	}
	for _, x := range courseTruths() {
		said = append(said, x.said(t)...)
	}
	said = append(said, CoveredOfAll(differing(t)), CoveredOfAll(differing(t, recorded)))
	for _, x := range openTruths() {
		said = append(said, append(openSaid(x.rs), OpenNote)...)
	}
	for _, x := range rankTruths(t) {
		said = append(said, x.said)
	}
	for _, x := range solveTruths(t) {
		said = append(said, SolveText(x.s, x.c, model.Metric))
	}
	said = append(said, sizedSaid()...)
	for x, want := range map[float64]string{0: "in none of them", 0.0004: "in fewer than 0.1 % of them", 0.5: "in 50.0 % of them", 0.9996: "in more than 99.9 % of them", 1: "in all of them"} {
		assert.Equal(t, want, chanceOf(x))
		said = append(said, chanceOf(x))
	}
	all := strings.Join(said, "\n")
	for _, file := range []string{"sentences.go", "open.go", "case.go", "course.go", "rank.go", "solve.go", "size.go", "size_answer.go", "size_chance.go", "size_records.go", "size_storage.go", "size_speed.go", "size_crew.go", "size_residual.go", "size_roll.go"} {
		for s, pattern := range phrases(t, file) {
			assert.True(t, pattern.MatchString(all), "%s: no case says %q", file, s)
		}
	}
	assert.NotContains(t, all, "%!")
	assert.False(t, strings.Contains(all, "NaN") || strings.Contains(all, "Inf"), all)
}
