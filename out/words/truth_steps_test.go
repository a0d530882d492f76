package words

import (
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"rollchange/model"
	"rollchange/out/invented"
	"rollchange/sim/estimate"
	"rollchange/sim/replicate"
	"rollchange/sim/savings"
)

// stepTruth is what is said of the steps of investment of a study, and what not.
type stepTruth struct {
	truth
	said string
}

// better makes more good web of an alternative, m/min, with a half width of its own.
func better(i int, more, half float64) changed {
	return func(_ *model.Study, rs *replicate.Results) {
		m := replicate.Metrics{}
		for k, e := range rs.Alternatives[i].Metrics {
			m[k] = e
		}
		m["good_rate"] = invented.Speed(m["good_rate"].Mean*60+more, half)
		rs.Alternatives[i].Metrics = m
	}
}

// unpaired leaves the alternatives nothing that moves together.
func unpaired(_ *model.Study, rs *replicate.Results) { rs.Joint = nil }

// investing sets the investment of an alternative.
func investing(i int, d model.Dist) changed {
	return func(s *model.Study, _ *replicate.Results) { s.Alternatives[i].Investment = d }
}

// fewEvents lets no more than a few events separate an alternative from the first, which
// might as well not have come: replications vary by as much as the mean.
func fewEvents(i int) changed {
	return func(_ *model.Study, rs *replicate.Results) {
		m, d := replicate.Metrics{}, replicate.Metrics{}
		for k, e := range rs.Alternatives[i].Metrics {
			e.SD = e.Mean
			m[k] = e
		}
		for k, e := range rs.Differences[i] {
			e.Why, e.SD = estimate.TooFew, m[k].Mean
			d[k] = e
		}
		rs.Alternatives[i].Metrics, rs.Differences[i] = m, d
		if rs.Joint != nil {
			for j, name := range replicate.JointMetrics {
				row := i*len(replicate.JointMetrics) + j
				rs.Joint.Cov[row][row] = invented.Square(m[name].Mean)
			}
		}
	}
}

// certainly leaves nothing that varies but what a case invests.
var certainly = together(invented.Prices(func(e *model.Economics) { e.Demand, e.MaterialCost = model.Const(15e6), model.Const(0.55) }), noiseless, unpaired)

func stepTruths(t *testing.T) []stepTruth {
	t.Helper()
	var list []stepTruth
	add := func(what string, change changed, says, never []string, investments ...float64) *savings.Steps {
		r, _ := rankedOf(t, change, investments...)
		said := StepsSentence(&r.Steps)
		if said != "" { // what payback says of the one that it shows
			said += "\n" + StepsShown(&r.Steps)
		}
		list = append(list, stepTruth{truth{what: what, says: says, never: never}, said})
		return &r.Steps
	}
	none := []string{"is recommended: in order", "m\" is recommended", "1\" is recommended"}

	add("one alternative", nil, nil, []string{"recommended", "step"}, 160000)
	s := add("the cheaper of two that are alike", nil, []string{`"other 1" is recommended: in order of investment it is the last alternative whose step is shown to pay. It takes 100,000 EUR more than "by hand"; the net present value of that step after tax is `,
		` "zero-speed, 60 m" takes `, `0 EUR more than "other 1" and is worth less: the step loses `, " EUR at present value after tax."}, []string{"not shown", "No alternative", "adds", "valued over", "No step"}, 160000, 100000)
	assert.Equal(t, []int{2, 1}, []int{s.List[0].To, s.List[1].To})
	add("a dearer one that is worse", together(better(2, -20, 0.5), unpaired), []string{`"other 1" takes 40,000 EUR more than "zero-speed, 60 m" and is worth less: the step loses `, " EUR at present value after tax (mean; "}, []string{"not shown", "adds"}, 160000, 200000)
	// A dearer one that is better, hardly so, or not within what is known.
	add("the dearer one pays for its step", better(2, 20, 0.5), []string{`"other 1" is recommended`, `It takes 50,000 EUR more than "zero-speed, 60 m"; the net`}, []string{`m" takes `, "not shown", "worth less"}, 160000, 210000)
	dear := add("the dearer one is little better", together(better(2, 4, 4), unpaired), []string{`"zero-speed, 60 m" is recommended: `, `more than "by hand"; the net`,
		`"other 1" takes `, ` EUR more than "zero-speed, 60 m" and is not shown to be worth more: the step adds `, ` EUR at present value after tax (mean; −`, "), a gain in ", " % of the draws.", `"zero-speed, 60 m" is recommended: of 2 alternatives, in order of investment, it is the last whose step is shown to pay`}, []string{`"other 1" is recommended`, "worth less", "too few"}, 160000, 200000)
	require.Equal(t, 2, dear.Best, "the dearer one has the highest mean net present value")
	require.Equal(t, 1, dear.Recommended)
	add("few events", together(better(2, 30, 0.5), fewEvents(2)), []string{`"other 1" takes `, "is not shown to be worth more, because too few events separate the two: the step adds "}, []string{"a gain", "worth less"}, 160000, 210000)
	add("equal ones, for certain", certainly, []string{`"zero-speed, 60 m" is recommended`, "the net present value of that step after tax is ", ` "other 1" takes the same investment as "zero-speed, 60 m" and is worth no more: the step adds nothing.`}, []string{"not shown", "less", "mean", "draws"}, 160000, 160000)
	add("a dearer one, for certain", certainly, []string{`"other 1" takes 40,000 EUR more than "zero-speed, 60 m" and is worth less: the step loses `}, []string{"mean", "draws", "adds"}, 160000, 200000)
	add("about the same investment", together(investing(1, model.Dist{Law: model.Uniform, A: 100000, B: 200000}), investing(2, model.Dist{Law: model.Uniform, A: 100000, B: 200000})),
		[]string{`"other 1" takes about the same investment as "zero-speed, 60 m" and is not shown to be worth more`}, []string{` EUR more than "zero`, " EUR less than"}, 0, 0)
	add("less is invested", together(investing(0, model.Const(100000)), better(1, 10, 0.1)), []string{`It takes 60,000 EUR less than "by hand"; the net`}, []string{`EUR more than "by hand"`}, 40000, 900000)
	add("five that are alike", nil, []string{`"other 1" takes `, `"other 3" takes `, " The table of steps has 2 more that are not accepted."}, []string{`"other 4"`, `"other 5"`}, 100000, 160000, 170000, 180000, 190000, 200000)
	add("three that are alike", nil, []string{`"other 1" takes `, `"other 3" takes `}, []string{"The table"}, 100000, 160000, 170000, 180000)

	add("none is shown to pay", nil, []string{"No alternative is recommended: no step of investment is shown to pay. ", `"zero-speed, 60 m" has the highest mean net present value, `, " EUR after tax (−", ", a gain in ", `None of 2 alternatives is recommended, since no step of investment is shown to pay; "zero-speed, 60 m" has the highest mean`}, none, 900000, 901000)
	add("none is shown to pay, few events", fewEvents(1), []string{`"zero-speed, 60 m" has the highest`, "; too few events separate the two for that range to hold."}, none, 100000, 9e6)
	add("all lose", nil, []string{"No alternative is recommended: each is shown to lose money. ", `"zero-speed, 60 m" has the highest mean net present value, −`}, append(none, "a gain", "too few"), 9e6, 10e6)
	add("all lose, for certain", certainly, []string{"each is shown to lose money. "}, append(none, "a gain", " – "), 9e6, 10e6)
	add("one replication", func(_ *model.Study, rs *replicate.Results) { *rs = *threeOnce() }, []string{"No alternative is recommended: one replication does not show that any of them pays. "}, none, 160000, 100000)

	life := func(s *model.Study, _ *replicate.Results) { s.Alternatives[2].Line.Economics.Life = model.Const(8) }
	add("a life of its own", life, []string{" A step is valued over the life, at the discount rate and with the tax of the alternative that it leads to."}, []string{"No step"}, 100000, 160000)
	r, _ := rankedOf(t, nil, 160000, 100000)
	r.Steps.Left = []string{"x", "y"}
	list = append(list, stepTruth{truth{what: "prices of its own", says: []string{` No step, because no savings can be calculated: "x" and "y".`}}, StepsSentence(&r.Steps)})
	return list
}

