package savings

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"rollchange/model"
	"rollchange/sim/estimate"
	"rollchange/sim/metric"
	"rollchange/sim/replicate"
)

// Kind says what bounds the good web that a year sells.
type Kind string

// The kinds of case.
const (
	CapacityLimited Kind = "capacity-limited" // all that the line makes is sold
	DemandLimited   Kind = "demand-limited"   // the same good web in fewer hours
	Between         Kind = "between"          // the demand is above what one can make and below what the other can
)

// Options are what may be chosen of a savings case.
type Options struct {
	Draws int // of all that is not certain; 0: DefaultDraws
	Years int // life instead of the scenario's; 0: the scenario's

	NoPayback bool // of Figures: that is not asked for
	Short     bool // of Valued: neither Shares nor the rates of return of the draws; a third of the time
}

// DefaultDraws is how many draws are made when nothing is said.
const DefaultDraws = 10000

// Saving is the money saved a year for one cause, before tax, at the means of
// all inputs. What is told first is the mean of the draws: Case.Random.
type Saving struct {
	Cause     Cause
	Given     bool    // whether what it is calculated from was given
	Value     float64 // currency a year
	HalfWidth float64 // of the simulation alone, at the confidence of the run; NaN: one replication
	Records   float64 // half width with what the records leave open; that of the simulation where it was not looked for
}

// Other is what the saving would be, in the mean of the draws, in a case that
// does not hold in all of them.
type Other struct {
	Kind    Kind
	Total   float64 // NaN with NoPrice
	NPV     float64
	NoPrice bool // it cannot be told, because no price is given
	Least   int  // of a demand-limited one: 0 the first, 1 the alternative, which can make the least
}

// Case is the savings case of an alternative against the first.
type Case struct {
	Alternative, Against string
	Currency             string
	Kind                 Kind       // at the means of all inputs; Random.Kinds has that of the draws
	Demand               float64    // m of good web a year; +Inf: all that is made
	Capacity             [2]float64 // m of good web that each can make in its hours of a year
	Hours                [2]float64 // s, planned hours of a year of each
	HoursDiffer          bool       // the two have planned hours of their own
	Records              bool       // the draws hold what the records of the line leave open
	Faster               int        // 1, -1: the alternative is shown to make more, or less, good web an hour; 0: neither is shown
	Few                  bool       // so few events separate the two that no interval of so many replications holds
	Needed               int        // replications that would do, with Few; 0: not known
	Reach                [2]float64 // how far a saving a year, and the net present value, may lie beyond their draws where few events carry them; else 0
	Run                  replicate.RunInfo
	Inputs               []Input
	Years                [2]Year // the first, the alternative
	Save                 []Saving
	Total                Saving // the sum of Save, in its order
	Worth                Worth  // at the means of all inputs
	Others               []Other
	Random               *Random
	Shares               []Share // what the case comes to with a half, three quarters and all of the saving
	Drivers              []Driver
	Swings               []Swing
	Warnings             []Warning
	Steps                *Steps // of the study, where the case was chosen by them; else nil

	course course
	today  *today // the line as it is, where the case is not against it
	ahead  *today // the same, where the two learn in different ways
	leave  bool   // not all that is freed of the operator hours leaves
	stands bool   // the line stands while something is installed

	side  [2]Fixed
	in    [inputs]Input
	mean  vector
	cov   [simulated][simulated]float64 // with what the records leave open
	alone [simulated][simulated]float64 // of the simulation
	draws int
	drawn *table

	explained bool
	noPayback bool
	short     bool
	still     *[2][figureCount]float64 // the figures as they are, over all draws and over swingDraws; nil: not calculated
}

// DifferError names the prices that two alternatives have of their own: a
// saving is calculated at one set of them.
type DifferError struct {
	Alternative, Against string
	Keys                 []string
}

