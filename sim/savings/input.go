package savings

import (
	"fmt"
	"math"

	"rollchange/model"
	"rollchange/sim/estimate"
	"rollchange/sim/replicate"
)

// index names an input in a vector of them.
type index int

// The simulated inputs come first, in the order of replicate.JointMetrics.
const (
	good0   index = iota // m/s of good web, all lines: the first alternative
	waste0               // share of the web supplied
	splice0              // 1/s
	good1                // the alternative
	waste1
	splice1
	simulated // how many of these there are
)

const (
	hours0         index = simulated + iota // s a year: the first alternative
	hours1                                  // the alternative
	demand                                  // m of good web a year
	price                                   // currency per m2
	material                                // currency per m2
	disposal                                // currency per kg
	crew                                    // currency per operator hour
	line                                    // currency per line hour
	tape                                    // currency per m
	rate                                    // share a year
	life                                    // years
	tax                                     // share
	depreciation                            // years
	income                                  // currency per kg of waste
	leaves0                                 // share of the freed operator hours that leaves: the first alternative
	leaves1                                 // the alternative
	changes                                 // share a year by which prices change: all that have no change of their own
	outputChange                            // of the price
	materialChange                          // of web, tape and income from waste
	wageChange                              // of an operator hour
	investment0                             // currency: the first alternative
	maintenance0                            // currency a year
	salvage0                                // currency
	startUp0                                // currency
	installation0                           // s
	investment1                             // the alternative
	maintenance1
	salvage1
	startUp1
	installation1
	inputs // how many there are
)

// vector is a value of every input, in the units above. Demand is +Inf where
// all that is made is sold.
type vector [inputs]float64

// Input is one figure that the answer hangs on.
type Input struct {
	Key   string // "economics.price", "alternative.investment"; "good_rate" for a simulated one
	Unit  string // in which Value is told
	Given bool
	Dist  model.Dist        // of a given one, SI
	Est   estimate.Estimate // of a simulated one
	Side  int               // of a simulated one: 0 the first, 1 the alternative
	Value float64           // the mean, in Unit
	scale float64           // SI of one Unit
	share bool              // 0..1
}

// Simulated says whether the input is a result of the simulation.
func (i *Input) Simulated() bool { return i.Est.Unit != "" }

// Varies says whether the input is drawn.
func (i *Input) Varies() bool {
	if i.Simulated() {
		return i.Est.SD > 0
	}
	return !i.Dist.IsConst()
}

// inputsOf lists the inputs of alternative i against another, from: the first
// but where two are ranked.
func inputsOf(study *model.Study, rs *replicate.Results, from, i int) [inputs]Input {
	var in [inputs]Input
	a, b := &study.Alternatives[from], &study.Alternatives[i]
	e, first := &b.Line.Economics, &a.Line.Economics
	for side, r := range []*replicate.Result{&rs.Alternatives[from], &rs.Alternatives[i]} {
		for k, name := range replicate.JointMetrics {
			x := r.Metrics[name]
			in[index(side*len(replicate.JointMetrics)+k)] = Input{Key: name, Unit: x.Unit, Given: true, Est: x, Side: side, Value: x.Mean, scale: 1}
		}
	}
	c := e.Currency
	for _, x := range []struct {
		k     index
		key   string
		unit  string // one that begins with / is of the currency, an empty one the currency itself
		scale float64
		d     *model.Dist
	}{
		{hours1, "economics.hours_per_year", "h", 3600, &e.HoursPerYear},
		{hours0, "first.hours_per_year", "h", 3600, &first.HoursPerYear},
		{demand, "economics.demand", "m", 1, &e.Demand},
		{price, "economics.price", "/m2", 1, &e.Price},
		{material, "economics.material_cost", "/m2", 1, &e.MaterialCost},
		{disposal, "economics.disposal_cost", "/kg", 1, &e.DisposalCost},
		{crew, "economics.crew_cost", "/h", 1, &e.CrewCost},
		{line, "economics.line_cost", "/h", 1, &e.LineCost},
		{tape, "economics.tape_cost", "/m", 1, &e.TapeCost},
		{rate, "economics.discount_rate", "%", 0.01, &e.DiscountRate},
		{life, "economics.life", "years", 1, &e.Life},
		{tax, "economics.tax_rate", "%", 0.01, &e.TaxRate},
		{depreciation, "economics.depreciation_years", "years", 1, &e.DepreciationYears},
		{income, "economics.waste_income", "/kg", 1, &e.WasteIncome},
		{leaves1, "economics.crew_hours_saved", "%", 0.01, &e.CrewHoursSaved},
		{leaves0, "first.crew_hours_saved", "%", 0.01, &first.CrewHoursSaved},
		{changes, "economics.price_change", "%", 0.01, &e.PriceChange},
		{outputChange, "economics.output_price_change", "%", 0.01, &e.OutputPriceChange},
		{materialChange, "economics.material_price_change", "%", 0.01, &e.MaterialPriceChange},
		{wageChange, "economics.wage_change", "%", 0.01, &e.WageChange},
		{investment0, "first.investment", "", 1, &a.Investment},
		{maintenance0, "first.maintenance", "/year", 1, &a.Maintenance},
		{salvage0, "first.salvage", "", 1, &a.Salvage},
		{startUp0, "first.start_up_cost", "", 1, &a.StartUp},
		{installation0, "first.installation_time", "h", 3600, &a.Installation},
		{investment1, "alternative.investment", "", 1, &b.Investment},
		{maintenance1, "alternative.maintenance", "/year", 1, &b.Maintenance},
		{salvage1, "alternative.salvage", "", 1, &b.Salvage},
		{startUp1, "alternative.start_up_cost", "", 1, &b.StartUp},
		{installation1, "alternative.installation_time", "h", 3600, &b.Installation},
	} {
		unit := x.unit
		if unit == "" || unit[0] == '/' {
			unit = c + unit
		}
		in[x.k] = Input{Key: x.key, Unit: unit, Given: x.d.Given(), Dist: *x.d, Value: x.d.Mean() / x.scale, scale: x.scale,
			share: unit == "%" && (x.k < changes || x.k > wageChange)} // a change may be below 0
	}
	if sameDist(first.HoursPerYear, e.HoursPerYear) {
		in[hours0].Given = false // one input, which moves both
	}
	if from == 0 || sameDist(first.CrewHoursSaved, e.CrewHoursSaved) {
		in[leaves0].Given = false // nothing leaves of what is there today
	}
	return in
}

