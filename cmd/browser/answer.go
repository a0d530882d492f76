package main

import (
	"strings"

	"rollchange/model"
	"rollchange/model/legible"
	"rollchange/out/words"
	"rollchange/sim/estimate"
	"rollchange/sim/replicate"
	"rollchange/sim/savings"
)

// answer says what the replications so far come to.
func (e *engine) answer(r request) (any, error) {
	o := e.open
	if o == nil || o.steps == nil || o.done() == 0 {
		return nil, errNothing
	}
	rs, err := o.steps.Results()
	if err != nil {
		return nil, err
	}
	study := &o.now.Study
	sys := study.Units
	done, need := o.done(), o.steps.Need()
	a := object{{"done", done}, {"need", need}, {"rough", done < need}}
	opt := savings.Options{Short: true, Draws: int(max(100, min(savings.DefaultDraws, r.number("draws", savings.DefaultDraws))))}
	m := moneyOf(study, rs, opt)
	says, rows := sentences(rs, m, sys), figures(rs, sys)
	if o.orders != nil {
		p := o.orders.Answer(done)
		says, rows = append(planSentences(p, m.steps.Shown()), says...), append(planned(p), rows...)
		a = append(a, field{"late", lateOrders(p)})
	}
	return append(a,
		field{"sentences", says},
		field{"short", m.short()},
		field{"figures", rows},
		field{"money", m.json(rs, sys)},
		field{"hours", parts(rs, true)},
		field{"web", parts(rs, false)},
		field{"storage", storages(study, rs)},
		field{"warnings", leftOut(study)},
		field{"cautions", cautions(study)},
	), nil
}

// sentences say what makes most, why it is recommended, what limits sales and what the
// investment is worth. What it saves is said in short.
func sentences(rs *replicate.Results, m *moneyCases, sys model.System) []string {
	list := words.Sentences(rs, sys)
	if len(list) == 0 {
		list = append(list, words.MakesSentence(rs, 0, sys))
	}
	if s := words.StepsSentence(&m.steps); s != "" {
		list = append(list, s)
	}
	if c := m.cases[m.steps.Shown()]; c != nil {
		list = append(list, words.CaseKind(c, sys), words.WorthSentence(c))
	}
	return list
}

// figures are what was measured of the alternatives side by side, in the units of the
// study.
func figures(rs *replicate.Results, sys model.System) []object {
	var list []object
	for _, row := range words.Compare(rs, sys).ForPeople() {
		var values, differences []object
		for i, x := range row.Cells {
			values = append(values, figure(rs.Alternatives[i].Alternative, x.Figure, row.Shown, row.Text(i)))
			differences = append(differences, difference(rs.Alternatives[i].Alternative, x.Difference, row.Shown, row.Difference(i)))
		}
		list = append(list, object{{"name", row.Name}, {"label", words.MetricLabel(row.Name)}, {"unit", row.Shown.Name}, {"group", row.Head()},
			{"alternatives", values}, {"difference", differences}})
	}
	return list
}

// figure is a figure of an alternative; without numbers where there is none. Where too few
// events carry it for limits its text is the figure alone, of a difference nothing, and
// "few" says so.
func figure(name string, e *estimate.Estimate, u model.Unit, text string) object {
	if e == nil {
		return object{{"name", name}, {"value", nil}, {"low", nil}, {"high", nil}, {"text", text}}
	}
	return object{{"name", name}, {"value", u.From(e.Mean)}, {"low", u.From(e.Low)}, {"high", u.From(e.High)}, {"text", alone(text)}, {"few", e.Why == estimate.TooFew}}
}

// difference is one against the first alternative, as figure.
func difference(name string, e *estimate.Estimate, u model.Unit, text string) object {
	if e != nil && e.Why == estimate.TooFew {
		text = ""
	}
	return figure(name, e, u, text)
}

// alone is the text of a figure without limits that are not known.
func alone(text string) string { return strings.TrimSuffix(text, " ± ?") }

// leftOut is what a page does without.
func leftOut(study *model.Study) []string {
	if study.Run.Records == model.RecordsObserved {
		return []string{words.RecordsLeftOut}
	}
	return nil
}

// cautions are those of all alternatives, each once.
func cautions(study *model.Study) []string {
	list := []string{model.Safety}
	for _, x := range model.CautionsOfAll(study.Alternatives, study.Units) {
		text := words.Capital(x.Text)
		if len(x.Of) > 0 {
			text += " (" + legible.List(x.Of) + ")"
		}
		list = append(list, text)
	}
	return list
}