// Error names the keys and what would be right.
func (e *DifferError) Error() string {
	return fmt.Sprintf("%s: %q and %q do not have the same, and a saving needs one value for both: give it once, in [economics] (hours_per_year, crew_hours_saved, discount_rate, life, tax_rate and depreciation_years may be an alternative's own)",
		strings.Join(e.Keys, ", "), e.Alternative, e.Against)
}

// New makes the savings case of alternative i (1 or above) of a study against
// the first. The error is a *NeedsError when the scenario does not give enough.
func New(study *model.Study, rs *replicate.Results, i int, opt Options) (*Case, error) {
	c, err := Valued(study, rs, i, opt)
	if err == nil {
		c.Explain()
	}
	return c, err
}

// Valued is New without Others, Drivers and Swings, which take half of the time and
// which only the one that is told of in full needs: Explain adds them.
func Valued(study *model.Study, rs *replicate.Results, i int, opt Options) (*Case, error) {
	c, err := Drawn(study, rs, i, opt)
	if err != nil {
		return nil, err
	}
	c.apart(rs.WithRecords().Differences[i])
	c.point()
	c.draw()
	if !c.short {
		c.share()
	}
	c.warn(study, rs, i)
	return c, nil
}

// Cases are the savings cases of all alternatives against the first, as Valued makes
// them, and why there is none; both are by alternative, nil where there is nothing to say.
func Cases(study *model.Study, rs *replicate.Results, opt Options) (cases []*Case, reasons []error) {
	cases, reasons = make([]*Case, len(study.Alternatives)), make([]error, len(study.Alternatives))
	for i := 1; i < len(cases); i++ {
		cases[i], reasons[i] = Valued(study, rs, i, opt)
	}
	return cases, reasons
}

// Explain adds Others, Drivers and Swings where they are not there.
func (c *Case) Explain() {
	if !c.explained {
		c.explained = true
		c.others()
		c.drive()
	}
}

// Drawn is a case whose draws are made and not valued yet: Figures values them, and
// what New adds is not there.
func Drawn(study *model.Study, rs *replicate.Results, i int, opt Options) (*Case, error) {
	c, err := newCase(study, rs, 0, i, opt)
	if err == nil {
		err = c.priced()
	}
	if err != nil {
		return nil, err
	}
	c.drawn = c.sample()
	return c, nil
}

// newCase prepares the case of alternative i against alternative from.
func newCase(study *model.Study, rs *replicate.Results, from, i int, opt Options) (*Case, error) {
	if i < 1 || i >= len(study.Alternatives) {
		return nil, fmt.Errorf("a saving compares an alternative with the first: there is no alternative %d", i)
	}
	a, b := &study.Alternatives[from], &study.Alternatives[i]
	c := &Case{Alternative: b.Name, Against: a.Name, Currency: b.Line.Economics.Currency, Run: rs.Run, draws: opt.Draws, noPayback: opt.NoPayback, short: opt.Short}
	if c.draws <= 0 {
		c.draws = DefaultDraws
	}
	c.side = [2]Fixed{sideOf(&a.Line, rs.Alternatives[from].Metrics), sideOf(&b.Line, rs.Alternatives[i].Metrics)}
	c.in = inputsOf(study, rs, from, i)
	if opt.Years > 0 {
		n := &c.in[life]
		n.Given, n.Dist, n.Value = true, model.Const(float64(opt.Years)), float64(opt.Years)
	}
	c.mean = means(&c.in)
	wide := rs.WithRecords()
	c.alone, c.cov, c.Records = covariance(rs, from, i), covariance(wide, from, i), wide.Joint != rs.Joint
	if err := c.needs(); err != nil {
		return nil, err
	}
	c.setOut(study, rs, from, i)
	if keys := differ(&a.Line.Economics, &b.Line.Economics); len(keys) > 0 {
		return nil, &DifferError{c.Alternative, c.Against, keys}
	}
	for k := range c.in {
		if c.in[k].Given {
			c.Inputs = append(c.Inputs, c.in[k])
		}
	}
	c.kind()
	return c, nil
}

