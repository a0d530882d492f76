package report

import (
	"fmt"
	"math"

	"rollchange/model"
	"rollchange/out/words"
	"rollchange/sim/estimate"
	"rollchange/sim/metric"
	"rollchange/sim/savings"
	"rollchange/sim/whatif"
)

// ofCase names a figure of a savings case, for the JSON.
func ofCase(alternative int, figure string) string {
	return fmt.Sprintf("case.%d.%s", alternative, figure)
}

// overviewTable sets the savings cases of all alternatives side by side, the
// one that is told of in full first.
func (c *Content) overviewTable(w *phrases) *table {
	m := w.Money
	best := c.Cases[c.Rank.Best]
	cur := ", " + name(best.Currency)
	t := &table{Name: fmt.Sprintf(m["overview"], name(c.Results.Alternatives[0].Alternative)),
		Head: []string{m["alternative"], m["investment"] + cur, m["saved"] + cur, m["npv"] + " " + taxed(w, best) + cur, m["irr"] + " " + taxed(w, best) + ", %", m["simple"] + " " + taxed(w, best) + ", " + m["years"], m["chance"]}}
	var order []int
	if c.Answer > 0 {
		order = append(order, c.Answer)
	}
	for i := 1; i < len(c.Cases); i++ {
		if i != c.Answer {
			order = append(order, i)
		}
	}
	for _, i := range order {
		k := c.Cases[i]
		r := row{Head: name(c.Results.Alternatives[i].Alternative)}
		if k == nil {
			r.Sub = fmt.Sprintf(m["not_calculated"], words.Line(c.NoCase[i].Error(), 160))
			for range t.Head[1:] {
				r.Cells = append(r.Cells, cell{Text: "–"})
			}
			t.add("", r)
			continue
		}
		r.Sub = words.LimitedBy(k)
		x := k.Random
		r.Cells = []cell{
			{Text: words.Money(x.Investment.Mean, words.HalfOf(x.Investment)), Of: ofCase(i, "investment")},
			{Text: words.Money(x.Total.Mean, words.HalfOf(x.Total)), Below: words.MoneySpan(x.Total), Of: ofCase(i, "savings.total"), BelowOf: ofCase(i, "savings.total.span")},
			{Text: words.Money(x.NPV.Mean, words.HalfOf(x.NPV)), Below: words.MoneySpan(x.NPV), Of: ofCase(i, "npv"), BelowOf: ofCase(i, "npv.span")},
			{Text: words.Percent(x.IRR.Median), Below: words.PercentSpan(x.IRR), Of: ofCase(i, "irr"), BelowOf: ofCase(i, "irr.span")},
			{Text: words.Payback(x.Simple.Median), Below: words.PaybackSpan(x.Simple), Of: ofCase(i, "simple"), BelowOf: ofCase(i, "simple.span")},
			{Text: words.ChanceOfDraws(x.PaysBack.Discounted, x.Draws), Of: ofCase(i, "pays")},
		}
		t.add("", r)
	}
	t.Note = fmt.Sprintf(m["overview_note"], words.Grouped(float64(best.Random.Draws)), 100*best.Run.Confidence)
	if k := c.chosen(); k != nil {
		t.Note += " " + fmt.Sprintf(m["chosen_note"], name(k.Alternative))
	}
	return t
}

// taxed says on which side of tax flows and what is calculated from them are.
func taxed(w *phrases, k *savings.Case) string {
	if k.Taxed() {
		return w.Money["after_tax"]
	}
	return w.Money["before_tax"]
}

// half is what the simulation alone leaves open of a saving.
func half(s savings.Saving) string {
	switch h := s.HalfWidth; {
	case math.IsNaN(h):
		return "± n/a"
	case h > 0:
		return "± " + words.Money(h, h)
	}
	return ""
}

func rateText(w *phrases, k *savings.Case) string {
	switch len(k.Worth.Rates) {
	case 0:
		return w.Money["none"]
	case 1:
		return words.Percent(k.Worth.IRR())
	}
	return w.Money["not_unique"]
}

