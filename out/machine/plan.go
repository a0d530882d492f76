package machine

import (
	"encoding/csv"
	"io"
	"strconv"

	"rollchange/out/words"
	"rollchange/sim/estimate"
	"rollchange/sim/metric"
	"rollchange/sim/plan"
)

// jsonPlan is a plan, SI units; times count from the begin of the list.
type jsonPlan struct {
	Title        string          `json:"title,omitempty"`
	Begin        string          `json:"begin,omitempty"`
	Seed         uint64          `json:"seed"`
	Replications int             `json:"replications"`
	Confidence   float64         `json:"confidence"`
	Horizon      float64         `json:"horizon_s"`
	Orders       []jsonListed    `json:"orders"`
	Alternatives []jsonPlannedBy `json:"alternatives"`
	Proposals    []jsonSequence  `json:"proposals,omitempty"`
}

// jsonSequence is another sequence for an alternative, its target in s on fresh chance.
type jsonSequence struct {
	Alternative string         `json:"alternative"`
	Target      string         `json:"target"`
	Sequence    []string       `json:"sequence"`
	Exact       bool           `json:"exact"`
	Tried       int            `json:"sequences_tried"`
	Simulated   int            `json:"sequences_simulated"`
	Listed      jsonPlanFigure `json:"listed_s"`
	Proposed    jsonPlanFigure `json:"proposed_s"`
	Gain        jsonPlanFigure `json:"gain_s"`
}

type jsonListed struct {
	Order    string   `json:"order"`
	Product  string   `json:"product"`
	Length   float64  `json:"length_m"`
	Due      *float64 `json:"due_s"`
	Earliest float64  `json:"earliest_s"`
	Line     int      `json:"line,omitempty"`
}

type jsonPlannedBy struct {
	Name     string          `json:"alternative"`
	Done     jsonTimes       `json:"done"`
	Unended  float64         `json:"share_not_done"`
	OnTime   jsonPlanFigure  `json:"orders_on_time"`
	Late     jsonPlanFigure  `json:"late_s"`
	Change   jsonPlanFigure  `json:"changeovers_s"`
	Sooner   *jsonPlanFigure `json:"sooner_than_first_s,omitempty"`
	MoreTime *jsonPlanFigure `json:"more_on_time_than_first,omitempty"`
	LessLate *jsonPlanFigure `json:"less_late_than_first_s,omitempty"`
	Orders   []jsonPlanned   `json:"orders"`
}

type jsonTimes struct {
	Mean *float64 `json:"mean_s"`
	Low  *float64 `json:"p5_s"`
	High *float64 `json:"p95_s"`
	Date string   `json:"mean_date,omitempty"`
}

type jsonPlanFigure struct {
	Mean *float64 `json:"mean"`
	Half *float64 `json:"half_width"`
	Low  *float64 `json:"low"`
	High *float64 `json:"high"`
}

type jsonPlanned struct {
	Order    string             `json:"order"`
	Line     int                `json:"line,omitempty"`
	Begin    jsonTimes          `json:"begin"`
	End      jsonTimes          `json:"end"`
	Ended    float64            `json:"share_ended"`
	Late     *jsonPlanFigure    `json:"chance_late"`
	LateBy   *float64           `json:"late_by_s"`
	Running  float64            `json:"running_s"`
	Ramping  float64            `json:"ramping_s"`
	Slowed   float64            `json:"slowed_s"`
	Stopped  map[string]float64 `json:"stopped_s"`
	Good     float64            `json:"good_m"`
	Scrap    float64            `json:"scrap_m"`
	Residual float64            `json:"residual_m"`
	Finished float64            `json:"finished_rolls"`
	Changes  float64            `json:"roll_changes"`
	Tape     float64            `json:"tape_m"`
}

