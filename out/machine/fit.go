package machine

import (
	"io"
	"time"

	"rollchange/model"
	"rollchange/scenarios/fit"
	"rollchange/scenarios/learn"
)

// jsonLaw is a law in SI units: its parameters as a scenario names them.
type jsonLaw struct {
	Law    string    `json:"dist"`
	Mean   *float64  `json:"mean_s"`
	SD     *float64  `json:"sd_s"`
	Shape  *float64  `json:"shape,omitempty"`
	Scale  *float64  `json:"scale_s,omitempty"`
	Least  float64   `json:"least_s,omitempty"`
	Values []float64 `json:"values_s,omitempty"`
}

type jsonFitted struct {
	jsonLaw
	Parameters int      `json:"parameters"`
	LogLik     *float64 `json:"log_likelihood"`
	AIC        *float64 `json:"aic"`
	Far        *float64 `json:"quantile_99_9_s"`
	Tied       bool     `json:"tied"`
	A2         *float64 `json:"anderson_darling"`
}

type jsonFit struct {
	N       int          `json:"n"`
	Open    int          `json:"censored"`
	Below   int          `json:"below_recorded"`
	Answer  *jsonLaw     `json:"answer"` // null: nothing is known
	Why     string       `json:"why"`
	Laws    []jsonFitted `json:"laws"`
	Judged  *float64     `json:"p"` // of the law that was judged; null: none was
	Draws   int          `json:"draws"`
	Fives   int          `json:"whole_fives"`
	Minutes int          `json:"in_minutes"`
	Heaped  bool         `json:"heaped"`
	Lag1    *float64     `json:"lag_1"`
	LagP    *float64     `json:"lag_1_p"`
}

type jsonRate struct {
	Events   int      `json:"events"`
	Exposure float64  `json:"running_s"`
	Mean     *float64 `json:"per_s"`
	Low      *float64 `json:"low"`
	High     *float64 `json:"high"`
}

type jsonEven struct {
	P     *float64   `json:"p"`
	Rates []jsonRate `json:"rates"`
}

type jsonCause struct {
	Cause     string    `json:"cause"`
	Spellings []string  `json:"spellings,omitempty"`
	Is        string    `json:"is"`
	Stops     int       `json:"stops"`
	Open      int       `json:"open"`
	Lost      float64   `json:"lost_s"`
	Share     float64   `json:"share_of_loss"`
	Rate      jsonRate  `json:"rate"`
	Every     *jsonLaw  `json:"every"`
	OneRate   bool      `json:"every_is_a_rate"` // too few rows for a law
	Between   jsonFit   `json:"between"`
	Lasts     jsonFit   `json:"lasts"`
	Laplace   *float64  `json:"laplace"`
	LaplaceP  *float64  `json:"laplace_p"`
	Handbook  *float64  `json:"military_handbook"`
	HandbookP *float64  `json:"military_handbook_p"`
	Reversals int       `json:"reverse_arrangements"`
	Pairs     int       `json:"pairs_of_intervals"`
	ReversedP *float64  `json:"reverse_arrangements_p"`
	Shift     *jsonEven `json:"by_shift"`
	Weekday   *jsonEven `json:"by_weekday"`
	Month     *jsonEven `json:"by_month"`
}

type jsonFinding struct {
	Row     int     `json:"row"`
	Column  int     `json:"column,omitempty"`
	Kind    string  `json:"kind"`
	Text    string  `json:"text,omitempty"`
	Other   int     `json:"other_row,omitempty"`
	Seconds float64 `json:"seconds,omitempty"`
	LeftOut bool    `json:"left_out"`
}

type jsonColumn struct {
	Role string `json:"role"`
	At   int    `json:"column"`
	Head string `json:"head"`
}

type jsonProposal struct {
	Cause string `json:"cause"`
	Is    string `json:"is,omitempty"`
	Same  string `json:"same,omitempty"`
}

type jsonLog struct {
	Tool     jsonTool       `json:"tool"`
	File     string         `json:"file"`
	Sheet    string         `json:"sheet,omitempty"`
	HeadRow  int            `json:"head_row"`
	Columns  []jsonColumn   `json:"columns"`
	DayFirst *bool          `json:"day_first"` // null: no date needs it
	Decimal  string         `json:"decimal,omitempty"`
	Zone     string         `json:"zone,omitempty"`
	From     string         `json:"from"`
	To       string         `json:"to"`
	Rows     int            `json:"rows"`
	Stops    int            `json:"stops"`
	Planned  float64        `json:"planned_s"`
	Stopped  float64        `json:"stopped_s"`
	Seed     uint64         `json:"seed"`
	Level    float64        `json:"confidence"`
	Findings []jsonFinding  `json:"findings"`
	Causes   []jsonCause    `json:"causes"`
	Perhaps  []jsonProposal `json:"proposals"`
}

