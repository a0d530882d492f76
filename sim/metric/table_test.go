package metric

import (
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
)

func TestTable(t *testing.T) {
	seen := map[string]bool{}
	for _, m := range Table() {
		assert.False(t, seen[m.Name], "%s stands twice", m.Name)
		seen[m.Name] = true
		got, ok := Of(m.Name)
		assert.True(t, ok)
		assert.Equal(t, m, got)
		assert.Contains(t, []string{"m/s", "m2/s", "kg/s", "m", "1", "1/s", "s"}, m.Unit, m.Name)
		switch m.Shown {
		case Plain:
			assert.NotContains(t, []string{"1", "1/s"}, m.Unit, m.Name)
		case PerTime:
			assert.Equal(t, "1/s", m.Unit, m.Name)
		case Every:
			assert.Equal(t, "s", m.Unit, m.Name)
		default:
			assert.Equal(t, "1", m.Unit, m.Name)
		}
		assert.Equal(t, m.Estimate == OfTrials, m.Shown == ShareOfChanges || m.Shown == Chance && !m.Family(), "%s: chances are of trials", m.Name)
	}
	for _, name := range []string{"", "good", "npv", "splice.depletion_often", "stop_rates", "time.", "waste."} {
		_, ok := Of(name)
		assert.False(t, ok, name)
	}
}

// A metric of a family is known by its family, but for those with a row of their own.
func TestFamilies(t *testing.T) {
	for name, family := range map[string]string{"time.stopped.stop.wash-up": StoppedBy, "stop_rate.web_break": BeginsBy,
		"splice.depletion.dwell": DepletionBy, "transfer.overfill.if_gamma": OverfillBy, "splice.depletion.failed": DepletionFailed} {
		m, ok := Of(name)
		assert.True(t, ok, name)
		assert.Equal(t, family, m.Name)
	}
	hold, ok := HoldOf("time.stopped.stop.a.b")
	assert.True(t, ok)
	assert.Equal(t, "stop.a.b", hold)
	name, ok := StopOf(hold)
	assert.True(t, ok)
	assert.Equal(t, "a.b", name)
	_, ok = StopOf(HoldWebBreak)
	assert.False(t, ok)
	_, ok = HoldOf(StopRate)
	assert.False(t, ok)
	whole, part, _ := RiskOf("transfer.overfill.refill")
	assert.Equal(t, [2]string{Overfill, "refill"}, [2]string{whole, part})
	whole, part, _ = RiskOf(DepletionCounted)
	assert.Equal(t, [2]string{Depletion, ""}, [2]string{whole, part})
	_, _, ok = RiskOf(SpliceFailed)
	assert.False(t, ok)
	assert.Equal(t, SpliceRate, ChangesOf(RunOut))
	assert.Equal(t, TransferRate, ChangesOf(OverfillCounted))
}

func TestOrders(t *testing.T) {
	names := []string{CrewBusy, StopRate, "time.stopped.web_break", Stopped, Waiting, OEE, Quality, GoodRate}
	slices.SortStableFunc(names, ByTable)
	assert.Equal(t, []string{GoodRate, Quality, OEE, Stopped, "time.stopped.web_break", Waiting, StopRate, CrewBusy}, names)
	slices.SortStableFunc(names, ByComparison)
	assert.Equal(t, []string{GoodRate, OEE, Quality, Stopped, "time.stopped.web_break", StopRate, CrewBusy, Waiting}, names)
}
