package report

import (
	"maps"
	"math"
	"reflect"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"rollchange/model"
	"rollchange/out/invented"
	"rollchange/sim/effort"
	"rollchange/sim/estimate"
	"rollchange/sim/match"
	"rollchange/sim/replicate"
	"rollchange/sim/savings"
	"rollchange/sim/whatif"
)

// pageTruth is what a case is built from: a shipped scenario, and what is changed
// of the content afterwards.
type pageTruth struct {
	what   string
	of     string // "label_press"; "little": one alternative, no prices
	change func(*Content)
	says   []string // keys of words that are said, "answer.largest"
	never  []string
	text   []string // what stands on the page
	not    []string
}

const little = `[line]
speed = "100 m/min"
accel = "0.2 m/s2"
decel = "0.5 m/s2"
[unwind]
change = "manual"
roll_length = "2000 m"
change_time = "3 min"
[rewind]
change = "none"
[crew]
operators = 1
`

const two = little + `[web]
width = "0.5 m"
[economics]
hours_per_year = "4000 h"
demand = "10000 km"
price = 0.2
crew_cost = 30
discount_rate = "8 %"
life = 5
[[alternative]]
name = "today"
[[alternative]]
name = "quicker"
investment = 1000
unwind.change_time = "2 min"
`

// answered makes a page tell of another alternative.
func answered(i int) func(*Content) { return func(c *Content) { c.Answer = i } }

// onceOnly takes all but one replication from the results.
func onceOnly(c *Content) {
	rs := *c.Results
	rs.Run.Replications = 1
	rs.Alternatives, rs.Differences = append([]replicate.Result{}, rs.Alternatives...), append([]replicate.Metrics{}, rs.Differences...)
	unsure := func(m replicate.Metrics) replicate.Metrics {
		n := replicate.Metrics{}
		for k, e := range m {
			e.SD, e.N = math.NaN(), 1
			n[k] = within(e, math.NaN())
		}
		return n
	}
	for i := range rs.Alternatives {
		rs.Alternatives[i].Metrics = unsure(rs.Alternatives[i].Metrics)
		if i > 0 {
			rs.Differences[i] = unsure(rs.Differences[i])
		}
	}
	rs.Joint = nil
	c.Results = &rs
	value(c, &c.Scenario.Study)
}

// recorded leaves a tenth of every figure open by the records.
func recorded(c *Content) {
	rs := *c.Results
	rs.Alternatives, rs.Differences = slices.Clone(rs.Alternatives), slices.Clone(rs.Differences)
	for i := range rs.Alternatives {
		rs.Alternatives[i].Metrics, rs.Differences[i] = maps.Clone(rs.Alternatives[i].Metrics), maps.Clone(rs.Differences[i])
	}
	invented.Recorded(&rs, 0.1)
	c.Results = &rs
	value(c, &c.Scenario.Study)
}

// stopped sets the stopped time of the first alternative by cause, with its half width.
func stopped(half float64, share map[string]float64) func(*Content) {
	return func(c *Content) {
		r := &c.Results.Alternatives[0]
		r.Metrics["time.stopped.unwind_change"] = estimate.Estimate{Unit: "1"}
		for k, x := range share {
			r.Metrics["time.stopped."+k] = within(estimate.Estimate{Unit: "1", Mean: x}, half)
			if !slices.Contains(r.Names, "time.stopped."+k) {
				r.Names = append(r.Names, "time.stopped."+k)
			}
		}
	}
}

func repriced(change func(*model.Economics)) func(*Content) {
	return func(c *Content) {
		study := c.Scenario.Study
		study.Alternatives = append([]model.Alternative{}, study.Alternatives...)
		for i := range study.Alternatives {
			change(&study.Alternatives[i].Line.Economics)
		}
		value(c, &study)
	}
}