// setOut takes over what differs by year and what is counted from the line as it is.
func (c *Case) setOut(study *model.Study, rs *replicate.Results, from, i int) {
	a, b := &study.Alternatives[from], &study.Alternatives[i]
	c.course, c.today = courseOf(a, b, &c.in, from), todayOf(study, rs, from)
	c.leave = a.Line.Economics.CrewHoursSaved.Given() && from > 0 || b.Line.Economics.CrewHoursSaved.Given()
	c.stands = a.Installation.Given() || b.Installation.Given()
	if c.today != nil && !slices.Equal(c.course.learning[0], c.course.learning[1]) {
		c.ahead = c.today
	}
}

// kind finds which case holds at the means.
func (c *Case) kind() {
	c.Kind = kindOf(&c.mean)
	c.Demand = c.mean[demand]
	c.Hours, c.HoursDiffer = [2]float64{c.mean[hours0], c.mean[hours1]}, c.in[hours0].Given
	c.Capacity = [2]float64{c.mean[good0] * c.Hours[0], c.mean[good1] * c.Hours[1]}
}

// CapacityHalf is half of what holds the confidence of the run of what an alternative can
// make in its hours of a year, m: of the simulation, and of what the records leave open.
func (c *Case) CapacityHalf(side int) float64 {
	var g [simulated]float64
	g[[2]index{good0, good1}[side]] = c.Hours[side]
	return c.half(g, &c.cov)
}

// apart takes over how far the simulation tells the two apart.
func (c *Case) apart(differences replicate.Metrics) {
	d := differences[metric.GoodRate]
	if d.Shown() {
		c.Faster = int(math.Copysign(1, d.Mean))
	}
	for _, name := range replicate.JointMetrics {
		if x := differences[name]; x.Why == estimate.TooFew {
			c.Few, c.Needed = true, max(c.Needed, x.Needed)
		}
	}
}

// priceKeys are the prices that two alternatives must share.
var priceKeys = [...]string{"demand", "price", "material_cost", "disposal_cost", "crew_cost", "line_cost", "tape_cost", "waste_income",
	"price_change", "output_price_change", "material_price_change", "wage_change"}

func prices(e *model.Economics) [len(priceKeys)]*model.Dist {
	return [...]*model.Dist{&e.Demand, &e.Price, &e.MaterialCost, &e.DisposalCost, &e.CrewCost, &e.LineCost, &e.TapeCost, &e.WasteIncome,
		&e.PriceChange, &e.OutputPriceChange, &e.MaterialPriceChange, &e.WageChange}
}

// differ names the prices that are not the same for two alternatives. Planned
// hours are of each; what values the flows (discount rate, life, tax,
// depreciation) is that of the alternative, since the first has no flows of its own.
func differ(a, b *model.Economics) []string {
	var keys []string
	x, y := prices(a), prices(b)
	for k, name := range priceKeys {
		if !sameDist(*x[k], *y[k]) {
			keys = append(keys, "economics."+name)
		}
	}
	if a.Currency != b.Currency {
		keys = append(keys, "economics.currency")
	}
	return keys
}

// point calculates everything at the means.
func (c *Case) point() {
	a := c.account(&c.mean)
	c.Years = a.year
	given := [Causes]bool{c.in[price].Given, c.in[material].Given, c.in[disposal].Given, c.in[income].Given, c.in[crew].Given, c.in[line].Given,
		c.in[tape].Given, c.in[maintenance0].Given || c.in[maintenance1].Given}
	grad := c.gradients()
	for k := range Causes {
		c.Save = append(c.Save, Saving{Cause: k, Given: given[k], Value: a.save[k], HalfWidth: c.half(grad[k], &c.alone), Records: c.half(grad[k], &c.cov)})
	}
	c.Total = Saving{Cause: Causes, Given: true, Value: a.total(), HalfWidth: c.half(grad[Causes], &c.alone), Records: c.half(grad[Causes], &c.cov)}
	if c.Few {
		far := estimate.FarOff / estimate.StudentT(0.5+c.Run.Confidence/2, float64(c.Run.Replications-1))
		c.Reach = [2]float64{far * c.Total.Records, far * c.half(grad[Causes+1], &c.cov)}
	}
	c.Worth = c.worthOf(&c.mean, &a, 1)
}

