package report

import (
	"fmt"
	"strings"

	"rollchange/model"
	"rollchange/out/words"
	"rollchange/sim/metric"
	"rollchange/sim/savings"
)

// fill is a line of the head: what stands there, or nothing, to be filled in by hand.
type fill struct{ Label, Text string }

// signer is who signs, and the lines for it.
type signer struct {
	Who   string
	Lines []fill
}

// cover is what stands at the head of the page: that of the flags, else of the scenario.
func (c *Content) cover() model.Cover {
	v := c.Scenario.Study.Cover
	for _, x := range []struct {
		to   *string
		from string
	}{{&v.Customer, c.Cover.Customer}, {&v.Author, c.Cover.Author}, {&v.Date, c.Cover.Date}, {&v.Question, c.Cover.Question}} {
		if x.from != "" {
			*x.to = x.from
		}
		*x.to = words.Line(*x.to, mostTitle)
	}
	return v
}

// first is the page that is read and signed: question, answer, what it rests on.
func (b *builder) first() {
	c, f := b.c, b.w.First
	v := c.cover()
	question := v.Question
	if question == "" {
		question = c.question(b.w)
	}
	b.section("question", b.w.Question["head"])
	b.add(block{Lead: question})
	b.section("answer", b.w.Answer["head"])
	for _, s := range c.short(b.w) {
		b.add(block{Lead: s})
	}
	if t := c.certaintyTable(b.w); t != nil {
		b.add(block{Table: t})
	}
	b.section("rests", f["rests"])
	b.add(block{Table: c.restsTable(b.w)})
	if k := c.chosen(); k != nil {
		b.add(block{Text: words.CaseKind(k, c.Scenario.Study.Units)})
		if s := words.CountedSentence(k, c.Scenario.Study.Units); s != "" {
			b.add(block{Text: s})
		}
	}
	if t := c.assumptionsTable(b.w); t != nil {
		b.section("assumptions", f["assumptions"])
		b.add(block{Table: t})
	}
	if t := c.shortMatch(); t != nil {
		b.section("recorded", words.MatchHead)
		b.add(block{Table: t})
	}
	b.section("signed", f["signed"])
	writer := signer{Who: f["written"], Lines: []fill{{f["name"], v.Author}, {f["date"], v.Date}, {f["signature"], ""}}}
	reader := signer{Who: f["accepted"], Lines: []fill{{f["name"], ""}, {f["date"], ""}, {f["signature"], ""}}}
	if v.Customer != "" {
		reader.Who = fmt.Sprintf(f["accepted_for"], name(v.Customer))
	}
	b.add(block{Signs: []signer{writer, reader}})
}

// short is the answer in a few sentences: money where there is any, else output and hours.
func (c *Content) short(w *phrases) []string {
	k := c.chosen()
	if k == nil {
		return c.answer(w)
	}
	list := []string{words.SavedSentence(k)}
	switch s := words.StepsShown(&c.Rank.Steps); {
	case s != "" && c.Rank.Steps.Several():
		if c.Rank.Steps.Shown() != c.Answer {
			s += ". " + strings.TrimSuffix(fmt.Sprintf(w.Answer["tells_of"], name(k.Alternative)), ".")
		}
		list = append(list, s+".")
	case !(k.Random.NPV.Low > 0): // nothing is recommended that would say so: a saving is not yet a gain
		list = append(list, words.WorthSentence(k))
	}
	return list
}

