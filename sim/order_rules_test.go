package sim

import (
	"context"
	"math"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"rollchange/model"
	"rollchange/sim/effort"
	"rollchange/sim/invented"
)

// listed runs a list of orders of a line without chance.
func listed(t *testing.T, l *model.Line, list ...model.Order) []OrderRun {
	t.Helper()
	for i := range list {
		list[i].Due = model.NotDue
	}
	l.Orders.List = list
	var runs []OrderRun
	require.NoError(t, RunOrders(context.Background(), l, Replication{Seed: 1, Horizon: 1e6}, func(r *OrderRun) { runs = append(runs, *r) }))
	require.Len(t, runs, len(list))
	return runs
}

// everyProduct changes the line and all its products.
func everyProduct(l *model.Line, change func(*model.Line)) {
	change(l)
	for i := range l.Products {
		change(l.Products[i].Line)
	}
}

// An order of good web makes up for what its stops and starts cost, its last stop too.
func TestAnOrderOfGoodWebMakesUpForItsStops(t *testing.T) {
	l := weekLine()
	everyProduct(l, func(l *model.Line) { l.Process.StopScrap, l.Process.RestartScrap = model.Const(5), model.Const(3) })
	l.Orders.Good = true
	l.Changeover.Scrap = model.Const(10)
	for i, r := range listed(t, l, model.Order{Product: 0, Length: 600}, model.Order{Product: 1, Length: 1500}, model.Order{Product: 0, Length: 2}, model.Order{Product: 2, Length: 300}) {
		assert.InDelta(t, []float64{600, 1500, 2, 300}[i], r.Good, 1e-6, "order %d", i)
	}
}

// A centimetre of good web before a stop that makes scrap of 500 km is found at once, not a
// centimetre at a time: 50 million steps for each time that the end is looked for.
func TestALittleGoodWebBeforeALongScrapIsFoundAtOnce(t *testing.T) {
	l := weekLine()
	everyProduct(l, func(l *model.Line) {
		l.Process.StopScrap, l.Unwind.Roll.Length, l.Rewind = model.Const(500e3), model.Const(2e6), model.Rewind{}
	})
	l.Orders.Good = true
	start := effort.Processor(t)
	for i, r := range listed(t, l, model.Order{Product: 0, Length: 0.01}, model.Order{Product: 0, Length: 0.02}) {
		assert.InDelta(t, []float64{0.01, 0.02}[i], r.Good, model.LeastLength)
		assert.InDelta(t, 500e3, r.Scrap, model.LeastLength)
	}
	assert.Less(t, effort.Processor(t)-start, time.Second/2)
}

// A last roll that is rejected is made up for too: a roll of 400 m may have no splice.
// Of the 1,100 m of the order the roll from 800 m on has that at 1,000 m, so that the
// order goes on for another 300 m.
func TestAnOrderOfGoodWebMakesUpForARejectedRoll(t *testing.T) {
	l := weekLine()
	everyProduct(l, func(l *model.Line) {
		l.Rewind = model.Rewind{Change: model.Manual, Roll: model.RollSize{Length: model.Const(400)}, Trigger: model.ByLength, ChangeTime: model.Const(10), EndWithOrder: true}
	})
	l.Orders.Good = true
	r := listed(t, l, model.Order{Product: 0, Length: 1100}, model.Order{Product: 0, Length: 200})
	assert.InDelta(t, 1100, r[0].Good, 1e-6)
	assert.InDelta(t, 300, r[0].Scrap, 1e-6)
	assert.Equal(t, 3.0, r[0].FinishedRolls, "two of 400 m and one of 300 m")
	assert.InDelta(t, 200, r[1].Good, 1e-6)
	assert.Equal(t, r[0].End, r[1].From)
}

// A roll that runs on leaves the residual of the product that it ends with.
func TestARollLeavesTheResidualOfTheProductItEndsWith(t *testing.T) {
	l := weekLine()
	l.Products[1].Line.Unwind.Residual = 50
	r := listed(t, l, model.Order{Product: 0, Length: 600}, model.Order{Product: 1, Length: 800})
	assert.InDelta(t, 50, r[1].Residual, 1e-9)
}

// A finished roll that runs on from one product to another ends at the length of the
// other.
func TestAFinishedRollEndsAtTheLengthOfTheProductItEndsWith(t *testing.T) {
	l := weekLine()
	everyProduct(l, func(l *model.Line) {
		l.Unwind.Roll.Length = model.Const(1e5)
		l.Rewind = model.Rewind{Change: model.Manual, Roll: model.RollSize{Length: model.Const(1000)}, Trigger: model.ByLength, MaxSplices: -1, ChangeTime: model.Const(10)}
	})
	l.Products[1].Line.Rewind.Roll.Length = model.Const(500)
	r := listed(t, l, model.Order{Product: 0, Length: 300}, model.Order{Product: 1, Length: 1300})
	assert.Equal(t, 0.0, r[0].FinishedRolls)
	assert.Equal(t, 3.0, r[1].FinishedRolls, "at 500, 1,000 and 1,500 m")
}

// A part roll is waste when the fastest product of its web could not stop on it.
func TestAPartRollMustServeEveryProductOfItsWeb(t *testing.T) {
	l := weekLine()
	list := []model.Order{{Product: 0, Length: 990}, {Product: 2, Length: 10}}
	assert.Zero(t, listed(t, l, list...)[0].Residual, "8 m to stop, and a metre")
	l.Products[1].Line.Process.Decel = 0.5 // 16 m
	assert.InDelta(t, 10, listed(t, l, list...)[0].Residual, 1e-9)
}