// causeTable is the savings of a year by cause, with how each is calculated.
func (c *Content) causeTable(w *phrases) *table {
	k, m := c.chosen(), w.Money
	t := &table{Name: fmt.Sprintf(m["causes_name"], name(k.Alternative), name(k.Currency)), Head: []string{m["cause"], m["mean"], m["range"], m["means"], m["half"]},
		Note: fmt.Sprintf(m["causes_note"], 100*k.Run.Confidence, words.Grouped(float64(k.Random.Draws)))}
	add := func(label, sub, figure string, s savings.Saving, r savings.Spread) {
		of := ofCase(c.Answer, "savings."+figure)
		alone := cell{Text: half(s), Of: of + ".half"}
		if k.Records && s.Records > 0 {
			alone.Below = fmt.Sprintf(m["half_records"], "± "+words.Money(s.Records, s.Records))
		}
		t.add("", row{Head: label, Sub: sub, Cells: []cell{{Text: words.Money(r.Mean, words.HalfOf(r)), Of: of}, {Text: words.MoneySpan(r), Of: of + ".span"},
			{Text: words.Money(s.Value, s.HalfWidth), Of: of + ".means"}, alone}})
	}
	for _, s := range k.Save {
		if r := k.Random.Save[s.Cause]; s.Given && !words.Idle(s, r) {
			add(words.CauseLabel(s.Cause), words.CauseFormula(k, s.Cause), s.Cause.Key(), s, r)
		}
	}
	add(m["total"], "", "total", k.Total, k.Random.Total)
	return t
}

// flowTable is the cash flow by year; it is the data of its picture too.
func (c *Content) flowTable(w *phrases) *table {
	k, m := c.chosen(), w.Money
	t := &table{Head: []string{m["year"], m["net"], m["sum"], m["net_range"], m["sum_range"]}, Note: words.MoneyNote(k)}
	largest, sum, flows := 0.0, 0.0, words.MeanFlows(k)
	for _, y := range flows {
		largest = max(largest, math.Abs(y.Net))
	}
	for i, y := range flows {
		sum += y.Net
		of := ofCase(c.Answer, fmt.Sprintf("flow.%d", i))
		t.add("", row{Head: fmt.Sprint(y.Year), Cells: []cell{{Text: words.Money(y.Net, largest/100), Of: of + ".net"}, {Text: words.Money(sum, largest/100), Of: of + ".sum"},
			{Text: words.MoneySpan(k.Random.Flow[i]), Of: of + ".net.span"}, {Text: words.MoneySpan(k.Random.Cumulative[i]), Of: of + ".sum.span"}}})
	}
	return t
}

// worthTable is what the cash flow comes to.
func (c *Content) worthTable(w *phrases) *table {
	k, m := c.chosen(), w.Money
	v, r, cur := &k.Worth, k.Random, ", "+name(k.Currency)
	t := &table{Name: fmt.Sprintf(m["worth_name"], taxed(w, k), words.LifeAndRate(k)), Head: []string{m["measure"], m["mean"], m["range"], m["median"], m["means"]}, Note: m["worth_note"]}
	add := func(label, of string, cells ...string) {
		of = ofCase(c.Answer, of)
		t.add("", row{Head: label, Cells: []cell{{Text: cells[0], Of: of + ".mean"}, {Text: cells[1], Of: of + ".span"}, {Text: cells[2], Of: of + ".median"}, {Text: cells[3], Of: of + ".means"}}})
	}
	amount := func(label, of string, x float64, s savings.Spread) {
		q := words.HalfOf(s)
		add(label+cur, of, words.Money(s.Mean, q), words.MoneySpan(s), words.Money(s.Median, q), words.Money(x, q))
	}
	share := func(label, of, means string, s savings.Spread) {
		add(label, of, words.Percent(words.MeanOf(s)), words.PercentSpan(s), words.Percent(s.Median), means)
	}
	years := func(label, of string, x float64, s savings.Spread) {
		add(label, of, words.Payback(words.MeanOf(s)), words.PaybackSpan(s), words.Payback(s.Median), words.Payback(x))
	}
	amount(m["investment"], "investment.row", v.Investment, r.Investment)
	amount(m["npv"], "npv", v.NPV, r.NPV)
	amount(m["per_year"], "per_year", v.PerYear, r.PerYear)
	share(m["rate"]+", %", "irr", rateText(w, k), r.IRR)
	share(m["mirr"]+", %", "mirr", words.Percent(v.MIRR), r.MIRR)
	years(m["payback"]+", "+m["years"], "simple", v.Simple, r.Simple)
	years(m["discounted"]+", "+m["years"], "discounted", v.Discounted, r.Discounted)
	years(m["sir"], "sir", v.SIR, r.SIR)
	t.add("", row{Head: m["gains"], Cells: []cell{{Text: words.ChanceOfDraws(r.Gains, r.Draws), Of: ofCase(c.Answer, "gains")}, {}, {}, {}}})
	t.add("", row{Head: m["pays"], Cells: []cell{{Text: words.ChanceOfDraws(r.PaysBack.Discounted, r.Draws), Of: ofCase(c.Answer, "pays")}, {}, {}, {}}})
	return t
}

