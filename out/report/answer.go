package report

import (
	"fmt"
	"strings"

	"rollchange/model"
	"rollchange/out"
)

// question is what the page answers.
func (c *Content) question(w *words) string {
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
func (c *Content) ways(w *words) []string {
	q := w.Question
	var list []string
	for i := range c.Scenario.Study.Alternatives {
		a := &c.Scenario.Study.Alternatives[i]
		says := q["free"]
		switch {
		case a.Investment.Given():
			says = fmt.Sprintf(q["costs"], out.Money(a.Investment.Mean(), 0), name(a.Line.Economics.Currency))
		case i == 0:
			says = q["first"]
		}
		list = append(list, name(a.Name)+": "+strings.TrimSpace(says))
	}
	return list
}

// answer is three sentences: what makes most, what it is worth, and how sure
// that is; what is missing where there are no prices.
func (c *Content) answer(w *words) []string {
	sys := c.Scenario.Study.Units
	said := out.Sentences(c.Results, sys)
	first := c.makes(w)
	if len(said) > 0 {
		first = said[0]
	}
	if k := c.chosen(); k != nil {
		s := out.CaseSentences(k, sys)
		second := s[0]
		if len(c.Cases) > 2 && !strings.HasPrefix(first, "\""+k.Alternative+"\"") {
			second = fmt.Sprintf(w.Answer["worth_most"], name(k.Alternative)) + " " + second
		}
		return []string{first, second, s[len(s)-1]}
	}
	second := c.largest(w)
	if len(said) > 1 {
		second = said[1]
	}
	third := fmt.Sprintf(w.Answer["no_money"], c.whyNoMoney(w))
	if c.Results.Run.Replications < 2 {
		third = w.Answer["sure_once"] + " " + third
	}
	return []string{first, second, third}
}

// whyNoMoney says why there is no savings case.
func (c *Content) whyNoMoney(w *words) string {
	if s := c.noCase(); s != "" {
		return strings.ReplaceAll(out.Line(s, mostNote), "\n", "; ")
	}
	return w.Money["one_alternative"]
}

func (c *Content) makes(w *words) string {
	r := c.Results.Alternatives[c.Answer]
	u := model.Display(model.Speed, c.Scenario.Study.Units)
	e := r.Metrics["good_rate"]
	if c.Results.Run.Replications < 2 {
		return fmt.Sprintf(w.Answer["makes_once"], name(r.Alternative), out.Figure(e, u), u.Name)
	}
	return fmt.Sprintf(w.Answer["makes"], name(r.Alternative), out.Figure(e, u), u.Name, 100*c.Results.Run.Confidence)
}

// largest names what stops the line for the longest time.
func (c *Content) largest(w *words) string {
	r := c.Results.Alternatives[c.Answer]
	best := ""
	for _, n := range r.Names {
		if strings.HasPrefix(n, "time.stopped.") && (best == "" || r.Metrics[n].Mean > r.Metrics[best].Mean) {
			best = n
		}
	}
	if best == "" || r.Metrics[best].Mean == 0 {
		return w.Answer["never_stops"]
	}
	return fmt.Sprintf(w.Answer["largest"], out.Line(strings.TrimPrefix(out.MetricLabel(best), "stopped: "), mostWide), out.Figure(r.Metrics[best], model.Unit{SI: 0.01})+" %")
}

// cautions are those of all alternatives, each once, with whose they are.
func (c *Content) cautions(w *words) []string {
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