// means is the vector of the means.
func means(in *[inputs]Input) vector {
	var v vector
	for i := range in {
		if index(i) < simulated {
			v[i] = in[i].Est.Mean
		} else {
			v[i] = in[i].Dist.Mean()
		}
	}
	if !in[demand].Given {
		v[demand] = math.Inf(1)
	}
	for _, k := range []index{leaves0, leaves1} {
		if !in[k].Dist.Given() {
			v[k] = 1
		}
	}
	return v
}

// sameDist says whether two distributions are the same.
func sameDist(a, b model.Dist) bool { return fmt.Sprintf("%v", a) == fmt.Sprintf("%v", b) }

// put sets an input of a vector; planned hours, and what leaves of the freed operator
// hours, that are the same for both alternatives are one input.
func (c *Case) put(v *vector, k index, x float64) {
	v[k] = x
	switch {
	case k == hours1 && !c.in[hours0].Given:
		v[hours0] = x
	case k == leaves1 && !c.in[leaves0].Given:
		v[leaves0] = x
	}
}

// covariance is that of the six simulated means. It is that of the replications
// where the results hold it; else different metrics count as independent, and
// the same metric of the two alternatives as far as the paired difference says:
//
//	cov(x0, x1) = (var x0 + var x1 - var(x1 - x0)) / 2
//
// where from is the first; else as if they had nothing in common. NaN
// everywhere when there is one replication only.
func covariance(rs *replicate.Results, from, i int) [simulated][simulated]float64 {
	var c [simulated][simulated]float64
	k := len(replicate.JointMetrics)
	at := func(a index) int { // its row in Joint
		if int(a) < k {
			return from*k + int(a)
		}
		return i*k + int(a) - k
	}
	if j := rs.Joint; j != nil {
		for a := range simulated {
			for b := range simulated {
				c[a][b] = j.Cov[at(a)][at(b)] / float64(j.N)
			}
		}
		return c
	}
	for m, name := range replicate.JointMetrics {
		x, y := rs.Alternatives[from].Metrics[name], rs.Alternatives[i].Metrics[name]
		n := float64(max(1, x.N))
		c[m][m], c[m+k][m+k] = x.SD*x.SD/n, y.SD*y.SD/n
		if from > 0 {
			continue
		}
		d := rs.Differences[i][name]
		both := (c[m][m] + c[m+k][m+k] - d.SD*d.SD/n) / 2
		c[m][m+k], c[m+k][m] = both, both
	}
	return c
}