func pagesOfTruth() []pageTruth {
	unshown := func(c *Content) {
		for i := 1; i < len(c.Results.Differences); i++ {
			c.Results.Differences[i]["good_rate"] = within(c.Results.Differences[i]["good_rate"], 1)
		}
		c.Results.Joint = nil
	}
	return []pageTruth{
		{"the best of two ways", "label_press", nil, []string{"question.several", "question.costs", "question.first", "change.chance", "money.chosen_note", "money.overview_note", "found.paired", "figure.output_paired", "change.swung", "change.chance_intro", "change.chance_note", "change.swept", "figure.stakes", "figure.sensitivity", "figure.speed", "figure.worth", "figure.cash", "figure.storage", "figure.cycle", "money.causes_note", "money.worth_note", "first.certainty_note", "first.rests_note", "first.assumptions_note", "figure.storage_target", "figure.stakes_note"},
			[]string{"answer.tells_of", "answer.no_money", "money.missing", "money.missing_how", "change.no_money", "change.no_storage", "answer.sure_once", "answer.largest"},
			[]string{"“automatic unwind and rewind” is recommended: in order of investment", "automatic unwind: investment 62,000 EUR\n", "Steps of investment\n", "over “automatic unwind”: accepted\n", "The alternatives exclude each other: one of them is chosen."}, []string{"No alternative is"}},
		{"one that is worth less is chosen", "label_press", answered(1), []string{"answer.tells_of", "money.chosen_note"}, nil,
			[]string{"“automatic unwind and rewind” is recommended: ", "This page is about “automatic unwind”.", "“automatic unwind” saves"}, []string{"“automatic unwind” is recommended"}},
		{"none is shown to be worth its step", "label_press", func(c *Content) {
			study := c.Scenario.Study
			study.Alternatives = slices.Clone(study.Alternatives)
			for i := range study.Alternatives[1:] {
				study.Alternatives[i+1].Investment = model.Const(2e7)
			}
			c.Cases, c.NoCase, c.Rank = Cases(&study, c.Results)
			c.Answer = Choose(c.Results, &c.Rank.Steps)
		}, nil, []string{"answer.tells_of"}, []string{"No alternative is recommended: each is shown to lose money. “automatic unwind and rewind” has", "over “by hand”: loses\n"}, []string{" is recommended: in order"}},
		{"the first is chosen", "label_press", answered(0), []string{"answer.tells_of", "answer.no_money", "money.missing", "change.no_money"}, []string{"money.missing_how", "money.chosen_note", "money.causes_note"},
			[]string{"No savings are calculated for “by hand”: the others are compared with it.", "All alternatives against “by hand”"}, []string{"one only"}},
		{"with what the records leave open", "label_press", recorded, []string{"why.records", "why.with_records", "money.half_records"}, nil,
			[]string{"%), at 95 % confidence; from the simulation alone to ±", "Of the variance that the records leave: changeover 80 % (60 values), plate cleaning: repair 10 % (37 values).", "and what the records leave open"}, []string{"They do not cover how well the line itself is known"}},
		{"without the records", "label_press", nil, nil, []string{"why.records", "why.with_records", "money.half_records"}, nil, []string{"the records leave"}},
		{"two ways", "two", nil, []string{"question.two"}, []string{"question.several", "question.one", "answer.tells_of"}, []string{"instead of “today”", "Capacity-limited, if all good web were sold: ", " EUR a year before tax, net present value before tax "}, []string{"recommended", "Steps of investment"}},
		{"no price", "two", repriced(func(e *model.Economics) { e.Price = model.Dist{} }), nil, nil, []string{"Capacity-limited, if all good web were sold: not known, no price is given."}, nil},
		{"one alternative, no prices", "little", nil, []string{"question.one", "answer.makes", "answer.largest", "answer.no_money", "money.missing", "change.no_money", "change.no_storage", "figure.cycle_manual", "first.rests_half"},
			[]string{"found.paired", "figure.output_paired", "figure.stakes", "money.missing_how", "answer.tells_of", "change.unvaried", "answer.sure_once", "first.certainty_note", "first.rests_note"}, []string{"the scenario has only one"}, []string{"compared with"}},
		{"one replication", "little", onceOnly, []string{"answer.makes_once", "answer.sure_once", "answer.largest_once"}, []string{"answer.makes", "answer.largest"}, nil, nil},
		{"one replication, several ways", "label_press", onceOnly, nil, nil, []string{"No alternative is recommended: one replication does not show that any of them pays.", ": not shown to pay\n"}, []string{" is recommended: in order", "makes the most"}},
		{"nothing stops it", "little", stopped(0, nil), []string{"answer.never_stops"}, []string{"answer.largest", "answer.largest_several"}, nil, nil},
		{"one cause of stops", "little", stopped(0.01, map[string]float64{"web_break": 0.2, "changeover": 0.1}), []string{"answer.largest", "answer.stop"}, []string{"answer.largest_several"}, []string{"longest: web break, 20.0 ± 1.0 % of the hours."}, nil},
		{"two that are not told apart", "little", stopped(0.01, map[string]float64{"web_break": 0.2, "changeover": 0.19}), []string{"answer.largest_several"}, []string{"answer.largest"}, []string{"web break, 20.0 ± 1.0 % of the hours; changeover, 19.0"}, nil},
		{"no more is shown to be made", "label_press", unshown, nil, nil, []string{"None is shown to make more good web than “by hand”."}, []string{"makes the most"}},
		{"prices that are lacking", "label_press", repriced(func(e *model.Economics) { e.Life = model.Dist{} }), []string{"money.missing", "money.missing_how", "answer.no_money", "change.no_money"}, []string{"answer.tells_of", "money.overview_note"}, []string{"economics.life is needed"}, nil},
		{"nothing of the money", "two", repriced(func(e *model.Economics) { *e = model.Economics{Currency: e.Currency} }), []string{"money.missing", "answer.no_money"}, nil,
			[]string{"What “quicker” is worth is not calculated: economics.hours_per_year is needed: how long the line may run in a year; economics.discount_rate is needed: what later money is worth today; economics.life is needed: how many years the equipment is used; economics.price is needed: what a square metre of the extra good web earns; or economics.demand, if no more is sold than both can make."}, []string{"for the savings of"}},
		{"a long name is in full once", "two", func(c *Content) {
			of := *c.Scenario
			of.Study.Alternatives = slices.Clone(of.Study.Alternatives)
			of.Study.Alternatives[1].Name = strings.Repeat("quicker ", 12) + "still"
			c.Scenario = &of
		}, nil, nil,
			[]string{"\n" + strings.Repeat("quicker ", 12) + "still: investment 1,000 EUR\n"}, nil},
		{"one way that saves and does not pay", "two", func(c *Content) {
			study := c.Scenario.Study
			study.Alternatives = slices.Clone(study.Alternatives)
			study.Alternatives[1].Investment = model.Const(2e7)
			c.Cases, c.NoCase, c.Rank = Cases(&study, c.Results)
		}, nil, nil, []string{"The answer\n\n“quicker” saves 2,501 EUR a year before tax compared with “today”.\n\nThe investment of 20,000,000 EUR is not paid back within the life; the net present value before tax over 5 years at 8 % is −"}, nil},
		{"prices of its own", "label_press", func(c *Content) {
			c.NoCase[1] = &savings.DifferError{Alternative: "a", Against: "b", Keys: []string{"economics.price"}}
			c.Cases[1], c.Answer = nil, 1
		}, []string{"money.missing", "money.not_calculated"}, []string{"money.missing_how"}, []string{"economics.price"}, nil},
		{"no tax", "label_press", repriced(func(e *model.Economics) { e.TaxRate = model.Dist{} }), nil, nil, []string{"net present value before tax, EUR", "rate of return before tax, %", "saved a year before tax"}, []string{"after tax"}},
		{"tax", "laminator", nil, []string{"question.costs_mean"}, nil, []string{"flying: investment 533,000 EUR (mean)\n", "net present value after tax, EUR", "rate of return after tax, %", "The money counts tax of 25 % on profit", "saved a year before tax", "years after tax ("}, []string{"all figures are before tax"}},
		{"prices that change", "label_press", repriced(func(e *model.Economics) { e.WageChange = model.Const(0.02) }), []string{"first.year_0"}, []string{"first.todays"}, []string{"The money counts prices that change each year: wages +2 %."}, nil},
		{"prices that do not change", "label_press", nil, []string{"first.todays"}, []string{"first.year_0", "first.unshown_note", "why.few_note"}, nil, []string{"The money counts"}},
		{"a move that is not shown", "label_press", func(c *Content) {
			s := *c.Stakes
			x := s.Swings["npv"][0]
			x.LowHalf = 10 * x.Base
			s.Swings = map[string][]whatif.Swing{"npv": {x}}
			c.Stakes = &s
		}, []string{"first.unshown_note"}, nil, []string{"at 108 m/min: ~; at 132 m/min: +"}, nil},
		{"a move that is not possible", "label_press", func(c *Content) {
			s := *c.Stakes
			x := s.Swings["npv"][0]
			x.Low = math.NaN()
			s.Swings = map[string][]whatif.Swing{"npv": {x}}
			c.Stakes = &s
		}, nil, []string{"first.unshown_note"}, []string{"at 108 m/min: not possible; at 132 m/min: +"}, nil},
		{"too few events", "label_press", func(c *Content) {
			e := c.Results.Alternatives[0].Metrics["waste.total"]
			e.Why = estimate.TooFew
			c.Results.Alternatives[0].Metrics["waste.total"] = e
		}, []string{"why.few_note"}, nil, []string{" ± ?"}, nil},
		{"a storage reckoned in part", "label_press", func(c *Content) {
			w := *c.Storage
			w.Points = slices.Clone(w.Points)
			w.Points[1].Reckoned, w.Points[2].Reckoned = true, true
			c.Storage = &w
		}, []string{"change.reckoned"}, nil, []string{" were simulated; the others are calculated"}, nil},
		{"sweeps that miss what the line has", "label_press", func(c *Content) {
			speed, storage := *c.Speed, *c.Storage
			for _, w := range []*whatif.Sweep{&speed, &storage} {
				w.Axes = slices.Clone(w.Axes)
				w.Axes[0].Now = nil
			}
			c.Speed, c.Storage = &speed, &storage
		}, []string{"change.swept"}, []string{"change.own_point"}, nil, []string{"own value is that of the answer"}},
		{"a sweep with what the lines have", "label_press", func(c *Content) {
			speed := *c.Speed
			speed.Axes = slices.Clone(speed.Axes)
			speed.Axes[0].Now = map[int]float64{}
			for a := range speed.Alternatives {
				speed.Axes[0].Now[a] = speed.Axes[0].Values[speed.Points[0].At[0]]
			}
			c.Speed = &speed
		}, []string{"change.own_point"}, nil, []string{"own value is that of the answer"}, nil},
		{"a storage simulated at every point", "label_press", nil, nil, []string{"change.reckoned"}, nil, []string{"the others are calculated"}},
		{"a storage that cannot be varied", "label_press", func(c *Content) { c.Storage = nil }, []string{"change.unvaried"}, []string{"change.no_storage", "figure.storage"}, nil, nil},
		{"what the line made", "label_press", func(c *Content) {
			c.Match = &match.Answer{Alternative: "by hand", Hours: 3.6e6, Lines: 1, Periods: 199, Confidence: 0.95, Rows: []match.Row{{Figure: match.Good, Unit: "m", Recorded: 9e5, Mean: 1e6, Low: 9.5e5, High: 1.05e6}}}
		}, []string{"match.intro", "figure.records"}, nil, []string{"The line made less good web than the model expects, by 10 %"}, nil},
		{"nothing of what the line made is known", "label_press", func(c *Content) { c.Match = nil }, nil, []string{"match.intro", "figure.records"}, nil, []string{"than the model expects"}},
		{"a list of orders", "label_press", func(c *Content) { c.Plan = invented.Plan(130, 2, invented.PlanNames) }, []string{"plan.note", "plan.orders_note", "figure.plan"}, []string{"figure.plan_undated"},
			[]string{"“zero-speed, 60 m” is done 10.00 ± 0.50 h sooner", "When each order is made\n", "4901", "And 10 orders that follow.", "late, by hand"}, []string{"5021"}},
		{"a list of orders that nobody waits for", "label_press", func(c *Content) {
			c.Plan = invented.Plan(4, 2, invented.PlanNames)
			for i := range c.Plan.Orders {
				c.Plan.Orders[i].Due = model.NotDue
			}
		}, []string{"figure.plan_undated"}, []string{"figure.plan"}, nil, []string{"late, by hand", "orders on time"}},
		{"no list of orders", "label_press", nil, nil, []string{"plan.note", "plan.orders_note", "figure.plan"}, nil, []string{"When each order is made"}},
		{"nothing moves it", "label_press", func(c *Content) { c.Cases[c.Answer].Swings = nil }, []string{"change.unmoved"}, []string{"change.no_money", "figure.worth"}, nil, nil},
		{"no input moves it", "label_press", func(c *Content) { c.Stakes, c.Chance = &whatif.Sensitivities{}, &whatif.Sensitivities{} }, nil, []string{"change.chance_intro", "change.chance_note", "change.swung", "figure.stakes", "figure.sensitivity", "first.assumptions_note", "figure.stakes_note"}, nil, nil},
		{"no target was set", "label_press", func(c *Content) {
			w := *c.Storage
			w.Limits.Risk = whatif.Risk{}
			c.Storage = &w
		}, nil, []string{"figure.storage_target"}, nil, nil},
		{"random variation that is split", "label_press", func(c *Content) {
			v := c.Chance.Varies["good_rate"]
			v.Split, v.Rest = true, whatif.Source{Share: 0.08, Half: 0.02}
			c.Chance.Varies = map[string]whatif.Varies{"good_rate": v}
		}, []string{"change.chance_split_note"}, []string{"change.chance_note"}, []string{"the rest"}, nil},
		{"random variation of which hardly any is left", "label_press", func(c *Content) {
			v := c.Chance.Varies["good_rate"]
			v.Split, v.Rest = true, whatif.Source{Share: 0.004, Half: 0.002}
			c.Chance.Varies = map[string]whatif.Varies{"good_rate": v}
		}, []string{"change.chance_split_note"}, []string{"change.chance_note"}, nil, []string{"the rest\n"}},
		{"a speed at which a limit binds", "label_press", nil, []string{"figure.speed_marks"}, nil, nil, nil},
		{"no limit binds", "label_press", func(c *Content) {
			for i := range c.Speed.Points {
				c.Speed.Points[i].Binds = make([][]whatif.Bound, len(c.Speed.Alternatives))
			}
			c.SpeedEnds = ""
		}, nil, []string{"figure.speed_marks", "figure.ends"}, nil, nil},
		{"a speed that ends", "label_press", func(c *Content) { c.SpeedEnds = "150 m/min: too fast" }, []string{"figure.ends"}, nil, nil, nil},
	}
}

