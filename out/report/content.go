package report

import (
	"fmt"

	"rollchange/model"
	"rollchange/out/picture"
	"rollchange/out/words"
	"rollchange/scenarios"
	"rollchange/sim"
	"rollchange/sim/match"
	"rollchange/sim/metric"
	"rollchange/sim/plan"
	"rollchange/sim/replicate"
	"rollchange/sim/savings"
	"rollchange/sim/whatif"
)

// Content is what a page is made from. What was not asked for is nil.
type Content struct {
	About    words.About
	Title    string      // empty: that of the scenario
	Cover    model.Cover // empty: that of the scenario
	Logo     *Logo
	Lang     string // "en"
	Command  string // that makes the page again
	Scenario *scenarios.Scenario
	Results  *replicate.Results
	Cases    []*savings.Case // by alternative; nil where there is none
	NoCase   []error         // why not, by alternative; nil where there is one
	Rank     savings.Ranking // of Cases
	Answer   int             // the alternative that is told of in full; see Choose

	Speed     *whatif.Sweep // good_rate over line.speed, all alternatives
	SpeedEnds string        // why it ends where it does
	Storage   *whatif.Sweep // the risk over the storage of StorageOf alone
	StorageOf int
	Cycle     []sim.Record // a roll change of CycleOf
	CycleOf   int
	Stakes    *whatif.Sensitivities // good_rate of the answer, and npv where there is a savings case
	SwungHow  string                // how Stakes were simulated
	Chance    *whatif.Sensitivities // what good_rate of the answer varies by
	SweptHow  string                // how the points of Speed and Storage were simulated

	Match *match.Answer // what the line really made beside the model
	Plan  *plan.Answer  // when the orders of the list are made; see Listed
}

// Choose names the alternative that a page tells of in full: the one that the steps
// of investment recommend, or that is worth most in the mean of the draws where they
// recommend none, else the one that is shown to make most, else the first.
func Choose(rs *replicate.Results, steps *savings.Steps) int {
	best := steps.Shown()
	if best > 0 {
		return best
	}
	for i := 1; i < len(rs.Alternatives); i++ {
		if d := rs.Differences[i][metric.GoodRate]; d.Mean > 0 && (d.Shown() || rs.Run.Replications < 2) && (best == 0 || d.Mean > rs.Differences[best][metric.GoodRate].Mean) {
			best = i
		}
	}
	return best
}

// Cases are the savings cases of all alternatives against the first, why there
// is none where there is none, and which is worth most and which to choose. The one that
// is told of in full is to be explained.
func Cases(study *model.Study, rs *replicate.Results) (cases []*savings.Case, reasons []error, rank savings.Ranking) {
	cases, reasons = savings.Cases(study, rs, savings.Options{})
	return cases, reasons, savings.Rank(study, rs, cases, savings.Options{})
}

// MostInputs is how many inputs a picture of what moves a figure shows.
const MostInputs = 10

// Needs is what a picture is drawn from.
type Needs int

// What pictures need beside the scenario.
const (
	NeedResults Needs = 1 << iota
	NeedCases         // and results
	NeedSpeed
	NeedStorage
	NeedCycle
	NeedSwings
	NeedMatch
	NeedPlan
)

// Kind is a picture that a page can hold.
type Kind struct {
	Name, Means string
	Needs       Needs
}

// Kinds are all pictures, in the order in which they are listed.
func Kinds() []Kind {
	return []Kind{
		{"hours", "where the hours go", NeedResults},
		{"web", "web that does not become good product", NeedResults},
		{"output", "good output with its limits", NeedResults},
		{"cash", "cash flow of a savings case with its band", NeedCases},
		{"worth", "which economic inputs move the net present value", NeedCases},
		{"stakes", "which inputs of the line, and prices, move the net present value", NeedSwings | NeedCases},
		{"sensitivity", "which inputs move the output", NeedSwings | NeedResults},
		{"speed", "output against line speed, and what binds", NeedSpeed},
		{"storage", "risk of depletion against the size of the storage", NeedStorage},
		{"line", "the line drawn to scale", 0},
		{"records", "what the line really made beside what the model expects", NeedMatch},
		{"plan", "when each order of a list is made, and which are late", NeedPlan},
		{"cycle", "one roll change: speeds, storage content, events", NeedCycle},
	}
}

// Picture draws one kind of picture. The error says what it lacks.
func (c *Content) Picture(kind string) (*picture.Picture, error) {
	sys := c.Scenario.Study.Units
	lack := func(format string, a ...any) (*picture.Picture, error) { return nil, fmt.Errorf(format, a...) }
	p := (*picture.Picture)(nil)
	switch kind {
	case "hours":
		p = picture.Hours(c.Results)
	case "web":
		p = picture.Waste(c.Results)
	case "output":
		p = picture.Output(c.Results, sys)
	case "line":
		a := &c.Scenario.Study.Alternatives[c.Answer]
		p = picture.Line(a.Name, &a.Line, sys)
	case "cash", "worth":
		k := c.chosen()
		switch {
		case k == nil:
			return lack("no savings are calculated: %s", c.whyNoMoney())
		case kind == "cash":
			p = picture.Cash(k)
		default:
			p = picture.Worth(k, sys)
		}
	case "sensitivity":
		p = picture.Stakes(c.Stakes, metric.GoodRate, MostInputs, sys)
	case "stakes":
		if c.chosen() == nil {
			return lack("no savings are calculated: %s", c.whyNoMoney())
		}
		p = picture.StakesTold(c.Stakes, "npv", words.MeanNPV(c.chosen()), MostInputs, sys)
	case "speed":
		if c.Speed == nil {
			return lack("the speed cannot be varied: %s", c.SpeedEnds)
		}
		p = picture.Sweep(c.Speed, metric.GoodRate, sys)
	case "storage":
		if c.Storage == nil {
			return lack("no alternative uses a storage")
		}
		p = picture.Sweep(c.Storage, c.riskMetric(), sys)
	case "records":
		if c.Match == nil {
			return lack("the scenario has no [records] of what the line really made")
		}
		p = picture.Match(c.Match)
	case "plan":
		if c.Plan == nil {
			return lack("the scenario has no list of orders that is run once: [orders] needs a file or a list, and repeat = false")
		}
		p = picture.Plan(c.Plan)
	case "cycle":
		if len(c.Cycle) < 2 {
			return lack("no roll change was seen")
		}
		return picture.Trace(c.Cycle, c.Cycle[0].Line, &c.Scenario.Study.Alternatives[c.CycleOf].Line, sys)
	default:
		return lack("no picture of the kind %q", kind)
	}
	if p == nil {
		return lack("there is nothing to draw")
	}
	return p, nil
}

// chosen is the savings case that is told of in full, nil when there is none.
func (c *Content) chosen() *savings.Case {
	if c.Answer < len(c.Cases) {
		return c.Cases[c.Answer]
	}
	return nil
}

// priced says whether any alternative has a savings case.
func (c *Content) priced() bool { return savings.Best(c.Cases) > 0 }

// riskMetric is the metric of the sweep over the storage.
func (c *Content) riskMetric() string {
	if c.Storage != nil && c.Storage.Axes[0].Key == "rewind.storage.capacity" {
		return metric.Overfill
	}
	return metric.Depletion
}