func TestSentencesOfStepsAreTrue(t *testing.T) {
	if testing.Short() {
		t.Skip("long")
	}
	var all []string
	for _, x := range stepTruths(t) {
		x.check(t, x.said)
		all = append(all, x.said)
	}
	r, _ := rankedOf(t, nil, 160000, 100000)
	note := StepsNote(&r.Steps)
	assert.Contains(t, note, "The alternatives exclude each other: one of them is chosen.")
	assert.Contains(t, note, "in the same 400 draws; a step is accepted if the range that holds 95 % of its net")
	said := strings.Join(append(all, note), "\n")
	said += fmt.Sprint(verdicts(t), StepGain(0.0004), StepGain(0.9996))
	for s, pattern := range phrases(t, "steps.go") {
		assert.True(t, pattern.MatchString(said), "no case says %q", s)
	}
	assert.NotContains(t, said, "%!")
	assert.NotContains(t, said, "NaN")
}

// verdicts are the words of every verdict.
func verdicts(t *testing.T) map[string][]string {
	t.Helper()
	of := func(change changed, investments ...float64) []string {
		r, _ := rankedOf(t, change, investments...)
		var all []string
		for _, x := range r.Steps.List {
			all = append(all, StepVerdict(x))
		}
		return all
	}
	return map[string][]string{
		"loses":   of(nil, 100000, 160000),
		"nothing": of(certainly, 160000, 160000),
		"unsure":  of(together(better(2, 4, 4), unpaired), 160000, 200000),
		"few":     of(together(certainly, fewEvents(1)), 160000, 900000),
	}
}

func TestVerdictsOfSteps(t *testing.T) {
	v := verdicts(t)
	assert.Equal(t, []string{"accepted", "loses"}, v["loses"])
	assert.Equal(t, []string{"accepted", "adds nothing"}, v["nothing"])
	assert.Equal(t, []string{"accepted", "not shown to pay"}, v["unsure"])
	assert.Equal(t, "not shown to pay", v["few"][0])
	for share, want := range map[float64]string{0: "none", 0.0004: "< 0.1 %", 0.912: "91.2 %", 0.9996: "> 99.9 %", 1: "all"} {
		assert.Equal(t, want, StepGain(share))
	}
	rate, span := StepRate(savings.Spread{Median: 0.158, Low: 0.1, High: 0.2, Known: 0.004})
	assert.Equal(t, []string{"–", "–"}, []string{rate, span}, "a rate of a few draws")
	rate, span = StepRate(savings.Spread{Median: 0.158, Low: 0.1, High: 0.2, Known: 0.9})
	assert.Equal(t, []string{"15.8", "10.0 – 20.0"}, []string{rate, span})
}
