package sim

import (
	"context"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"rollchange/model"
)

// weekLine is a line by hand without chance that makes three products.
func weekLine() *model.Line {
	base := model.Line{
		Web:     model.Web{Width: 0.3},
		Process: model.Process{Speed: 2, RatedSpeed: 2, Accel: 0.5, Decel: 1},
		Unwind:  model.Unwind{Change: model.Manual, Roll: model.RollSize{Length: model.Const(1000)}, ChangeTime: model.Const(100), Reuse: true},
		Rewind:  model.Rewind{Change: model.None, MaxSplices: -1},
		Crew:    model.Crew{Operators: 1, Lines: 1, Shift: 28800},
	}
	product := func(name string, speed, width float64) model.Product {
		p := base
		p.Process.Speed, p.Process.RatedSpeed, p.Web.Width = speed, speed, width
		return model.Product{Name: name, Line: &p}
	}
	l := base
	l.Products = []model.Product{product("a", 2, 0.3), product("b", 4, 0.3), product("c", 2, 0.4)}
	l.Orders = &model.Orders{List: []model.Order{
		{Name: "1", Product: 0, Length: 600}, {Name: "2", Product: 1, Length: 800}, {Name: "3", Product: 2, Length: 500},
		{Name: "4", Product: 0, Length: 400}, {Name: "5", Product: 0, Length: 300, Earliest: 20000},
	}}
	for i := range l.Orders.List {
		l.Orders.List[i].Due = model.NotDue
	}
	l.Changeover = model.Changeover{Time: model.Const(300), Operators: 1, Between: []model.Between{{From: 0, To: 0, Time: model.Const(60)}}}
	return &l
}

// Five orders of three products by hand, s and m. Stop and start at 2 m/s cost 2 s
// for 2 m and 4 s for 4 m; at 4 m/s 4 s for 8 m and 8 s for 16 m.
func TestFiveOrdersByHand(t *testing.T) {
	var runs []OrderRun
	err := RunOrders(context.Background(), weekLine(), Replication{Seed: 1, Horizon: 1e6}, func(r *OrderRun) { runs = append(runs, *r) })
	require.NoError(t, err)
	require.Len(t, runs, 5)
	near := func(want, got float64, what string) { assert.InDelta(t, want, got, 1e-9*max(1, want), what) }
	near(0, runs[0].Begin, "set up")
	near(598/2.+2, runs[0].End, "600 m at 2 m/s, and a stop")
	// Order 2 has the same web: 400 m are on the roll, a change by hand at 400 m of 800.
	near(301+300, runs[1].Begin, "the changeover")
	second := runs[1].Begin + 8 + (400-16-8)/4. + 4 + 100 + 8 + (400-16-8)/4. + 4
	near(second, runs[1].End, "with a roll change")
	near(1, runs[1].RollChanges, "one")
	// Order 3 has another web: the rest of 600 m goes back to stock.
	near(second+300+4+(500-4-2)/2.+2, runs[2].End, "another web")
	// Order 4 goes on with the 600 m.
	fourth := runs[2].End + 300 + 4 + (400-4-2)/2. + 2
	near(fourth, runs[3].End, "the part roll")
	near(0, runs[3].RollChanges, "none on a part roll of 600 m")
	// Order 5 may not begin before 20000 s; 200 m are left for its 300 m.
	near(20000, runs[4].Begin, "earliest")
	near(20000+4+(200-4-2)/2.+2+100+4+(100-4-2)/2.+2, runs[4].End, "and one roll change")
	for _, r := range runs {
		sum := r.Running + r.Ramping + r.Slowed
		for _, x := range r.StoppedBy {
			sum += x
		}
		near(r.End-r.From, sum, "every second of an order has a cause")
	}
}

// Lanes and trim of products by hand: the same two orders with one lane and no trim make
// so many sets of rolls; three lanes of the one product triple its rolls, and trim of the
// other takes its share off its good area and adds it to its waste.
func TestLanesOfProducts(t *testing.T) {
	figures := func(lanes int, trim float64) map[string]float64 {
		l := weekLine()
		for i := range l.Products {
			p := l.Products[i].Line
			p.Rewind = model.Rewind{Change: model.Manual, Roll: model.RollSize{Length: model.Const(150)}, ChangeTime: model.Const(20), MaxSplices: -1, EndWithOrder: true}
		}
		l.Rewind = l.Products[0].Line.Rewind
		l.Products[1].Line.Rewind.Lanes, l.Products[2].Line.Rewind.Trim = lanes, trim
		l.Orders.List = l.Orders.List[:3]
		gauges := GaugesOf(l)
		x, err := Prepare(l).Run(context.Background(), Replication{Seed: 1, Horizon: 1e6}, nil)
		require.NoError(t, err)
		m := map[string]float64{}
		for i, g := range gauges {
			m[g.Name] = x.Figures[i].Num / x.Figures[i].Den
		}
		return m
	}
	plain, slit := figures(1, 0), figures(3, 0.04)
	assert.InEpsilon(t, 3*plain["product.finished_roll_rate.b"], slit["product.finished_roll_rate.b"], 1e-12)
	assert.InEpsilon(t, plain["product.finished_roll_rate.a"], slit["product.finished_roll_rate.a"], 1e-12)
	assert.InEpsilon(t, plain["finished_roll_rate"]+2*plain["product.finished_roll_rate.b"], slit["finished_roll_rate"], 1e-12)
	assert.InEpsilon(t, plain["good_area_rate"]-0.04*plain["product.good_rate.c"], slit["good_area_rate"], 1e-12)
	assert.InEpsilon(t, plain["good_rate"], slit["good_rate"], 1e-12, "lengths stay")
	assert.InEpsilon(t, plain["product.waste.c"]+0.1*(1-plain["product.waste.c"]), slit["product.waste.c"], 1e-12, "a tenth of the width of c is trimmed")
	assert.Greater(t, slit["waste.trim"], 0.)
	assert.NotContains(t, plain, "waste.trim")
}