// swingTable is the data of the picture of what moves the net present value.
func (c *Content) npvSwingTable(w *phrases) *table {
	k, f := c.chosen(), w.Figure
	npv := ": " + w.Money["mean_npv"] + ", " + name(k.Currency)
	t := &table{Head: []string{f["input"], f["low"] + npv, f["high"] + npv}}
	for i, s := range k.Swings {
		if i == 8 {
			break
		}
		of := ofCase(c.Answer, fmt.Sprintf("swing.%d", i))
		t.add("", row{Head: words.SwungLabel(s), Sub: words.Between(s.Low, s.High, s.Unit, c.Scenario.Study.Units), Cells: []cell{{Text: words.Money(s.AtLow, 0), Of: of + ".low"}, {Text: words.Money(s.AtHigh, 0), Of: of + ".high"}}})
	}
	return t
}

// otherCases say what the saving were in the case that does not hold.
func (c *Content) otherCases() []string {
	k := c.chosen()
	var list []string
	for _, o := range k.Others {
		list = append(list, typeset(words.Capital(words.OtherSentence(k, o))))
	}
	return list
}

// swingTable is the data of the picture of what moves a figure.
func (c *Content) swingTable(w *phrases, metric string) *table {
	f, sys := w.Figure, c.Scenario.Study.Units
	of := ", " + words.StakeLabel(c.Stakes, metric)
	t := &table{Head: []string{f["input"], f["low"] + of, f["base"] + of, f["high"] + of}}
	list := c.Stakes.Swings[metric]
	if len(list) == 0 {
		return t
	}
	r := words.StakeReading(c.Stakes, metric, list[0].Base, sys) // one unit for all
	show := func(v, half float64) cell {
		if math.IsNaN(v) {
			return cell{Text: "–"}
		}
		return cell{Text: r.Level(v, half)}
	}
	at := func(s whatif.Swing, k int) string { return words.SettingText(s.At[k], sys) }
	base := show(list[0].Base, list[0].BaseHalf)
	if k := c.chosen(); k != nil && metric == "npv" {
		base = cell{Text: words.MeanNPV(k)}
	}
	end := func(s whatif.Swing, k int, v, half float64) cell {
		if !math.IsNaN(v) && !s.Shown(k) {
			return cell{Text: words.NotShown}
		}
		return show(v, half)
	}
	n := 0
	for _, s := range list {
		if s.Size() == 0 || n == MostInputs {
			continue
		}
		n++
		t.add("", row{Head: words.Line(words.KeyOf(s.Key, s.Of), mostWide), Sub: words.Line(at(s, 0)+" – "+at(s, 1)+" – "+at(s, 2), 80),
			Cells: []cell{end(s, 0, s.Low, s.LowHalf), base, end(s, 1, s.Up, s.UpHalf)}})
	}
	t.Note = f["stakes_note"]
	return t
}

// chanceTable is what each source of chance adds to the spread of the output
// from period to period; nil where nothing varies, or it is not known.
func (c *Content) chanceTable(w *phrases) *table {
	if c.Chance == nil {
		return nil
	}
	v := c.Chance.Varies[metric.GoodRate]
	g := w.Change
	t := &table{Name: fmt.Sprintf(g["chance_name"], name(c.Chance.Alternative), words.StakeSpread(c.Chance, metric.GoodRate, v.SD, c.Scenario.Study.Units), v.Periods, words.Duration(c.Chance.Period)),
		Head: []string{g["source"], g["variance"] + ", %"}, Note: g["chance_note"]}
	for _, x := range v.Sources {
		if x.Shown() && x.Share >= 0.01 {
			t.add("", row{Head: words.Line(words.KeyOf(x.Key, x.Of), mostWide), Cells: []cell{{Text: words.Figure(estimate.Estimate{Mean: x.Share, HalfWidth: x.Half}, model.Unit{SI: 0.01})}}})
		}
	}
	if len(t.Bodies) == 0 {
		return nil
	}
	if v.Split {
		t.Note = g["chance_split_note"]
		if v.Rest.Share >= 0.01 {
			t.add("", row{Head: g["chance_rest"], Cells: []cell{{Text: words.Figure(estimate.Estimate{Mean: v.Rest.Share, HalfWidth: v.Rest.Half}, model.Unit{SI: 0.01})}}})
		}
	}
	return t
}