// always are sentences that are true of every page, or say what a word means.
var always = map[string]bool{"again.intro": true, "change.intro": true, "found.method": true, "found.balance": true, "found.inputs_note": true, "why.table_note": true,
	"figure.hours": true, "figure.web": true, "figure.output": true, "figure.line": true, "figure.alt_more": true, "figure.cycle_note": true,
	"figure.wider": true, "figure.name": true, "figure.table": true, "figure.left_out": true}

var verbs = regexp.MustCompile(`%[-+.0-9]*[a-zA-Z]`)

// pattern is what a word looks like on the page, whatever is filled in.
func pattern(text string) *regexp.Regexp {
	parts := verbs.Split(typeset(text), -1)
	for i := range parts {
		parts[i] = regexp.QuoteMeta(strings.ReplaceAll(parts[i], "%%", "%"))
	}
	return regexp.MustCompile(strings.Join(parts, `[^\n]*?`))
}

// Each sentence that the page says itself is said where it is true and not
// where it is false; and there is none that no case here has.
func TestThePageSaysWhatIsTrue(t *testing.T) {
	effort.NotInRace(t)
	if testing.Short() {
		t.Skip("long")
	}
	w, err := wordsOf("en")
	require.NoError(t, err)
	words := map[string]string{}
	v := reflect.ValueOf(*w)
	for i := range v.NumField() {
		if m, ok := v.Field(i).Interface().(map[string]string); ok {
			for key, s := range m {
				words[strings.ToLower(v.Type().Field(i).Name)+"."+key] = s
			}
		}
	}
	tested := map[string]bool{}
	bases := map[string]*Content{"little": made(t, little), "two": made(t, two)}
	for _, x := range pagesOfTruth() {
		if bases[x.of] == nil {
			bases[x.of] = made(t, shipped(t, x.of))
		}
		c := copied(bases[x.of])
		if x.change != nil {
			x.change(c)
		}
		said := paragraphs(t, written(t, c))
		for _, key := range x.says {
			require.Contains(t, words, key)
			assert.True(t, pattern(words[key]).MatchString(said), "%s: %s is not said", x.what, key)
			tested[key] = true
		}
		for _, key := range x.never {
			require.Contains(t, words, key)
			assert.False(t, pattern(words[key]).MatchString(said), "%s: %s is said", x.what, key)
		}
		for _, s := range x.text {
			assert.Contains(t, said, s, x.what)
		}
		for _, s := range x.not {
			assert.NotContains(t, said, s, x.what)
		}
	}
	for key, s := range words {
		if strings.HasPrefix(key, "log.") {
			continue // TestThePageOfALog
		}
		if strings.HasSuffix(s, ".") || strings.HasSuffix(s, "?") {
			assert.True(t, tested[key] || always[key], "%s: no case says %q", key, s)
		}
	}
}

// copied is a content of which what cases change is its own.
func copied(c *Content) *Content {
	n, rs := *c, *c.Results
	rs.Alternatives, rs.Differences = slices.Clone(rs.Alternatives), slices.Clone(rs.Differences)
	for i := range rs.Alternatives {
		a := &rs.Alternatives[i]
		a.Names, a.Metrics, rs.Differences[i] = slices.Clone(a.Names), maps.Clone(a.Metrics), maps.Clone(rs.Differences[i])
	}
	n.Results, n.Cases, n.NoCase = &rs, slices.Clone(c.Cases), slices.Clone(c.NoCase)
	for i, k := range n.Cases {
		if k != nil {
			own := *k
			n.Cases[i] = &own
		}
	}
	if c.Speed != nil {
		s := *c.Speed
		s.Points = slices.Clone(s.Points)
		n.Speed = &s
	}
	return &n
}

// within is an estimate with an interval of a half width about its mean; NaN takes
// the interval away, as one replication has none.
func within(e estimate.Estimate, half float64) estimate.Estimate {
	e.HalfWidth, e.Low, e.High, e.Why = half, e.Mean-half, e.Mean+half, estimate.Symmetric
	if math.IsNaN(half) {
		e.Why = estimate.OneReplication
	}
	return e
}
