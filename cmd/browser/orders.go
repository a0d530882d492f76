package main

import (
	"fmt"
	"math"
	"slices"

	"rollchange/model"
	"rollchange/out/words"
	"rollchange/sim/plan"
)

// planned are the figures of a list of orders: when it is done, how many orders are on
// time, and by how much all are late, as plan has them.
func planned(a *plan.Answer) []object {
	hour, one := model.Unit{Name: "h", SI: 3600}, model.Unit{SI: 1}
	clock := words.ClockOf(a)
	var done, sooner, timely, more, late, less []object
	for i := range a.Alternatives {
		x := &a.Alternatives[i]
		t := x.Done
		done = append(done, object{{"name", x.Name}, {"value", hour.From(t.Mean)}, {"low", hour.From(t.Low)}, {"high", hour.From(t.High)}, {"text", clock.Text(t.Mean)}, {"span", clock.Span(t)}})
		timely = append(timely, figure(x.Name, &x.OnTime, one, words.Figure(x.OnTime, one)))
		late = append(late, figure(x.Name, &x.Late, hour, words.Figure(x.Late, hour)))
		if i == 0 {
			for _, list := range []*[]object{&sooner, &more, &less} {
				*list = append(*list, figure(x.Name, nil, hour, ""))
			}
			continue
		}
		says := words.PlanDifferences(x)
		done, late := x.SoonerBy.Opposite(), x.LessLate.Opposite()
		sooner = append(sooner, difference(x.Name, &done, hour, says[0]))
		more = append(more, difference(x.Name, &x.MoreTimed, one, says[1]))
		less = append(less, difference(x.Name, &late, hour, says[2]))
	}
	row := func(name, label, unit string, values, differences []object) object {
		return object{{"name", name}, {"label", label}, {"unit", unit}, {"group", words.HeadPlanGroup}, {"alternatives", values}, {"difference", differences}}
	}
	list := []object{row("plan.done", words.HeadListDone, "", done, sooner)}
	if words.Due(a) > 0 {
		list = append(list, row("plan.on_time", fmt.Sprintf(words.PlanOnTimeOf, words.Due(a)), "", timely, more), row("plan.late", words.HeadLateHours, "", late, less))
	}
	return list
}

// planSentences are what a plan says, first of the alternative that is told of in full.
func planSentences(a *plan.Answer, shown int) []string {
	list := words.PlanSentences(a)
	if shown > 0 {
		s := words.PlanSentence(a, shown)
		if at := slices.Index(list, s); at >= 0 {
			list = slices.Insert(slices.Delete(list, at, at+1), at-(shown-1), s)
		}
	}
	return list
}

// lateOrders are the orders of a list that may be late: with each alternative when they
// end and how likely that is after they are due.
func lateOrders(a *plan.Answer) []object {
	clock := words.ClockOf(a)
	var list []object
	for k, o := range a.Orders {
		if math.IsInf(o.Due, 1) {
			continue
		}
		most := 0.0
		var each []object
		for i := range a.Alternatives {
			x := &a.Alternatives[i].Orders[k]
			most = max(most, x.Late.Mean)
			each = append(each, object{{"name", a.Alternatives[i].Name}, {"ends", clock.Text(x.End.Mean)}, {"late", x.Late.Mean}, {"text", words.LateText(x.Late)}})
		}
		if most >= 0.05 {
			list = append(list, object{{"order", words.Line(o.Name, 40)}, {"product", words.Line(a.Products[o.Product], 40)}, {"due", clock.Text(o.Due)}, {"alternatives", each}})
		}
	}
	return list
}
