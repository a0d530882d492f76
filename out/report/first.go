package report

import (
	"fmt"
	"strconv"
	"strings"

	"rollchange/model"
	"rollchange/out/words"
	"rollchange/sim/match"
	"rollchange/sim/metric"
	"rollchange/sim/savings"
	"rollchange/sim/whatif"
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
		if s := words.CountedSentence(k); s != "" {
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
	if s := words.StepsShown(&c.Rank.Steps); s != "" && c.Rank.Steps.Several() {
		if c.Rank.Steps.Shown() != c.Answer {
			s += ". " + strings.TrimSuffix(fmt.Sprintf(w.Answer["tells_of"], name(k.Alternative)), ".")
		}
		list = append(list, s+".")
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
		Note: fmt.Sprintf(f["certainty_note"], words.Whole(float64(r.Draws)), prices)}
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
		u := words.LongUnit(sys)
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
		add(f["sold"]+", "+u.Name, year(func(y *savings.Yearly) savings.Spread { return y.Good }, u))
		add(f["hours"]+", h", year(func(y *savings.Yearly) savings.Spread { return y.Hours }, model.Unit{SI: 3600}))
		add(f["wasted"]+", "+u.Name, year(func(y *savings.Yearly) savings.Spread { return y.Waste }, u))
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

// mostAssumed is how many assumptions the first page tells of.
const mostAssumed = 3

// assumptionsTable are the inputs that move the answer most, with where each comes from;
// nil where none is shown to move it.
func (c *Content) assumptionsTable(w *phrases) *table {
	if c.Stakes == nil {
		return nil
	}
	f, sys := w.First, c.Scenario.Study.Units
	of := metric.GoodRate
	if c.chosen() != nil {
		of = "npv"
	}
	list := c.Stakes.Swings[of]
	if len(list) == 0 {
		return nil
	}
	read := words.StakeReading(c.Stakes, of, list[0].Base, sys)
	t := &table{Texts: true,
		Head: []string{f["assumption"], f["given"], fmt.Sprintf(f["moves"], read.Label), w.Found["source"]}}
	unshown := false
	for _, s := range list {
		if s.Size() == 0 || len(t.rows()) == mostAssumed {
			continue
		}
		given, source := c.sourceOf(s.Key)
		if given == "" {
			given = words.SettingText(s.At[1], sys)
		}
		switch source {
		case "":
			source = w.Found["no_source"]
		case "--set":
			source = f["set"]
		}
		if n := observed(given); n != "" {
			source = fmt.Sprintf(f["observed"], n) + "; " + source
		}
		moves := ""
		for end, at := range []whatif.Setting{s.At[0], s.At[2]} {
			moves = strings.TrimPrefix(moves+"; "+fmt.Sprintf(f["at"], words.SettingText(at, sys), read.Moves(s, end)), "; ")
			unshown = unshown || read.Moves(s, end) == words.NotShown
		}
		t.add("", row{Head: words.Line(words.KeyOf(s.Key, s.Of), mostWide), Cells: []cell{{Text: words.Line(given, 110)}, {Text: words.Line(moves, 160)}, {Text: words.Line(source, 140)}}})
	}
	if len(t.Bodies) == 0 {
		return nil
	}
	t.Note = f["assumptions_note"]
	if unshown {
		t.Note += " " + f["unshown_note"]
	}
	return t
}

// sourceOf is a value as the scenario gives it, and where it says that it is from: of
// the alternative that is told of in full, else of the first.
func (c *Content) sourceOf(key string) (given, source string) {
	sides := []int{c.Answer, 0}
	if of, is := strings.CutPrefix(key, "first."); is { // as the savings case calls what the first has of its own
		sides, key = sides[1:], "alternative."+of
		if of == "hours_per_year" || of == "crew_hours_saved" {
			key = "economics." + of
		}
	}
	for _, i := range sides {
		for _, g := range c.Scenario.Given(i) {
			if g.Key == key {
				return plainLaw(strings.Trim(g.Text, `"`)), g.Source
			}
		}
	}
	return "", ""
}

// plainLaw is a value for a reader: a law that is known by its ends or by its mean and
// standard deviation in plain words.
func plainLaw(text string) string {
	text = valuesInWords(text)
	name, rest, _ := strings.Cut(text, ", ")
	of := map[string]string{}
	var more []string // such as how many values were observed
	for _, p := range strings.Split(rest, ", ") {
		switch key, value, _ := strings.Cut(p, " "); key {
		case "min", "mode", "max", "mean", "sd":
			of[key] = value
		default:
			more = append(more, p)
		}
	}
	says := ""
	switch {
	case name == "triangular" && len(of) == 3:
		says = fmt.Sprintf("%s to %s, most likely %s", of["min"], of["max"], of["mode"])
	case name == "uniform" && len(of) == 2:
		says = fmt.Sprintf("%s to %s, evenly", of["min"], of["max"])
	case name == "normal" && len(of) == 2 && of["sd"] != "":
		says = fmt.Sprintf("%s in the mean, standard deviation %s", of["mean"], of["sd"])
	default:
		return text
	}
	return strings.TrimSuffix(strings.Join(append([]string{says}, more...), ", "), ", ")
}

// observed is how many recorded values stand behind a law, as plainLaw has it; empty: none are told of.
func observed(given string) string {
	_, after, is := strings.Cut(given, "observed ")
	if !is {
		return ""
	}
	n, _, _ := strings.Cut(after, ",")
	if _, err := strconv.Atoi(strings.TrimSpace(n)); err != nil {
		return ""
	}
	return strings.TrimSpace(n)
}

// shortMatch is what the line really made of good web, waste and roll changes beside the
// model; nil where nothing of it is recorded.
func (c *Content) shortMatch() *table {
	if c.Match == nil {
		return nil
	}
	all := c.matchTable()
	t := &table{Head: all.Head, Texts: true}
	for _, r := range c.Match.Rows {
		switch r.Figure {
		case match.Good, match.Waste, match.RollChanges:
			t.add("", c.matchRow(r))
		}
	}
	if len(t.Bodies) == 0 {
		return nil
	}
	return t
}
