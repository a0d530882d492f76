package whatif

import (
	"context"
	"fmt"
	"math"
	"strconv"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"rollchange/scenarios"
	"rollchange/sim/replicate"
)

func over(key, value string) scenarios.Override { return scenarios.Override{Key: key, Value: value} }

// failing is the line whose splices fail, 1 in 100, and are made by hand.
func failing(t testing.TB, recovery string, more ...scenarios.Override) *scenarios.Scenario {
	return withDwell(t, laws["gamma"], append([]scenarios.Override{over("unwind.splice_success", "99 %"), over("unwind.recover", recovery)}, more...)...)
}

func sizeStorage(t testing.TB, s *scenarios.Scenario, q StorageQuestion, most int) *Answer {
	t.Helper()
	a, err := SizeStorage(context.Background(), s, q, Options{Most: most})
	require.NoError(t, err)
	return a
}

// metricsWith simulates a scenario with some keys changed.
func metricsWith(t testing.TB, s *scenarios.Scenario, list ...scenarios.Override) replicate.Metrics {
	t.Helper()
	c, err := s.Again(list...)
	require.NoError(t, err)
	r, err := replicate.Simulate(context.Background(), &c.Study, replicate.Options{})
	require.NoError(t, err)
	return r.Alternatives[0].Metrics
}

func metres(x float64) string { return strconv.FormatFloat(x, 'g', 12, 64) + " m" }

// noteOf is the first note of a kind.
func noteOf[N Note](t testing.TB, notes []Note) N {
	t.Helper()
	for _, n := range notes {
		if n, ok := n.(N); ok {
			return n
		}
	}
	var none N
	require.Failf(t, "no such note", "%T in %#v", none, notes)
	return none
}

// truly simulates the scenario and wants the chance that a fact says.
func truly(t testing.TB, s *scenarios.Scenario, metric string, at ChanceAt, list ...scenarios.Override) {
	t.Helper()
	e := metricsWith(t, s, append(list, over("unwind.storage.capacity", metres(at.X)))...)[metric]
	assert.InEpsilon(t, at.Chance.Mean, e.Mean, 1e-9)
	assert.InEpsilon(t, at.Chance.High, e.High, 1e-9)
}

// Splices that fail do not count in what a storage is there for: the answer is
// that of the dwell. What they add, and the storage that rides through them, stand
// beside it, and are as said.
func TestWhatFailsStandsBesideTheStorage(t *testing.T) {
	s := failing(t, "10 min")
	a := sizeStorage(t, s, StorageQuestion{Risk: Risk{Share: 1e-4}, Most: 500}, 0)
	assert.True(t, a.Met)
	assert.InEpsilon(t, a.ClosedForm.Value, a.Value, 1e-3)
	assert.Equal(t, LongDwell, a.LimitedBy.By)
	assert.Equal(t, NotCounted, a.Target.Failed)
	require.NotNil(t, a.Failed)
	assert.InDelta(t, 0.01, a.Failed.Fails, 1e-12)
	assert.InDelta(t, 0.01, a.Failed.Add.Mean, 1e-3, "10 min by hand are 1500 m: none is ridden through")
	assert.InDelta(t, a.Failed.Add.Mean, metricsWith(t, s, over("unwind.storage.capacity", metres(a.Value)))["splice.depletion.failed"].Mean, 1e-12)
	assert.False(t, a.Failed.Holds)
	assert.True(t, math.IsNaN(a.Failed.Value))
	assert.Equal(t, a.Failed.Add.Mean, noteOf[Failed](t, a.Notes).Add.Mean)
	assert.Equal(t, 500.0, a.Failed.Most)

	a = sizeStorage(t, s, StorageQuestion{Risk: Risk{Share: 1e-4}, Most: 5000}, 0)
	assert.InDelta(t, 1750, a.Failed.Value, 250)
	assert.LessOrEqual(t, metricsWith(t, s, over("unwind.storage.capacity", metres(a.Failed.Value)))["splice.depletion"].Mean, 1e-4)
	assert.Greater(t, metricsWith(t, s, over("unwind.storage.capacity", metres(0.99*a.Failed.Value)))["splice.depletion"].Mean, 1e-4)
	with := sizeStorage(t, s, StorageQuestion{Risk: Risk{Share: 1e-4}, Most: 5000, CountFailed: true}, 2)
	assert.InEpsilon(t, a.Failed.Value, with.Value, 1e-3, "what is counted is asked for")
	assert.Nil(t, with.Failed)
	assert.Equal(t, FailedByHand, with.LimitedBy.By)
	assert.Equal(t, Counted, with.Target.Failed)
	assert.Equal(t, DwellNeeds{with.ClosedForm.Value, FailedByHand}, noteOf[DwellNeeds](t, with.Notes))

	quick := sizeStorage(t, failing(t, "1 s"), StorageQuestion{Risk: Risk{Share: 0.02}, Most: 500}, 0)
	assert.True(t, quick.Failed.Holds)
	never := sizeStorage(t, withDwell(t, laws["gamma"]), StorageQuestion{Risk: Risk{Share: 0.01}, Most: 500}, 0)
	assert.Nil(t, never.Failed)
	assert.Equal(t, NoneFail, never.Target.Failed)
	_, err := SizeStorage(context.Background(), s, StorageQuestion{Rewind: true, Risk: Risk{Share: 1e-4}, Most: 500}, Options{})
	assert.ErrorContains(t, err, "only zero-speed has a storage")
}