func lawJSON(d model.Dist) *jsonLaw {
	if !d.Given() {
		return nil
	}
	j := &jsonLaw{Law: string(d.Law), Mean: orNull(d.Mean()), SD: orNull(d.SD()), Least: d.Least, Values: d.Values}
	if d.Law == model.Gamma || d.Law == model.Weibull {
		j.Shape, j.Scale = orNull(d.A), orNull(d.B)
	}
	return j
}

func fitJSON(r fit.Result) jsonFit {
	j := jsonFit{N: r.N, Open: r.Open, Below: r.Below, Answer: lawJSON(r.Answer), Why: string(r.Why), Laws: []jsonFitted{}, Draws: r.Judged.Draws,
		Fives: r.Heaping.Fives, Minutes: r.Heaping.Minutes, Heaped: r.Heaping.Found, Lag1: orNull(r.Order.R), LagP: orNull(r.Order.P)}
	if r.Taken >= 0 {
		j.Judged = orNull(r.Judged.P)
	}
	for _, f := range r.Laws {
		j.Laws = append(j.Laws, jsonFitted{*lawJSON(f.Dist), f.Parameters, orNull(f.LogLik), orNull(f.AIC), orNull(f.Far), f.Tied, orNull(f.A2)})
	}
	return j
}

func rateJSON(r fit.Rates) jsonRate {
	return jsonRate{r.Events, r.Exposure, orNull(r.Mean), orNull(r.Low), orNull(r.High)}
}

// evenJSON is nil where nothing was tested.
func evenJSON(e fit.Evenness) *jsonEven {
	if orNull(e.P) == nil {
		return nil
	}
	j := &jsonEven{P: orNull(e.P)}
	for _, r := range e.Rates {
		j.Rates = append(j.Rates, rateJSON(r))
	}
	return j
}

// FitJSON writes what a stop log says, SI units.
func FitJSON(w io.Writer, version string, l *learn.Line) error {
	log, u := l.Log, &l.Log.Understood
	j := jsonLog{Tool: jsonTool{"rollchange", version}, File: log.Name, Sheet: u.Sheet, HeadRow: u.HeadRow, Zone: u.Zone, From: log.From.Format(time.DateTime), To: log.To.Format(time.DateTime),
		Rows: log.Rows, Stops: len(log.Stops), Planned: l.Planned, Stopped: l.Stopped, Seed: l.Options.Seed, Level: l.Options.Confidence, Columns: []jsonColumn{}, Findings: []jsonFinding{}, Causes: []jsonCause{}, Perhaps: []jsonProposal{}}
	if u.Dates != 0 {
		first := u.Dates == 1
		j.DayFirst = &first
	}
	if u.Decimal != 0 {
		j.Decimal = string(rune(u.Decimal))
	}
	for _, c := range u.Columns {
		j.Columns = append(j.Columns, jsonColumn{c.Role.String(), c.At, c.Head})
	}
	for _, f := range log.Findings {
		j.Findings = append(j.Findings, jsonFinding{f.Row, f.Column, f.Kind.String(), f.Text, f.Other, f.Seconds, f.Kind.LeftOut()})
	}
	for i := range l.Causes {
		c := &l.Causes[i]
		j.Causes = append(j.Causes, jsonCause{c.Text, c.Spellings, string(c.Is), c.Stops, c.Open, c.Lost, c.Share, rateJSON(c.Rate), lawJSON(c.Every), c.OneRate, fitJSON(c.Between), fitJSON(c.Lasts),
			orNull(c.Trend.Laplace), orNull(c.Trend.LaplaceP), orNull(c.Trend.Handbook), orNull(c.Trend.ChanceP), c.Trend.Reversals, c.Trend.Pairs, orNull(c.Trend.ReversalsP), evenJSON(c.Calendar.Shift), evenJSON(c.Calendar.Weekday), evenJSON(c.Calendar.Month)})
	}
	for _, p := range l.Propose() {
		j.Perhaps = append(j.Perhaps, jsonProposal{p.Cause, string(p.Is), p.Same})
	}
	return encode(w, j)
}
