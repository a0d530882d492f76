package whatif

import (
	"context"
	"fmt"
	"math"
	"strconv"
	"strings"

	"rollchange/model"
	"rollchange/sim"
	"rollchange/sim/estimate"
	"rollchange/sim/replicate"
)

// told is what a curve came to before, and how it comes to what it needs for more. What
// is recorded of the changes takes too much room to be kept from one run of the program
// to the next, what a curve tells of a capacity next to none.
type told struct {
	ctx     context.Context
	facts   *replicate.Facts
	run     replicate.RunInfo
	workers int
}

func (q *search) toldOf(line *model.Line, run replicate.RunInfo) *told {
	return &told{q.ctx, replicate.FactsOf(q.ctx, line), run, q.opt.Workers}
}

// estimates are those of the two metrics with another capacity, as they were told before
// or reckoned. Where ctx has ended before they could be, they are no numbers.
func (c *curve) estimates(x float64) (list [2]estimate.Estimate) {
	line, run := c.lineAt(x), &c.told.run
	what := fmt.Sprintf("chance %d %#v %#v %d %d %v %v %v", c.which, *storageOf(line, c.which), c.unseen, run.Seed, run.Replications, run.Horizon, run.WarmUp, c.confidence)
	if text := c.told.facts.Find(what); text != nil {
		if list, ok := estimatesOf(string(text)); ok {
			return list
		}
	}
	if c.cycles == nil && !c.record() {
		list[0].Mean, list[1].Mean = math.NaN(), math.NaN()
		return list
	}
	list = c.reckoned(line)
	c.told.facts.Keep(what, []byte(estimatesText(list)))
	return list
}

// record simulates the line of a curve once more, for its changes.
func (c *curve) record() bool {
	study := model.Study{Alternatives: []model.Alternative{{Line: c.line}}}
	var list [][]*sim.Cycles
	err := replicate.Each(c.told.ctx, &study, c.told.run, 0, c.told.run.Replications, replicate.Options{Workers: c.told.workers, Cycles: true}, func(_ int, x []*sim.Sample) error {
		list = append(list, x[0].Cycles[c.which])
		return nil
	})
	if err == nil {
		c.cycles = list
	}
	return err == nil
}

// estimatesText writes two estimates so that estimatesOf reads the same, number by number.
func estimatesText(list [2]estimate.Estimate) string {
	var words []string
	for _, e := range list {
		words = append(words, e.Unit, string(e.Why), strconv.Itoa(e.N), strconv.Itoa(e.Needed))
		for _, x := range numbersOf(&e) {
			words = append(words, strconv.FormatFloat(*x, 'g', -1, 64))
		}
	}
	return strings.Join(words, "\t")
}

// numbersOf are those of an estimate that are not whole.
func numbersOf(e *estimate.Estimate) [7]*float64 {
	return [...]*float64{&e.Mean, &e.HalfWidth, &e.SD, &e.Low, &e.High, &e.Trials, &e.Unseen}
}

// estimatesOf reads what estimatesText wrote; false for anything else.
func estimatesOf(text string) (list [2]estimate.Estimate, ok bool) {
	words := strings.Split(text, "\t")
	const each = 4 + 7
	if len(words) != len(list)*each {
		return list, false
	}
	for m := range list {
		e, w := &list[m], words[m*each:]
		var errs [each]error
		e.Unit, e.Why = w[0], estimate.Why(w[1])
		e.N, errs[0] = strconv.Atoi(w[2])
		e.Needed, errs[1] = strconv.Atoi(w[3])
		for i, x := range numbersOf(e) {
			*x, errs[2+i] = strconv.ParseFloat(w[4+i], 64)
		}
		for _, err := range errs {
			if err != nil {
				return list, false
			}
		}
	}
	return list, true
}
