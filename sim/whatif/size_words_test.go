package whatif

import (
	"context"
	"fmt"
	"math"
	"regexp"
	"strconv"
	"strings"
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

// note is the first note, or a sentence of it, that matches; its numbers are in the groups.
func note(t testing.TB, says []string, pattern string) []string {
	t.Helper()
	m := regexp.MustCompile(pattern).FindStringSubmatch(strings.Join(says, "\n"))
	require.NotNil(t, m, "%q in %q", pattern, says)
	return m
}

// Splices that fail do not count in what a storage is there for: the answer is
// that of the dwell. What they add, and the storage that rides through them, stand
// beside it, and are as said.
func TestWhatFailsStandsBesideTheStorage(t *testing.T) {
	s := failing(t, "10 min")
	a := sizeStorage(t, s, StorageQuestion{Risk: Risk{Share: 1e-4}, Most: 500}, 0)
	assert.True(t, a.Met)
	assert.InEpsilon(t, a.ClosedForm.Value, a.Value, 1e-3)
	assert.Equal(t, "a long dwell", a.LimitedBy)
	assert.Contains(t, a.Target, "not counted")
	require.NotNil(t, a.Failed)
	assert.InDelta(t, 0.01, a.Failed.Fails, 1e-12)
	assert.InDelta(t, 0.01, a.Failed.Add.Mean, 1e-3, "10 min by hand are 1500 m: none is ridden through")
	assert.InDelta(t, a.Failed.Add.Mean, metricsWith(t, s, over("unwind.storage.capacity", metres(a.Value)))["splice.depletion.failed"].Mean, 1e-12)
	assert.False(t, a.Failed.Holds)
	assert.True(t, math.IsNaN(a.Failed.Value))
	note(t, a.Notes, `^10 in 1,000 splices fail and are made by hand; with this storage 10 .*in 1,000 fail and deplete it; no storage up to 500 m meets the target if they count`)

	a = sizeStorage(t, s, StorageQuestion{Risk: Risk{Share: 1e-4}, Most: 5000}, 0)
	note(t, a.Notes, `; if they count, the target needs 1[5-9]\d\d m`)
	assert.LessOrEqual(t, metricsWith(t, s, over("unwind.storage.capacity", metres(a.Failed.Value)))["splice.depletion"].Mean, 1e-4)
	assert.Greater(t, metricsWith(t, s, over("unwind.storage.capacity", metres(0.99*a.Failed.Value)))["splice.depletion"].Mean, 1e-4)
	with := sizeStorage(t, s, StorageQuestion{Risk: Risk{Share: 1e-4}, Most: 5000, CountFailed: true}, 2)
	assert.InEpsilon(t, a.Failed.Value, with.Value, 1e-3, "what is counted is asked for")
	assert.Nil(t, with.Failed)
	assert.Equal(t, "splices that fail and are made by hand", with.LimitedBy)
	assert.Contains(t, with.Target, "by hand counted)")
	note(t, with.Notes, `a long dwell alone needs 61\.\d+ m \(closed form\); the rest is for splices that fail`)

	quick := sizeStorage(t, failing(t, "1 s"), StorageQuestion{Risk: Risk{Share: 0.02}, Most: 500}, 0)
	assert.True(t, quick.Failed.Holds)
	note(t, quick.Notes, `: the target holds even with them`)
	never := sizeStorage(t, withDwell(t, laws["gamma"]), StorageQuestion{Risk: Risk{Share: 0.01}, Most: 500}, 0)
	assert.Nil(t, never.Failed)
	assert.NotContains(t, never.Target, "fail")
	_, err := SizeStorage(context.Background(), s, StorageQuestion{Rewind: true, Risk: Risk{Share: 1e-4}, Most: 500}, Options{})
	assert.ErrorContains(t, err, "only zero-speed has a storage")
}

// Where half the storage comes to nearly the same, no storage is given: it is not
// the storage. The chances that it names, and what is said to help, are true.
func TestItIsNotTheStorage(t *testing.T) {
	s := failing(t, `{ dist = "lognormal", mean = "10 min", sd = "8 min" }`, over("run.horizon", "10 d"), over("run.replications", "20"))
	target := metricsWith(t, s, over("unwind.storage.capacity", "280 m"))["splice.depletion"].Mean
	a := sizeStorage(t, s, StorageQuestion{Risk: Risk{Share: target}, Most: 2000, CountFailed: true}, 0)
	assert.False(t, a.Met)
	assert.True(t, a.Flat, "%g m", a.Value)
	assert.True(t, math.IsNaN(a.Value))
	m := note(t, []string{a.Why}, `^the storage is not what limits it: splices that fail and are made by hand. The chance is ([\d.]+) % .*at ([\d.]+) m, ([\d.]+) % .*at ([\d.]+) m, and `)
	for i := 1; i < 5; i += 2 {
		chance, _ := strconv.ParseFloat(m[i], 64)
		got := metricsWith(t, s, over("unwind.storage.capacity", m[i+1]+" m"))["splice.depletion"].Mean
		assert.InEpsilon(t, chance/100, got, 0.006)
		assert.Less(t, got, 1.25*target)
	}
	m = note(t, a.Notes, `^with splices that succeed in ([\d.]+) % instead of 99 % it would be ([\d.]+) % .*at 70 m, which meets it by the estimate alone, not by its upper limit`)
	e := metricsWith(t, s, over("unwind.splice_success", m[1]+" %"))["splice.depletion"]
	chance, _ := strconv.ParseFloat(m[2], 64)
	assert.InEpsilon(t, chance/100, e.Mean, 0.006)
	assert.LessOrEqual(t, e.Mean, target)
	assert.Greater(t, e.High, target)
	for _, name := range replicate.OutlinesOf(&s.Study)[0].Metrics {
		if part, ok := strings.CutPrefix(name.Name, "waste."); ok && part != "total" {
			assert.NotEmpty(t, wasteWords[part], part)
		}
	}

	beside := sizeStorage(t, s, StorageQuestion{Risk: Risk{Share: target}, Most: 2000}, 0)
	assert.True(t, beside.Met)
	assert.True(t, beside.Failed.Flat)
	note(t, beside.Notes, `if they count, they and not the storage decide whether the target holds`)
}

// A target that no storage meets is said to be so, with how low the chance gets,
// from where on more gains next to nothing, and why.
func TestNoStorageIsEnough(t *testing.T) {
	s := failing(t, "10 min")
	a := sizeStorage(t, s, StorageQuestion{Risk: Risk{Share: 1e-4}, Most: 500, CountFailed: true}, 0)
	assert.False(t, a.Met)
	assert.False(t, a.Flat)
	assert.True(t, math.IsNaN(a.Value))
	note(t, []string{a.Why}, `^even 500 m gives 1 % .*of the splices, most of it because of splices that fail and are made by hand`)
	m := note(t, a.Notes, `above ([\d.]+) m, more storage cuts that by less than a tenth`)
	least := metricsWith(t, s, over("unwind.storage.capacity", "500 m"))["splice.depletion"].Mean
	assert.LessOrEqual(t, metricsWith(t, s, over("unwind.storage.capacity", m[1]+" m"))["splice.depletion"].Mean*0.9, least*1.001)
	x, _ := strconv.ParseFloat(m[1], 64)
	assert.Greater(t, metricsWith(t, s, over("unwind.storage.capacity", metres(0.95*x)))["splice.depletion"].Mean*0.9, least, "not from less on")

	a = sizeStorage(t, withDwell(t, laws["gamma"]), StorageQuestion{Risk: Risk{Share: 1e-4}, Most: 40}, 0)
	assert.False(t, a.Met)
	assert.Equal(t, "a long dwell", a.LimitedBy)
	note(t, a.Notes, `^a long dwell alone needs the 61\.\d+ m of the closed form; --most is 40 m`)
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
	note(t, []string{a.Why}, `^a target of 0\.1 % needs 4,[12]00 splices with nothing seen; \d+ were simulated; so far the chance is known to be below 1 in \d+ at .* m; --most-replications `+fmt.Sprint(a.Short.Enough)+` would allow them`)
	note(t, a.Notes, `by the estimate alone, without its confidence limits, `+regexp.QuoteMeta(fmt.Sprintf("%.4g", a.Value))+` m is enough`)
	assert.LessOrEqual(t, metricsWith(t, s, over("unwind.storage.capacity", metres(a.Value)))["splice.depletion"].Mean, 1e-3)
	fewer := ask(int(0.9 * a.Short.Enough))
	assert.False(t, fewer.Met)
	enough := ask(int(a.Short.Enough))
	assert.True(t, enough.Met, enough.Why)
	assert.Nil(t, enough.Short)
	m := note(t, enough.Notes, `so rare a target took ([\d,]+) splices: (\d+) replications instead of 2`)
	assert.Equal(t, fmt.Sprint(a.Short.Enough), m[2])
	e := metricsWith(t, s, over("unwind.storage.capacity", metres(enough.High)), over("run.replications", m[2]))["splice.depletion"]
	assert.LessOrEqual(t, e.High, 1e-3, "at its upper end the limit is below the target")
	free := ask(0)
	assert.True(t, free.Met, "some seconds are enough")
}

// A limit that holds at no speed says so in one line, with what would have to
// change; both are true. Failed splices count only where they are asked for.
func TestALimitThatHoldsAtNoSpeed(t *testing.T) {
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
	assert.NotContains(t, a.Why, "\n")
	m := note(t, []string{a.Why}, `^storage depleted more often than the target at every speed tried: still 1 % .*at ([\d.]+) m/min; the limit is 0\.1 %; with splices that succeed in ([\d.]+) % instead of 99 % it would be ([\d.]+) % `)
	slow := over("line.speed", m[1]+" m/min")
	assert.InEpsilon(t, 0.01, metricsWith(t, s, slow)["splice.depletion"].Mean, 0.005)
	chance, _ := strconv.ParseFloat(m[3], 64)
	mended := metricsWith(t, s, slow, over("unwind.splice_success", m[2]+" %"))["splice.depletion"].Mean
	assert.InEpsilon(t, chance/100, mended, 0.006)
	assert.Less(t, mended, 1e-3)
	m = note(t, a.Notes, `the other limits hold up to ([\d.]+) m/min`)
	top, _ := strconv.ParseFloat(m[1], 64)

	limits.ButFailed = true
	a = ask(limits)
	assert.True(t, a.Met, a.Why)
	assert.LessOrEqual(t, a.Value*60, top+0.1)
	assert.Contains(t, a.Target, "not counted")
	assert.LessOrEqual(t, metricsWith(t, s, over("line.speed", strconv.FormatFloat(a.Value, 'g', 12, 64)+" m/s"))["splice.depletion.not_failed"].Mean, 1e-3)

	limits.Waste = 1e-6
	a = ask(limits)
	assert.False(t, a.Met)
	note(t, []string{a.Why}, `^too much waste at every speed tried: still 0\.3 % .*at .* m/min; the limit is 1 in 1,000,000; the largest part of it is web left on cores, 0\.3 %`)
}

// The set point of least cost is that of the lines that are possible.
func TestResidualWithinItsLimits(t *testing.T) {
	s := withDwell(t, `"4 s"`, over("unwind.residual", "12 m"), over("unwind.residual_least", "9 m"), over("unwind.recover", "5 min"),
		over("unwind.residual_error", `{ dist = "normal", mean = "0 m", sd = "3 m" }`))
	a, err := SizeResidual(context.Background(), s, ResidualQuestion{Web: 0.5, RunOut: 100}, Options{})
	require.NoError(t, err)
	assert.True(t, a.Met)
	assert.Equal(t, 9.0, a.Value, "free it would be 7.69 m")
	assert.Contains(t, a.LimitedBy, "residual_least")
	note(t, a.Notes, `without that limit the best is 7\.691 m`)
	note(t, a.Notes, `no web is left to run on if the next roll is late`)
	require.Len(t, a.Evidence, 2)
	assert.True(t, a.Evidence[0].Possible)
}

// No crew beyond the answer is listed than could matter, and what is said to be
// lost with one fewer is above the target.
func TestCrewListsNoCrowd(t *testing.T) {
	a, err := SizeCrew(context.Background(), scenario(t, stopping), CrewQuestion{Lost: 0.02}, Options{})
	require.NoError(t, err)
	assert.Equal(t, 2.0, a.Value)
	for _, x := range a.Evidence {
		assert.LessOrEqual(t, x.X, a.Value+2)
	}
	lost := func(pattern string) float64 {
		x, err := strconv.ParseFloat(note(t, a.Notes, pattern)[1], 64)
		require.NoError(t, err)
		return x
	}
	assert.LessOrEqual(t, lost(`^with 2 operators, ([\d.]+) %.* of the good web is lost compared with a crew so large that nobody waits`), 2.0)
	assert.Greater(t, lost(`with 1 operator, ([\d.]+) % .*is lost`), 2.0)
}