// Where half the storage comes to nearly the same, no storage is given: it is not
// the storage. The chances that it names, and what is said to help, are true.
func TestItIsNotTheStorage(t *testing.T) {
	t.Parallel()
	s := failing(t, `{ dist = "lognormal", mean = "10 min", sd = "8 min" }`, over("run.horizon", "10 d"), over("run.replications", "20"))
	target := metricsWith(t, s, over("unwind.storage.capacity", "280 m"))["splice.depletion"].Mean
	a := sizeStorage(t, s, StorageQuestion{Risk: Risk{Share: target}, Most: 2000, CountFailed: true}, 0)
	assert.False(t, a.Met)
	assert.True(t, a.Flat, "%g m", a.Value)
	assert.True(t, math.IsNaN(a.Value))
	require.Len(t, a.Why, 1)
	why := noteOf[NotTheStorage](t, a.Why)
	assert.Equal(t, FailedByHand, why.By)
	require.Len(t, why.At, 3, "half of it, it, and the largest")
	assert.InEpsilon(t, 2, why.At[1].X/why.At[0].X, 1e-9)
	assert.Equal(t, 2000.0, why.At[2].X)
	for _, at := range why.At {
		truly(t, s, "splice.depletion", at)
		assert.Less(t, at.Chance.Mean, 1.25*target)
	}
	tried := noteOf[Tried](t, a.Notes)
	assert.Equal(t, "unwind.splice_success", tried.Key)
	assert.Equal(t, 0.99, tried.Now)
	assert.Equal(t, 70.0, tried.X)
	truly(t, s, "splice.depletion", tried.ChanceAt, over("unwind.splice_success", strconv.FormatFloat(100*tried.To, 'g', 6, 64)+" %"))
	assert.Equal(t, MetByEstimate, tried.Meets)
	assert.LessOrEqual(t, tried.Chance.Mean, target)
	assert.Greater(t, tried.Chance.High, target)

	if testing.Short() {
		return // TestWhatFailsStandsBesideTheStorage
	}
	beside := sizeStorage(t, s, StorageQuestion{Risk: Risk{Share: target}, Most: 2000}, 0)
	assert.True(t, beside.Met)
	assert.True(t, beside.Failed.Flat)
}

