package machine

import (
	"io"

	"rollchange/model"
	"rollchange/out/words"
	"rollchange/sim/replicate"
	"rollchange/sim/whatif"
)

type jsonValue struct {
	Value *float64 `json:"value"`
	Unit  string   `json:"unit"`
	Low   *float64 `json:"low,omitempty"`
	High  *float64 `json:"high,omitempty"`
}

type jsonForm struct {
	Value       *float64   `json:"value"`
	Unit        string     `json:"unit"`
	Formula     string     `json:"formula"`
	Assumptions string     `json:"assumptions"`
	Other       []jsonName `json:"other,omitempty"`
}

type jsonName struct {
	Name  string   `json:"name"`
	Value *float64 `json:"value"`
}

type jsonTrial struct {
	Value    float64                 `json:"value"`
	Possible bool                    `json:"possible"`
	Why      string                  `json:"why,omitempty"`
	Metrics  map[string]jsonEstimate `json:"metrics,omitempty"`
}

// jsonCurvePoint is the chance of the target's metric at one capacity.
type jsonCurvePoint struct {
	Value     float64  `json:"value"`
	Chance    float64  `json:"chance"`
	Low       *float64 `json:"low"`
	High      *float64 `json:"high"`
	Simulated bool     `json:"simulated"`
}

type jsonBinding struct {
	Metric string   `json:"metric,omitempty"`
	Most   *float64 `json:"most,omitempty"`
	Words  string   `json:"words"`
	Above  *float64 `json:"above"`
	Low    *float64 `json:"low"`
	High   *float64 `json:"high"`
	Never  bool     `json:"never_holds,omitempty"`
}

type jsonStrands struct {
	Strands int      `json:"strands"`
	Travel  float64  `json:"travel_m"`
	Speed   float64  `json:"carriage_speed_m_s"`
	Tension *float64 `json:"tension_added_n"`
}

// jsonShort says what it takes to show a target for which too little was simulated.
type jsonShort struct {
	At           float64  `json:"at"`
	Target       float64  `json:"target"`
	Needed       *float64 `json:"changes_needed"`
	Simulated    float64  `json:"changes_simulated"`
	Low          *float64 `json:"low"`
	High         *float64 `json:"high"`
	Replications *float64 `json:"replications_needed"`
	Allowed      int      `json:"replications_allowed"`
}

// jsonFailed is what changes that fail and are made by hand add.
type jsonFailed struct {
	Fails float64      `json:"fails"`
	Adds  jsonEstimate `json:"adds"`
	Holds bool         `json:"target_holds_with_them"`
	Value *float64     `json:"value_with_them"`
	Low   *float64     `json:"low"`
	High  *float64     `json:"high"`
	Most  float64      `json:"largest_considered"`
	Flat  bool         `json:"not_the_storage"`
}

type jsonAnswer struct {
	Tool        *jsonTool        `json:"tool,omitempty"`
	Scenario    *jsonScenario    `json:"scenario,omitempty"`
	Run         *jsonRun         `json:"run,omitempty"`
	Kind        string           `json:"kind"`
	Of          string           `json:"of"`
	Alternative string           `json:"alternative"`
	Group       string           `json:"group,omitempty"`
	Target      string           `json:"target"`
	Met         bool             `json:"met"`
	Metric      string           `json:"target_on,omitempty"`
	Flat        bool             `json:"not_the_storage,omitempty"`
	Short       *jsonShort       `json:"too_little_simulated,omitempty"`
	Failed      *jsonFailed      `json:"made_by_hand,omitempty"`
	Answer      jsonValue        `json:"answer"`
	Now         *float64         `json:"now"`
	ClosedForm  *jsonForm        `json:"closed_form"`
	LimitedBy   string           `json:"limited_by"`
	Why         string           `json:"why,omitempty"`
	Notes       []string         `json:"notes,omitempty"`
	Next        []jsonBinding    `json:"binds,omitempty"`
	Most        *jsonTrial       `json:"greatest_output,omitempty"`
	Strands     []jsonStrands    `json:"strands,omitempty"`
	Curve       []jsonCurvePoint `json:"curve,omitempty"`
	Records     *jsonNeed        `json:"records,omitempty"`
	Roll        *jsonRoll        `json:"roll,omitempty"`
	Ridge       *jsonRidge       `json:"ridge,omitempty"`
	Again       []float64        `json:"target_missed_again,omitempty"`
	HoldsAgain  []float64        `json:"every_limit_holds_again,omitempty"`
	Evidence    []jsonTrial      `json:"evidence"`
	Also        []jsonAnswer     `json:"also,omitempty"`
}