// Part rolls by hand: order 2 leaves 600 m of its web, which order 4 goes on with; order
// 3 leaves 500 m of the other.
func TestPartRollsAreTold(t *testing.T) {
	l := weekLine()
	l.Orders.List = l.Orders.List[:4]
	gauges := GaugesOf(l)
	var end float64
	require.NoError(t, RunOrders(context.Background(), l, Replication{Horizon: 1e6}, func(r *OrderRun) { end = r.End }))
	x, err := Prepare(l).Run(context.Background(), Replication{Horizon: 1e6}, nil)
	require.NoError(t, err)
	for i, g := range gauges {
		f := x.Figures[i].Num / x.Figures[i].Den * end
		switch g.Name {
		case "part_rolls.returned":
			assert.InDelta(t, 2, f, 1e-9)
		case "part_rolls.reused":
			assert.InDelta(t, 1, f, 1e-9)
		case "part_rolls.web":
			assert.InDelta(t, 1100, f, 1e-6)
		}
	}
}

// Another web that is spliced in early costs no web: by hand, 10 m of path. Without it
// they run through as scrap before the order counts; with it the roll that goes back has
// them still.
func TestAnotherWebIsSplicedInEarly(t *testing.T) {
	for _, early := range []bool{false, true} {
		l := weekLine()
		lines := []*model.Line{l, l.Products[0].Line, l.Products[1].Line, l.Products[2].Line}
		for _, p := range lines {
			p.Process.Path = 10
			p.Unwind.Change, p.Unwind.SpliceIn, p.Unwind.SpliceSuccess = model.Flying, early, 1
			p.Unwind.Load, p.Unwind.Prepare, p.Unwind.Recover = model.Const(30), model.Const(30), model.Const(60)
		}
		l.Orders.List = []model.Order{{Product: 0, Length: 600, Due: model.NotDue}, {Product: 2, Length: 500, Due: model.NotDue}}
		var runs []OrderRun
		require.NoError(t, RunOrders(context.Background(), l, Replication{Horizon: 1e6}, func(r *OrderRun) { runs = append(runs, *r) }))
		require.Len(t, runs, 2)
		gauges := GaugesOf(l)
		x, err := Prepare(l).Run(context.Background(), Replication{Horizon: 1e6}, nil)
		require.NoError(t, err)
		back := 0.0
		for i, g := range gauges {
			if g.Name == "part_rolls.web" {
				back = x.Figures[i].Num / x.Figures[i].Den * runs[1].End
			}
		}
		lead := map[bool]float64{false: 10, true: 0}[early]
		assert.InDelta(t, lead, runs[1].Scrap, 1e-9)
		assert.InDelta(t, 500, runs[1].Good, 1e-9)
		assert.InDelta(t, 4+(500+lead-4-2)/2+2, runs[1].End-runs[1].Begin, 1e-9)
		assert.InDelta(t, 400+10-lead, back, 1e-6, "of 1000 m")
	}
}

// A good metre far behind scrap is found in one look: the web ahead is scrap for 1,000 km.
func TestGoodWebBehindMuchScrap(t *testing.T) {
	s := &scrap{}
	s.claim(10, 1e6, wChangeover)
	s.claim(1e6+5, 1e6+6, wStop)
	assert.InDelta(t, 4, s.reach(0, 4), 1e-12)
	assert.InDelta(t, 1e6+1, s.reach(0, 11), 1e-9)
	assert.InDelta(t, 1e6+8, s.reach(20, 7), 1e-9)
	l := weekLine()
	l.Orders.Good = true
	l.Orders.List = []model.Order{{Product: 0, Length: 100, Due: model.NotDue}, {Product: 1, Length: 1e-3, Due: model.NotDue}}
	l.Changeover.Scrap = model.Const(1e7)
	var runs []OrderRun
	require.NoError(t, RunOrders(context.Background(), l, Replication{Horizon: 1e9}, func(r *OrderRun) { runs = append(runs, *r) }))
	require.Len(t, runs, 2)
	assert.InDelta(t, 1e7, runs[1].Scrap, 1e-3)
}

// A model.Line says nothing of how many lines there are: it is one.
func TestOneLineWhereNoneIsSaid(t *testing.T) {
	l := weekLine()
	l.Orders, l.Products = nil, nil
	one, err := Prepare(l).Run(context.Background(), Replication{Seed: 1, Horizon: 1e5}, nil)
	require.NoError(t, err)
	none := *l
	none.Crew.Lines = 0
	x, err := Prepare(&none).Run(context.Background(), Replication{Seed: 1, Horizon: 1e5}, nil)
	require.NoError(t, err)
	assert.Equal(t, one.Figures, x.Figures)
}
