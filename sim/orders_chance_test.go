package sim_test

import (
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"rollchange/model"
	"rollchange/sim/effort"
	"rollchange/sim/invented"
)

// makesOrders turns a line into one that makes three products of other speeds, dwells
// and residuals in short orders, so that most rolls are of two: two of one web, one of
// another.
func makesOrders(l model.Line, seed uint64) model.Line {
	r := rand.New(rand.NewPCG(seed, 79))
	in := func(low, high float64) float64 { return low + (high-low)*r.Float64() }
	scaled := func(d model.Dist, by float64) model.Dist { // another law with by times the mean
		shape := in(4, 12)
		return model.Dist{Law: model.Gamma, A: shape, B: d.Mean() * by / shape}
	}
	l.Jobs = nil
	for _, s := range []*model.Storage{&l.Unwind.Storage, &l.Rewind.Storage} {
		s.SlowSpeed = min(s.SlowSpeed, 0.7*l.Process.Speed) // below that of the slowest product
	}
	base := l
	roll := l.Unwind.Roll.Mean(l.Web)
	for i, name := range []string{"a", "b", "c"} {
		p := base
		if i > 0 {
			v := in(0.75, 1) * base.Process.Speed
			p.Process.Speed = v
			p.Process.Accel, p.Process.Decel = base.Process.Accel*in(0.7, 1.5), base.Process.Decel*in(1, 1.5)
			p.Unwind.Dwell, p.Unwind.Residual = scaled(base.Unwind.Dwell, in(0.8, 1.4)), base.Unwind.Residual*in(1, 2)
			p.Rewind.Dwell = scaled(base.Rewind.Dwell, in(0.8, 1.4))
			p.Unwind.SpliceSuccess = min(1, base.Unwind.SpliceSuccess*in(0.9, 1.05))
		}
		p.Web.Stock = []string{"one", "one", "other"}[i]
		l.Products = append(l.Products, model.Product{Name: name, Line: &p, Share: 1. / 3, OrderLength: model.Dist{Law: model.Uniform, A: 0.3 * roll, B: 1.5 * roll}})
	}
	l.Orders = &model.Orders{}
	l.Unwind.Reuse, l.Rewind.EndWithOrder = r.Float64() < 0.7, r.Float64() < 0.7
	for i := range l.Products {
		l.Products[i].Line.Unwind.Reuse, l.Products[i].Line.Rewind.EndWithOrder = l.Unwind.Reuse, l.Rewind.EndWithOrder
	}
	l.Changeover = model.Changeover{Time: model.Const(30), Operators: 1}
	return l
}

// The calculated chance of a depletion has the mean of the counted one also where the
// product changes between two rolls, or while one runs: each comparison wrongly alarmed
// in 1 of 100,000 (4.5 standard errors of the paired difference).
func TestCalculatedAndCountedAgreeWithOrders(t *testing.T) {
	effort.NotInRace(t)
	for name, l := range invented.Depleting() {
		if testing.Short() && name != "failures" {
			continue
		}
		if !effort.Long() && (strings.Contains(name, ", ") || strings.Contains(name, " that ") || strings.Contains(name, "limits")) {
			continue // half of the lines
		}
		l = makesOrders(l, 3)
		run := model.Run{Horizon: 10 * 86400, WarmUp: 3600, Replications: effort.Of(10, 14, 150), Seed: 11}
		for which, kind := range [2]model.ChangeKind{l.Unwind.Change, l.Rewind.Change} {
			if !kind.Stores() {
				continue
			}
			diff, se, counted, seCounted, _ := calculatedLessCounted(t, l, run, which)
			assert.InDelta(t, 0, diff, 4.5*se+1e-12, "%s, side %d: counted %.5g, %.2f errors", name, which, counted, diff/se)
			assert.Greater(t, counted, 1e-4, "%s: too rare to say anything", name)
			assert.Less(t, seCounted, 0.2*counted, "%s: too few to say anything", name)
		}
	}
}