// siUnit is the SI unit of a dimension that can be sized.
func siUnit(d model.Dimension) string {
	switch d {
	case model.Length, model.Thickness:
		return "m"
	case model.Speed:
		return "m/s"
	}
	return "1"
}

// AnswersJSON writes the answer to a sizing question, SI units, its sentences in
// those of sys. Where two storages were asked for, the second stands in "also".
func AnswersJSON(w io.Writer, about words.About, answers []*whatif.Answer, run replicate.RunInfo, sys model.System) error {
	j := answerJSON(answers[0], run, sys)
	tool, scenario, how := jsonTool{"rollchange", about.Version}, scenarioOf(about, answers[0].Alternative), runJSON(run)
	j.Tool, j.Scenario, j.Run = &tool, &scenario, &how
	for _, a := range answers[1:] {
		j.Also = append(j.Also, answerJSON(a, run, sys))
	}
	return encode(w, j)
}

func answerJSON(a *whatif.Answer, run replicate.RunInfo, sys model.System) jsonAnswer {
	unit := siUnit(a.Dim)
	j := jsonAnswer{Kind: a.Kind, Of: words.SizedName(a.Of), Alternative: a.Alternative, Group: a.Group, Target: words.TargetText(a), Met: a.Met,
		Answer: jsonValue{orNull(a.Value), unit, orNull(a.Low), orNull(a.High)}, Now: orNull(a.Now), LimitedBy: words.ConstraintText(a.LimitedBy, a.Of), Why: words.WhyText(a, sys), Notes: words.NoteTexts(a, sys), Metric: a.Metric, Flat: a.Flat,
		Evidence: []jsonTrial{}}
	j.Records = needJSON(a)
	j.Roll, j.Ridge = rollJSON(a)
	if x := a.Short; x != nil {
		j.Short = &jsonShort{x.X, x.Target, orNull(x.Needed), x.Simulated, orNull(x.Low), orNull(x.High), orNull(x.Enough), x.Most}
	}
	if f := a.Failed; f != nil {
		adds := resultJSON(replicate.Result{Metrics: replicate.Metrics{"": f.Add}}, false).Metrics[""]
		j.Failed = &jsonFailed{f.Fails, adds, f.Holds, orNull(f.Value), orNull(f.Low), orNull(f.High), f.Most, f.Flat}
	}
	if f := a.ClosedForm; f != nil {
		x := jsonForm{Value: orNull(f.Value), Unit: unit}
		x.Formula, x.Assumptions = words.FormulaText(f.Formula)
		for _, o := range f.Other {
			x.Other = append(x.Other, jsonName{words.OtherForm(o), orNull(o.Value)})
		}
		j.ClosedForm = &x
	}
	for _, b := range a.Next {
		x := jsonBinding{Metric: b.Metric, Words: words.ConstraintText(b.Constraint, a.Of), Above: orNull(b.Value), Low: orNull(b.Low), High: orNull(b.High), Never: b.Never}
		if b.Metric != "" {
			x.Most = orNull(b.Most)
		}
		j.Next = append(j.Next, x)
	}
	for _, s := range a.Strands {
		j.Strands = append(j.Strands, jsonStrands{s.Strands, s.Travel, s.Speed, orNull(s.Tension)})
	}
	if a.Most != nil {
		t := trialJSON(a.Most, run)
		j.Most = &t
	}
	if j.Again = a.Again; a.Kind == whatif.Speed {
		j.Again, j.HoldsAgain = nil, a.Again
	}
	for _, p := range a.Curve {
		j.Curve = append(j.Curve, jsonCurvePoint{p.X, p.Chance.Mean, orNull(p.Chance.Low), orNull(p.Chance.High), p.Simulated})
	}
	for i := range a.Evidence {
		j.Evidence = append(j.Evidence, trialJSON(&a.Evidence[i], run))
	}
	return j
}

func trialJSON(t *whatif.Trial, run replicate.RunInfo) jsonTrial {
	j := jsonTrial{Value: t.X, Possible: t.Possible, Why: t.Why}
	if t.Possible {
		j.Metrics = resultJSON(replicate.Result{Metrics: t.Metrics}, false).Metrics
	}
	return j
}