// certaintyTable is the money and the years of the answer with how sure they are; nil
// without a savings case.
func (c *Content) certaintyTable(w *phrases) *table {
	k, m, f := c.chosen(), w.Money, w.First
	if k == nil {
		return nil
	}
	r, cur := k.Random, ", "+name(k.Currency)
	prices := f["todays"]
	if len(k.Changes()) > 0 {
		prices = f["year_0"]
	}
	t := &table{
		Head: []string{m["measure"], f["middle"], fmt.Sprintf(f["between"], 100*k.Run.Confidence), f["certainty"]},
		Note: fmt.Sprintf(f["certainty_note"], words.Grouped(float64(r.Draws)), prices)}
	add := func(label, kind, figure, span, of, spanOf, certain string) {
		t.add("", row{Head: fmt.Sprintf(f[kind], label), Cells: []cell{{Text: figure, Of: ofCase(c.Answer, of)}, {Text: span, Of: ofCase(c.Answer, spanOf)}, {Text: certain}}})
	}
	money := func(label string, s savings.Spread, of, spanOf, certain string) {
		add(label+cur, "mean", words.Money(s.Mean, words.HalfOf(s)), words.MoneySpan(s), of, spanOf, certain)
	}
	money(m["saved"], r.Total, "savings.total", "savings.total.span", "")
	money(m["investment"], r.Investment, "investment.first.mean", "investment.first.span", "")
	if r.Invests > 0 {
		add(m["simple"]+" "+taxed(w, k)+", "+m["years"], "median", words.Payback(r.Simple.Median), words.PaybackSpan(r.Simple), "simple.median", "simple.span", "")
		pays := fmt.Sprintf(f["pays"], words.InDraws(r.PaysBack.Discounted, r.Draws))
		if r.Invests < 1 {
			pays = fmt.Sprintf(f["pays_those"], words.Percent(r.PaysBack.Discounted)+" %")
		}
		add(f["discounted"]+" "+taxed(w, k)+", "+m["years"], "median", words.Payback(r.Discounted.Median), words.PaybackSpan(r.Discounted), "discounted.median", "discounted.span", pays)
	}
	money(m["npv"]+" "+taxed(w, k)+", "+words.LifeAndRate(k), r.NPV, "npv.mean", "npv.span", fmt.Sprintf(f["gains"], words.InDraws(r.Gains, r.Draws)))
	return t
}

// restsTable is what the answer rests on, of the first and of what is told of in full:
// the web that is sold in a year, the hours and the waste; without money what each
// makes, how long it runs and what it wastes.
func (c *Content) restsTable(w *phrases) *table {
	f, sys := w.First, c.Scenario.Study.Units
	of := []int{0}
	if c.Answer > 0 {
		of = append(of, c.Answer)
	}
	t := &table{Head: []string{f["rests_line"]}}
	if c.chosen() != nil {
		t.Head[0] = f["rests_year"]
	}
	for _, i := range of {
		t.Head = append(t.Head, name(c.Results.Alternatives[i].Alternative))
	}
	add := func(label string, text func(side int) cell) {
		r := row{Head: label}
		for side := range of {
			r.Cells = append(r.Cells, text(side))
		}
		t.add("", r)
	}
	if k := c.chosen(); k != nil {
		years := k.Yearly()
		year := func(figure func(*savings.Yearly) savings.Spread, u model.Unit) func(int) cell {
			return func(side int) cell {
				mean, span := words.OverDraws(figure(&years[side]), u)
				if span != "" {
					mean += " (" + span + ")"
				}
				return cell{Text: mean}
			}
		}
		web := func(label string, figure func(*savings.Yearly) savings.Spread) {
			var row []savings.Spread
			for side := range of {
				row = append(row, figure(&years[side]))
			}
			u := words.UnitOverDraws(row, sys)
			add(label+", "+u.Name, year(figure, u))
		}
		web(f["sold"], func(y *savings.Yearly) savings.Spread { return y.Good })
		add(f["hours"]+", h", year(func(y *savings.Yearly) savings.Spread { return y.Hours }, model.Unit{SI: 3600}))
		web(f["wasted"], func(y *savings.Yearly) savings.Spread { return y.Waste })
		t.Note = fmt.Sprintf(f["rests_note"], 100*k.Run.Confidence)
	} else {
		u := model.Display(model.Speed, sys)
		add(words.MetricLabel(metric.GoodRate)+", "+u.Name, func(side int) cell { return c.metricCell(metric.GoodRate, of[side], u) })
		add(words.MetricLabel(metric.Availability)+", %", func(side int) cell {
			return c.metricCell(metric.Availability, of[side], model.Unit{Name: "%", SI: 0.01})
		})
		if c.Results.Run.Replications > 1 {
			t.Note = fmt.Sprintf(f["rests_half"], 100*c.Results.Run.Confidence)
		}
	}
	add(words.MetricLabel(metric.Waste)+", %", func(side int) cell { return c.metricCell(metric.Waste, of[side], model.Unit{Name: "%", SI: 0.01}) })
	return t
}