// A target that no storage meets is said to be so, with how low the chance gets,
// from where on more gains next to nothing, and why.
func TestNoStorageIsEnough(t *testing.T) {
	s := failing(t, "10 min")
	a := sizeStorage(t, s, StorageQuestion{Risk: Risk{Share: 1e-4}, Most: 500, CountFailed: true}, 0)
	assert.False(t, a.Met)
	assert.False(t, a.Flat)
	assert.True(t, math.IsNaN(a.Value))
	even := noteOf[EvenMost](t, a.Why)
	assert.Equal(t, FailedByHand, even.By)
	assert.Equal(t, 500.0, even.X)
	truly(t, s, "splice.depletion", even.ChanceAt)
	x := noteOf[MoreGainsLittle](t, a.Notes).X
	least := even.Chance.Mean
	assert.LessOrEqual(t, metricsWith(t, s, over("unwind.storage.capacity", metres(x)))["splice.depletion"].Mean*0.9, least*1.001)
	assert.Greater(t, metricsWith(t, s, over("unwind.storage.capacity", metres(0.95*x)))["splice.depletion"].Mean*0.9, least, "not from less on")

	a = sizeStorage(t, withDwell(t, laws["gamma"]), StorageQuestion{Risk: Risk{Share: 1e-4}, Most: 40}, 0)
	assert.False(t, a.Met)
	assert.Equal(t, LongDwell, a.LimitedBy.By)
	assert.Equal(t, DwellBeyond{a.ClosedForm.Value, 40}, noteOf[DwellBeyond](t, a.Notes))
}

// A rare target goes on until the limit of what was never seen is below it, or says
// how many splices that takes; so many are then enough, and a tenth fewer are not.
func TestRareTargetIsShownOrSaysWhatItTakes(t *testing.T) {
	s := withDwell(t, laws["gamma"], over("unwind.prepare", `{ dist = "exponential", mean = "30 s" }`))
	ask := func(most int) *Answer {
		return sizeStorage(t, s, StorageQuestion{Risk: Risk{Share: 1e-3}, Most: 1000}, most)
	}
	a := ask(2)
	assert.False(t, a.Met)
	require.NotNil(t, a.Short)
	assert.False(t, a.Short.Seen)
	assert.InEpsilon(t, 3.7/1e-3, a.Short.Needed*barely, 0.02, "nothing seen in n: below 3.7 in n")
	assert.Equal(t, Unshown{Short: a.Short}, noteOf[Unshown](t, a.Why))
	assert.Equal(t, ByEstimate{a.Value}, noteOf[ByEstimate](t, a.Notes))
	assert.LessOrEqual(t, metricsWith(t, s, over("unwind.storage.capacity", metres(a.Value)))["splice.depletion"].Mean, 1e-3)
	fewer := ask(int(0.9 * a.Short.Enough))
	assert.False(t, fewer.Met)
	enough := ask(int(a.Short.Enough))
	assert.True(t, enough.Met, "%v", enough.Why)
	assert.Nil(t, enough.Short)
	took := noteOf[TookMore](t, enough.Notes)
	assert.Equal(t, a.Short.Enough, float64(took.Replications))
	assert.Equal(t, 2, took.Usual)
	e := metricsWith(t, s, over("unwind.storage.capacity", metres(enough.High)), over("run.replications", fmt.Sprint(took.Replications)))["splice.depletion"]
	assert.InEpsilon(t, e.Trials, took.Changes, 0.01)
	assert.LessOrEqual(t, e.High, 1e-3, "at its upper end the limit is below the target")
	free := ask(0)
	assert.True(t, free.Met, "some seconds are enough")
}