// And over random lines: 3 of 10,000 comparisons may pass 4.5 errors where few
// depletions make the law of the difference wide.
func TestCalculatedAndCountedAgreeOnRandomLinesWithOrders(t *testing.T) {
	if testing.Short() {
		t.Skip("long")
	}
	tried := 0
	for seed := range uint64(effort.Of(0, 8, 300)) {
		l := makesOrders(invented.Random(seed), seed)
		for which, kind := range [2]model.ChangeKind{l.Unwind.Change, l.Rewind.Change} {
			if !kind.Stores() {
				continue
			}
			diff, se, counted, _, _ := calculatedLessCounted(t, l, model.Run{Horizon: 2 * 86400, Replications: 40, Seed: seed}, which)
			if math.IsNaN(diff) {
				continue
			}
			tried++
			assert.InDelta(t, 0, diff, 6*se+1e-4, "seed %d side %d, counted %g, error %g, z %.2f", seed, which, counted, se, diff/se)
		}
	}
	assert.Greater(t, tried, 6)
}

// A mix of two products with long orders is the weighted runs of each: an order of
// product k takes L_k/r_k in the mean, L_k its mean length and r_k the processed rate of
// a line that makes nothing else, changeover included; so
//
//	r = sum s_k L_k / sum s_k L_k/r_k
//
// of a mix with shares s_k of the orders (renewal reward: Asmussen, Applied Probability
// and Queues, 2003, ch. VI.3), and product k has s_k L_k/r_k of the time. Each comparison
// is wrongly alarmed in 1 of 100,000 (4.5 standard errors); orders are some 25 rolls, so
// that rolls that run on from one order to another of the same web weigh nothing.
func TestAMixIsTheWeightedRunsOfItsProducts(t *testing.T) {
	if testing.Short() {
		t.Skip("three simulations of 60 days")
	}
	effort.NotInRace(t)
	law := func(mean float64) model.Dist { return model.Dist{Law: model.Exponential, A: mean} }
	base := invented.EveryChance()
	base.Crew.Lines, base.Crew.Duties = 1, nil
	base.Crew.Operators, base.Web.Stock = 4, "film"
	other := base
	other.Process.Speed, other.Process.RatedSpeed = 1.2, 1.2
	other.Unwind.Roll.Length, other.Unwind.Dwell = law(900), model.Const(12)
	lengths := []model.Dist{{Law: model.Uniform, A: 20000, B: 40000}, {Law: model.Uniform, A: 10000, B: 25000}}
	shares := []float64{0.35, 0.65}
	line := func(shares ...float64) model.Line {
		l := base
		l.Orders, l.Changeover = &model.Orders{}, model.Changeover{Time: law(900), Scrap: law(30), Operators: 2}
		for i, p := range []model.Line{base, other} {
			if shares[i] > 0 {
				p.Unwind.Reuse, p.Rewind.EndWithOrder = true, true
				l.Products = append(l.Products, model.Product{Name: string(rune('a' + i)), Line: &p, Share: shares[i], OrderLength: lengths[i]})
			}
		}
		return l
	}
	run := model.Run{Horizon: 60 * 86400, WarmUp: 86400, Replications: effort.Of(30, 30, 200), Seed: 21}
	alone := func(l model.Line) (rate, se float64) {
		r := simulated(t, l, run)
		x := r.Metrics["processed_rate"]
		return x.Mean, x.SD / math.Sqrt(float64(run.Replications))
	}
	ra, ea := alone(line(1, 0))
	run.Seed++
	rb, eb := alone(line(0, 1))
	run.Seed++
	mixed := simulated(t, line(shares...), run)
	a, b := shares[0]*lengths[0].Mean(), shares[1]*lengths[1].Mean()
	time := a/ra + b/rb
	want := (a + b) / time
	// d want/d ra = want a/(ra² time), so for rb.
	expected := want / time * math.Hypot(a/(ra*ra)*ea, b/(rb*rb)*eb)
	n := math.Sqrt(float64(run.Replications))
	x := mixed.Metrics["processed_rate"]
	se := math.Hypot(expected, x.SD/n)
	assert.InDelta(t, want, x.Mean, 4.5*se, "rate")
	require.Less(t, se, 0.02*want, "too few to say anything")
	share := mixed.Metrics["product.time.a"]
	assert.InDelta(t, a/ra/time, share.Mean, 4.5*share.SD/n, "share of the time of a")
	good := mixed.Metrics["product.good_rate.a"].Mean + mixed.Metrics["product.good_rate.b"].Mean
	assert.InEpsilon(t, mixed.Metrics["good_rate"].Mean, good, 1e-9)
}
