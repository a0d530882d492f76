package report

import (
	"cmp"
	"errors"
	"fmt"
	"slices"
	"strings"

	"rollchange/model"
	"rollchange/out/words"
	"rollchange/sim/metric"
	"rollchange/sim/savings"
)

// question is what the page answers.
func (c *Content) question(w *phrases) string {
	list := c.Results.Alternatives
	switch q := w.Question; len(list) {
	case 1:
		return q["one"]
	case 2:
		return fmt.Sprintf(q["two"], name(list[1].Alternative), name(list[0].Alternative))
	default:
		return fmt.Sprintf(q["several"], len(list), name(list[0].Alternative))
	}
}

// ways names the alternatives, each with what it costs.
func (c *Content) ways(w *phrases) []string {
	q := w.Question
	var list []string
	for i := range c.Scenario.Study.Alternatives {
		a := &c.Scenario.Study.Alternatives[i]
		says := q["free"]
		switch {
		case a.Investment.Given() && !a.Investment.IsConst():
			says = fmt.Sprintf(q["costs_mean"], words.Money(a.Investment.Mean(), halfOf(a.Investment, c.Results.Run.Confidence)), name(a.Line.Economics.Currency))
		case a.Investment.Given():
			says = fmt.Sprintf(q["costs"], words.Money(a.Investment.Mean(), 0), name(a.Line.Economics.Currency))
		case i == 0:
			says = q["first"]
		}
		list = append(list, words.Line(a.Name, mostTitle)+": "+strings.TrimSpace(says)) // in full: elsewhere a long name is cut
	}
	return list
}

// halfOf is half of what holds a share of a law: it says how many digits its mean
// deserves, as it does where the law is drawn.
func halfOf(d model.Dist, share float64) float64 {
	return (d.Quantile(0.5+share/2) - d.Quantile(0.5-share/2)) / 2
}

// answer is a few sentences: what the alternative that is told of in full saves and is
// worth, and how sure that is, what is recommended, what makes most; what is missing
// where there are no prices.
func (c *Content) answer(w *phrases) []string {
	sys := c.Scenario.Study.Units
	said := words.Sentences(c.Results.WithRecords(), sys)
	first := c.makes(w)
	if len(said) > 0 {
		first = said[0]
	}
	var list []string
	k := c.chosen()
	if k != nil {
		list = append(list, words.SavedSentence(k), words.WorthSentence(k))
	}
	if s := c.rank(w); s != "" {
		list = append(list, s)
	}
	list = append(list, first)
	if k != nil {
		return list
	}
	if len(said) > 1 {
		list = append(list, said[1])
	} else {
		list = append(list, c.largest(w))
	}
	last := fmt.Sprintf(w.Answer["no_money"], name(c.Results.Alternatives[c.Answer].Alternative), c.whyNoMoney())
	if c.Results.Run.Replications < 2 {
		last = w.Answer["sure_once"] + " " + last
	}
	return append(list, last)
}

// rank says which alternative is recommended where there are several, and which
// one the page tells of where that is not the one.
func (c *Content) rank(w *phrases) string {
	if !c.priced() {
		return ""
	}
	s := words.StepsSentence(&c.Rank.Steps)
	if c.Rank.Steps.Shown() != c.Answer {
		s += " " + fmt.Sprintf(w.Answer["tells_of"], name(c.Results.Alternatives[c.Answer].Alternative))
	}
	return strings.TrimSpace(s)
}

// whyNoMoney says why there is no savings case of the answer.
func (c *Content) whyNoMoney() string {
	switch {
	case len(c.Results.Alternatives) < 2:
		return "a saving compares an alternative with the first, and the scenario has only one"
	case c.Answer == 0 && c.priced():
		return "the others are compared with it"
	}
	for i := range c.NoCase { // its own, else that of any
		if err := c.NoCase[(c.Answer+i)%len(c.NoCase)]; err != nil {
			if needs := (*savings.NeedsError)(nil); errors.As(err, &needs) {
				return lacking(needs)
			}
			return words.Line(err.Error(), mostNote)
		}
	}
	return "none was asked for"
}