// PlanJSON writes a plan, SI units.
func PlanJSON(w io.Writer, about words.About, a *plan.Answer, proposals []*plan.Proposal) error {
	clock := words.ClockOf(a)
	j := jsonPlan{Title: about.Title, Begin: clock.Date(0), Seed: a.Seed, Replications: a.Replications, Confidence: a.Confidence, Horizon: a.Horizon}
	times := func(t plan.Times) jsonTimes {
		return jsonTimes{orNull(t.Mean), orNull(t.Low), orNull(t.High), clock.Date(t.Mean)}
	}
	for _, o := range a.Orders {
		j.Orders = append(j.Orders, jsonListed{o.Name, a.Products[o.Product], o.Length, orNull(o.Due), o.Earliest, o.Line})
	}
	for i := range a.Alternatives {
		x := &a.Alternatives[i]
		y := jsonPlannedBy{Name: x.Name, Done: times(x.Done), Unended: x.Unended, OnTime: planFigure(x.OnTime), Late: planFigure(x.Late), Change: planFigure(x.Change)}
		if i > 0 {
			sooner, more, less := planFigure(x.SoonerBy), planFigure(x.MoreTimed), planFigure(x.LessLate)
			y.Sooner, y.MoreTime, y.LessLate = &sooner, &more, &less
		}
		for k := range x.Orders {
			o := &x.Orders[k]
			p := jsonPlanned{Order: a.Orders[k].Name, Line: o.Line, Begin: times(o.Begin), End: times(o.End), Ended: o.Ended,
				Running: o.Running, Ramping: o.Ramping, Slowed: o.Slowed, Stopped: map[string]float64{},
				Good: o.Good, Scrap: o.Scrap, Residual: o.Residual, Finished: o.FinishedRolls, Changes: o.RollChanges, Tape: o.Tape}
			if o.Late.N > 0 {
				late := planFigure(o.Late)
				p.Late, p.LateBy = &late, orNull(o.LateBy)
			}
			for c, t := range o.Stopped {
				if t > 0 {
					p.Stopped[x.Causes[c]] = t
				}
			}
			y.Orders = append(y.Orders, p)
		}
		j.Alternatives = append(j.Alternatives, y)
	}
	for _, p := range proposals {
		x := jsonSequence{Alternative: p.Alternative, Target: string(p.Target), Exact: p.Exact, Tried: p.Tried, Simulated: p.Simulated,
			Listed: planFigure(p.Listed), Proposed: planFigure(p.Proposed), Gain: planFigure(p.Gain)}
		for _, k := range p.Sequence {
			x.Sequence = append(x.Sequence, a.Orders[k].Name)
		}
		j.Proposals = append(j.Proposals, x)
	}
	return encode(w, j)
}

func planFigure(e estimate.Estimate) jsonPlanFigure {
	return jsonPlanFigure{orNull(e.Mean), orNull(e.HalfWidth), orNull(e.Low), orNull(e.High)}
}

// PlanCSV writes a row for each order of each alternative, SI units.
func PlanCSV(w io.Writer, a *plan.Answer) error {
	c := csv.NewWriter(w)
	clock := words.ClockOf(a)
	_ = c.Write([]string{"alternative", "order", "product", "line", "length_m", "begin_s", "end_s", "end_p5_s", "end_p95_s", "due_s", "chance_late", "late_by_s", "begin_date", "end_date", "due_date",
		"running_s", "ramping_s", "slowed_s", "changeover_s", "other_stops_s", "good_m", "scrap_m", "residual_m", "finished_rolls", "roll_changes", "tape_m", "share_ended"})
	for i := range a.Alternatives {
		x := &a.Alternatives[i]
		for k := range x.Orders {
			o, l := &x.Orders[k], &a.Orders[k]
			change, other := 0.0, 0.0
			for h, t := range o.Stopped {
				if x.Causes[h] == metric.HoldChangeover {
					change += t
				} else {
					other += t
				}
			}
			late, by := "", ""
			if o.Late.N > 0 {
				late, by = full(o.Late.Mean), full(o.LateBy)
			}
			line := ""
			if o.Line > 0 {
				line = strconv.Itoa(o.Line)
			}
			_ = c.Write([]string{cell(x.Name), cell(l.Name), cell(a.Products[l.Product]), line, full(l.Length), full(o.Begin.Mean), full(o.End.Mean), full(o.End.Low), full(o.End.High), full(l.Due), late, by,
				clock.Date(o.Begin.Mean), clock.Date(o.End.Mean), clock.Date(l.Due),
				full(o.Running), full(o.Ramping), full(o.Slowed), full(change), full(other), full(o.Good), full(o.Scrap), full(o.Residual), full(o.FinishedRolls), full(o.RollChanges), full(o.Tape), full(o.Ended)})
		}
	}
	c.Flush()
	return c.Error()
}