// A limit that holds at no speed says so in one line, with what would have to
// change; both are true. Failed splices count only where they are asked for.
func TestALimitThatHoldsAtNoSpeed(t *testing.T) {
	t.Parallel()
	if testing.Short() {
		t.Skip("long")
	}
	s := failing(t, "10 min", over("run.horizon", "10 d"))
	ask := func(limits Limits) *Answer {
		a, err := SizeSpeed(context.Background(), s, limits, Options{})
		require.NoError(t, err)
		return a
	}
	limits := Usual()
	a := ask(limits)
	assert.False(t, a.Met)
	assert.True(t, math.IsNaN(a.Value))
	assert.True(t, a.Next[0].Never)
	require.Len(t, a.Why, 1)
	never := noteOf[AtNoSpeed](t, a.Why)
	assert.Equal(t, "splice.depletion", never.Metric)
	at := func(v float64) scenarios.Override {
		return over("line.speed", strconv.FormatFloat(v, 'g', 12, 64)+" m/s")
	}
	assert.InEpsilon(t, 0.01, metricsWith(t, s, at(never.X))["splice.depletion"].Mean, 0.005)
	assert.InEpsilon(t, 0.01, never.Chance.Mean, 0.005)
	tried := never.Then.(Tried)
	mended := metricsWith(t, s, at(tried.X), over("unwind.splice_success", strconv.FormatFloat(100*tried.To, 'g', 6, 64)+" %"))["splice.depletion"].Mean
	assert.InEpsilon(t, tried.Chance.Mean, mended, 1e-6)
	assert.Less(t, mended, 1e-3)
	others := noteOf[OthersHold](t, a.Notes)

	limits.ButFailed = true
	a = ask(limits)
	assert.True(t, a.Met, "%v", a.Why)
	assert.LessOrEqual(t, a.Value, others.X*1.001)
	assert.Equal(t, NotCounted, a.Target.Failed)
	assert.LessOrEqual(t, metricsWith(t, s, over("line.speed", strconv.FormatFloat(a.Value, 'g', 12, 64)+" m/s"))["splice.depletion.not_failed"].Mean, 1e-3)

	limits.Waste = 1e-6
	a = ask(limits)
	assert.False(t, a.Met)
	never = noteOf[AtNoSpeed](t, a.Why)
	assert.Equal(t, "waste.total", never.Metric)
	part := never.Then.(LargestWaste)
	assert.Equal(t, "waste.residual", part.Metric)
	assert.InEpsilon(t, 6.0/2000, part.Share.Mean, 0.01, "the residual of a roll")
}

// The set point of least cost is that of the lines that are possible.
func TestResidualWithinItsLimits(t *testing.T) {
	s := withDwell(t, `"4 s"`, over("unwind.residual", "12 m"), over("unwind.residual_least", "9 m"), over("unwind.recover", "5 min"),
		over("unwind.residual_error", `{ dist = "normal", mean = "0 m", sd = "3 m" }`))
	a, err := SizeResidual(context.Background(), s, ResidualQuestion{Web: 0.5, RunOut: 100}, Options{})
	require.NoError(t, err)
	assert.True(t, a.Met)
	assert.Equal(t, 9.0, a.Value, "free it would be 7.69 m")
	assert.Equal(t, NotPossible, a.LimitedBy.By)
	assert.Contains(t, a.LimitedBy.Why, "residual_least")
	assert.InDelta(t, 7.690727, noteOf[FreeBest](t, a.Notes).X, 1e-4)
	noteOf[NothingLeft](t, a.Notes)
	rolls := noteOf[RollCosts](t, a.Notes)
	assert.Less(t, noteOf[FreeBest](t, a.Notes).Cost, rolls.Best.Cost)
	assert.Less(t, rolls.Best.Cost, rolls.Now.Cost)
	assert.InEpsilon(t, math.Erfc(3/math.Sqrt2)/2, rolls.Best.RunOut, 1e-6, "9 m are 3 sd")
	require.Len(t, a.Evidence, 2)
	assert.True(t, a.Evidence[0].Possible)
}

// No crew beyond the answer is listed than could matter, and what is said to be
// lost with one fewer is above the target.
func TestCrewListsNoCrowd(t *testing.T) {
	t.Parallel()
	a, err := SizeCrew(context.Background(), stoppingLines(t), CrewQuestion{Lost: 0.02}, Options{})
	require.NoError(t, err)
	assert.Equal(t, 2.0, a.Value)
	for _, x := range a.Evidence {
		assert.LessOrEqual(t, x.X, a.Value+2)
	}
	require.Len(t, a.Notes, 2)
	enough, fewer := a.Notes[0].(LostWith), a.Notes[1].(LostWith)
	assert.Equal(t, 2, enough.Operators)
	assert.True(t, enough.AgainstManyMore)
	assert.LessOrEqual(t, enough.Share, 0.02)
	assert.Equal(t, 1, fewer.Operators)
	assert.Greater(t, fewer.Share, 0.02)
	assert.Less(t, fewer.Low, fewer.Share)
	assert.Greater(t, fewer.High, fewer.Share)
}