// A list that is done before the warm-up is over has nothing to tell.
func TestAListThatIsDoneInTheWarmUpIsAnError(t *testing.T) {
	l := weekLine()
	_, err := Prepare(l).Run(context.Background(), Replication{Seed: 1, Horizon: 1e6, WarmUp: 5e5}, nil)
	require.ErrorContains(t, err, "before the warm-up")
}

// A list that is repeated is not remembered for a line that no order is for.
func TestAListIsNotKeptForALineWithoutOrders(t *testing.T) {
	b := newOrderBook(&model.Orders{Repeat: true, List: []model.Order{{Line: 1}, {Line: 1}}}, 2, streams{})
	assert.Equal(t, -1, b.take(1))
	for i := range 1000 {
		require.Equal(t, i%2, b.take(0))
	}
	assert.LessOrEqual(t, len(b.queue), 4)
}

// An order that ends allocates nothing, nor one that begins: ten times the horizon, some
// thousand orders more, takes no more memory but for lists that happen to be longer.
// What the whole process allocates meanwhile is counted too, so the limit is one for
// ten orders, and the least of three tries is judged.
func TestAnOrderAllocatesNothing(t *testing.T) {
	law := func(mean float64) model.Dist { return model.Dist{Law: model.Exponential, A: mean} }
	for _, repeated := range []bool{false, true} {
		l := invented.EveryChance()
		invented.AddZeroSpeedRewind(&l)
		l.Unwind.Reuse, l.Rewind.EndWithOrder = true, true
		l.Changeover = model.Changeover{Time: law(300), Scrap: law(20), Operators: 1, When: []model.When{{Changes: "web.width", Adds: law(60), Differs: [][]bool{{false, true}, {true, false}}}}}
		l.Orders = &model.Orders{Good: true}
		for i, width := range []float64{0.3, 0.4} {
			p := l
			p.Orders, p.Products, p.Changeover = nil, nil, model.Changeover{}
			p.Web.Width, p.Process.Speed = width, 2-0.3*float64(i)
			l.Products = append(l.Products, model.Product{Name: string(rune('a' + i)), Line: &p, Share: 0.5, OrderLength: law(2000)})
		}
		if repeated {
			l.Orders = &model.Orders{Repeat: true, Shuffled: true}
			for i := range 10 {
				l.Orders.List = append(l.Orders.List, model.Order{Product: i % 2, Length: 300 * float64(1+i)})
			}
		}
		line := Prepare(&l)
		allocations := func(days float64) float64 {
			least := math.Inf(1)
			for range 3 {
				least = min(least, testing.AllocsPerRun(1, func() {
					_, err := line.Run(context.Background(), Replication{Seed: 3, Horizon: days * 86400}, nil)
					require.NoError(t, err)
				}))
			}
			return least
		}
		assert.InDelta(t, allocations(2), allocations(12), 100, "repeated: %v", repeated)
	}
}

// An order that is over before the web has moved, of half a millimetre or of none, has its
// changeover like any other; counted as processed or as good web.
func TestOrderOfNoWebIsChangedOver(t *testing.T) {
	for _, good := range []bool{false, true} {
		for _, length := range []float64{0, 5e-4} {
			l := weekLine()
			l.Orders.Good = good
			l.Orders.List = []model.Order{{Product: 0, Length: 100, Due: model.NotDue}, {Product: 1, Length: length, Due: model.NotDue}, {Product: 0, Length: 100, Due: model.NotDue}}
			var runs []OrderRun
			require.NoError(t, RunOrders(context.Background(), l, Replication{Horizon: 1e5}, func(r *OrderRun) { runs = append(runs, *r) }))
			require.Len(t, runs, 3)
			assert.InDelta(t, runs[0].End+300, runs[1].Begin, 1e-9)
			assert.InDelta(t, runs[1].Begin, runs[1].End, 1e-9)
			assert.InDelta(t, runs[1].End+300, runs[2].Begin, 1e-9)
			assert.InDelta(t, runs[2].Begin+4+(100-4-2)/2.+2, runs[2].End, 1e-3)
		}
	}
}

// Twenty million kilometres on, the last digit of a place on the web is coarser than a
// micrometre: an order of good web ends all the same.
func TestOrderOfGoodWebFarAlong(t *testing.T) {
	l := weekLine()
	l.Orders.Good = true
	for i := range l.Products {
		l.Products[i].Line.Unwind.Roll.Length = model.Const(1e12)
	}
	l.Unwind.Roll.Length = model.Const(1e12)
	l.Orders.List = []model.Order{{Product: 0, Length: 2e10, Due: model.NotDue}}
	for k := range 20 {
		l.Orders.List = append(l.Orders.List, model.Order{Product: 1, Length: 1000 + 0.37e-6*float64(k), Due: model.NotDue})
	}
	orders := 0
	require.NoError(t, RunOrders(context.Background(), l, Replication{Horizon: 1e12}, func(r *OrderRun) {
		orders++
		assert.InDelta(t, l.Orders.List[r.Order].Length, r.Good, 0.01)
	}))
	assert.Equal(t, len(l.Orders.List), orders)
}