// gradients is how each cause, their sum, and last the net present value, moves with
// each simulated input, by differences small beside it.
func (c *Case) gradients() [Causes + 2][simulated]float64 {
	var g [Causes + 2][simulated]float64
	for i := range simulated {
		up, down := c.mean, c.mean
		step := 1e-5 * math.Abs(c.mean[i])
		if step == 0 {
			step = 1e-9
		}
		up[i] += step
		down[i] -= step
		a, b := c.account(&up), c.account(&down)
		for k := range Causes {
			g[k][i] = (a.save[k] - b.save[k]) / (2 * step)
		}
		g[Causes][i] = (a.total() - b.total()) / (2 * step)
		g[Causes+1][i] = (c.npvOf(&up) - c.npvOf(&down)) / (2 * step)
	}
	return g
}

// half is the half width of what moves by g with the simulated inputs: Student
// t times sqrt(g' cov g).
func (c *Case) half(g [simulated]float64, cov *[simulated][simulated]float64) float64 {
	var v variance
	for i := range simulated {
		for j := range simulated {
			if g[i] != 0 && g[j] != 0 {
				v.add(g[i] * g[j] * cov[i][j])
			}
		}
	}
	if c.Run.Replications < 2 {
		if g == [simulated]float64{} {
			return 0
		}
		return math.NaN()
	}
	return estimate.StudentT(0.5+c.Run.Confidence/2, float64(c.Run.Replications-1)) * v.root()
}

// others calculates the cases that do not hold in all draws.
func (c *Case) others() {
	add := func(o Other, demandOf func(*vector) float64) {
		o.Total, o.NPV = math.NaN(), math.NaN()
		if !o.NoPrice {
			o.Total, o.NPV = c.meanOf(c.drawn.n, func(v *vector) { v[demand] = demandOf(v) })
		}
		c.Others = append(c.Others, o)
	}
	if c.Random.Kinds[CapacityLimited] < 1 {
		add(Other{Kind: CapacityLimited, NoPrice: !c.in[price].Given}, func(*vector) float64 { return math.Inf(1) })
	}
	if c.Random.Kinds[DemandLimited] < 1 {
		least := 0
		if c.Capacity[1] < c.Capacity[0] {
			least = 1
		}
		good, hours := [2]index{good0, good1}[least], [2]index{hours0, hours1}[least]
		add(Other{Kind: DemandLimited, Least: least}, func(v *vector) float64 { return v[good] * v[hours] })
	}
}

// AllInputs lists every input, simulated ones first, given or not.
func (c *Case) AllInputs() []Input { return c.in[:] }

// Between is what an input that is given lies between but for a share tail on
// either side, in Unit.
func (i *Input) Between(tail float64) (low, high float64) {
	return i.Dist.Quantile(tail) / i.scale, i.Dist.Quantile(1-tail) / i.scale
}

// Line is what of an alternative does not vary: 0 the first, 1 the other.
func (c *Case) Line(i int) Fixed { return c.side[i] }

// DepreciationYears is the whole years of depreciation, 0 when not given.
func (c *Case) DepreciationYears() int { return c.frame(&c.mean).Depreciation }

// Taxed says whether tax is calculated: savings are before it, flows after it.
func (c *Case) Taxed() bool { return c.mean[tax] > 0 }

// Drawn says what the draws take: how many economic inputs vary, and whether the
// simulated figures do.
func (c *Case) Drawn() (economic int, simulation bool) {
	for k := range c.drawn.col {
		switch {
		case c.drawn.col[k] == nil:
		case index(k) < simulated:
			simulation = true
		case c.in[k].Given:
			economic++
		}
	}
	return economic, simulation
}

// Certain says whether the life and the discount rate are single values.
func (c *Case) Certain() (years, discount bool) {
	return c.in[life].Dist.IsConst(), c.in[rate].Dist.IsConst()
}