// lacking says in one sentence, all in full, which keys a savings case needs. The
// alternative is not said again with each: the sentence around it has its name.
func lacking(e *savings.NeedsError) string {
	list := make([]string, len(e.Needs))
	for i, n := range e.Needs {
		list[i] = n.Key + " is needed: " + words.Line(words.NeedText(n), mostNote)
	}
	return strings.Join(list, "; ")
}

// lacksPrices says whether more in [economics] would give a savings case.
func (c *Content) lacksPrices() bool {
	var needs *savings.NeedsError
	for _, err := range c.NoCase {
		if errors.As(err, &needs) {
			return true
		}
	}
	return false
}

func (c *Content) makes(w *phrases) string {
	r := c.Results.Alternatives[c.Answer]
	u := model.Display(model.Speed, c.Scenario.Study.Units)
	e := r.Metrics[metric.GoodRate]
	if c.Results.Run.Replications < 2 {
		return fmt.Sprintf(w.Answer["makes_once"], name(r.Alternative), words.Figure(e, u), u.Name)
	}
	return fmt.Sprintf(w.Answer["makes"], name(r.Alternative), words.Figure(e.WithRecords(), u), u.Name, 100*c.Results.Run.Confidence)
}

// largest names what stops the line for the longest time, and what is not shown
// to stop it for less.
func (c *Content) largest(w *phrases) string {
	r := c.Results.Alternatives[c.Answer]
	var stops []string
	for _, n := range r.Names {
		if metric.IsStoppedBy(n) && r.Metrics[n].Mean > 0 {
			stops = append(stops, n)
		}
	}
	if len(stops) == 0 {
		return fmt.Sprintf(w.Answer["never_stops"], name(r.Alternative))
	}
	slices.SortStableFunc(stops, func(a, b string) int { return cmp.Compare(r.Metrics[b].Mean, r.Metrics[a].Mean) })
	top := r.Metrics[stops[0]]
	var all []string
	for _, n := range stops {
		if e := r.Metrics[n]; n == stops[0] || !(top.Mean-e.Mean > words.Reach(top)+words.Reach(e)) { // each on its own: no pairing makes that wider
			hold, _ := metric.HoldOf(n)
			all = append(all, fmt.Sprintf(w.Answer["stop"], words.Line(words.HoldLabel(hold), mostWide), words.Figure(e, model.Unit{SI: 0.01})+" %"))
		}
	}
	says := "largest"
	switch {
	case c.Results.Run.Replications < 2:
		says, all = "largest_once", all[:1]
	case len(all) > 1:
		says = "largest_several"
	}
	return fmt.Sprintf(w.Answer[says], name(r.Alternative), strings.Join(all, "; "))
}

// cautions are those of all alternatives, each once, with whose they are.
func (c *Content) cautions(w *phrases) []string {
	list := []string{model.Safety}
	for _, x := range model.CautionsOfAll(c.Scenario.Study.Alternatives, c.Scenario.Study.Units) {
		text := sentence(x.Text)
		var quoted []string
		for _, n := range x.Of {
			quoted = append(quoted, "“"+name(n)+"”")
		}
		if len(quoted) > 0 {
			text += " " + fmt.Sprintf(w.Cautions["of"], strings.Join(quoted, ", "))
		}
		list = append(list, text)
	}
	return list
}

// sentence begins with a capital letter, unless it begins with a key.
func sentence(s string) string {
	first, _, _ := strings.Cut(s, " ")
	if s == "" || strings.ContainsAny(first, "._:") {
		return s
	}
	return strings.ToUpper(s[:1]) + s[1:]
}

// open says what the records leave open of what the page tells of; empty where that was
// not looked for.
func (c *Content) open() string {
	sys := c.Scenario.Study.Units
	return strings.Join(append(words.OpenSentences(c.Results, c.Answer, sys), words.OpenAgainst(c.Results, sys)...), " ")
}
