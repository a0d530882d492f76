package sim

import (
	"context"
	"math"
	"runtime"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"rollchange/model"
	"rollchange/scenarios"
	"rollchange/sim/effort"
	"rollchange/sim/invented"
)

const year = 365 * 86400.0

// plainLine is a line with both storages and something of everything, of which no
// study has asked anything special.
func plainLine() model.Line {
	l := invented.ZeroSpeed()
	invented.AddZeroSpeedRewind(&l)
	l.Unwind.Dwell = model.Dist{Law: model.Lognormal, A: 8, B: 2}
	l.Process.StopScrap, l.Process.RestartScrap, l.Unwind.SpliceScrap = model.Const(2), model.Const(12), model.Const(3)
	l.WebBreaks = &model.WebBreaks{MeanLength: 20000, AtSpeed: 2.5, Exponent: 1, Repair: model.Dist{Law: model.Lognormal, A: 300, B: 200}}
	l.Stops = []model.Stop{{Name: "jam", Every: model.Dist{Law: model.Exponential, A: 5000}, Repair: model.Dist{Law: model.Gamma, A: 2, B: 60}, NeedsOperator: true}}
	return l
}

// BenchmarkYear is a simulated year of the plain line and of every alternative of
// each shipped scenario, all figures on. So that a ratio can be quoted on any
// machine, each year is followed by two references, timed by turns, and the time is
// that of the processor, so that others who use it do not count:
//
//	x-heap  ns an event beside those of a heap of 20 times (heapLoop)
//	x-loop  a year beside one of the same line without physics (bareLoop)
//
// allocs/event counts what grows with the events, not what a run begins with.
func BenchmarkYear(b *testing.B) {
	lines := map[string][]model.Line{"plain line": {plainLine()}}
	names := []string{"plain line"}
	for _, shipped := range scenarios.Templates() {
		s, err := scenarios.Parse(shipped.Name+".toml", shipped.Text, "")
		require.NoError(b, err)
		for _, a := range s.Study.Alternatives {
			lines[shipped.Name] = append(lines[shipped.Name], a.Line)
		}
		names = append(names, shipped.Name)
	}
	for _, name := range names {
		b.Run(name, func(b *testing.B) {
			const beats = 200000
			var took, heap, bare time.Duration
			var events int64
			timed := func(sum *time.Duration, f func()) {
				begin := effort.Processor(b)
				f()
				*sum += effort.Processor(b) - begin
			}
			for b.Loop() {
				for i := range lines[name] {
					l := &lines[name][i]
					timed(&took, func() { events += eventsOf(b, l, year) })
					timed(&heap, func() { sink += heapLoop(beats) })
					timed(&bare, func() { sink += bareLoop(l, year) })
				}
			}
			runs := float64(b.N * len(lines[name]))
			perEvent := float64(took.Nanoseconds()) / float64(events)
			b.ReportMetric(0, "ns/op") // with the references: nobody's business
			b.ReportMetric(took.Seconds()*1e3/float64(b.N), "ms/year")
			b.ReportMetric(perEvent, "ns/event")
			b.ReportMetric(perEvent*beats*runs/float64(heap.Nanoseconds()), "x-heap")
			b.ReportMetric(took.Seconds()/bare.Seconds(), "x-loop")
			b.ReportMetric(allocsAnEvent(b, lines[name]), "allocs/event")
		})
	}
}

// eventsOf simulates a line and returns how many events that took.
func eventsOf(t testing.TB, l *model.Line, horizon float64) int64 {
	s := newRun(l, 1, 0, horizon, 0, nil)
	require.NoError(t, s.simulate(context.Background()))
	return s.events
}

// allocsAnEvent is how many more allocations a longer run makes, for each of its
// further events. Lists that grow to their length in a day and then no more are
// what a run begins with.
func allocsAnEvent(t testing.TB, lines []model.Line) float64 {
	least := math.Inf(1)
	for try := 0; try < 3 && least > 0; try++ { // what else the process allocates does not come each time
		var allocs, events [2]int64
		for k, horizon := range []float64{year / 8, year / 2} {
			for i := range lines {
				var before, after runtime.MemStats
				runtime.ReadMemStats(&before)
				events[k] += eventsOf(t, &lines[i], horizon)
				runtime.ReadMemStats(&after)
				allocs[k] += int64(after.Mallocs - before.Mallocs)
			}
		}
		least = min(least, max(0, math.Round(1e4*float64(allocs[1]-allocs[0])/float64(events[1]-events[0]))/1e4))
	}
	return least
}

// An event allocates nothing.
func TestAnEventAllocatesNothing(t *testing.T) {
	assert.Zero(t, allocsAnEvent(t, []model.Line{plainLine()}))
}

// heapLoop is the reference: a typed binary heap of 20 times, the least taken
// out and put back later by an exponential, n times.
func heapLoop(n int) float64 {
	h := make([]float64, 20)
	s := newStream(1, 0, "reference")
	for i := range h {
		h[i] = float64(i)
	}
	for range n {
		t := h[0] - math.Log(s.uniform())*20
		i := 0
		for {
			c := 2*i + 1
			if c >= len(h) {
				break
			}
			if c+1 < len(h) && h[c+1] < h[c] {
				c++
			}
			if h[c] >= t {
				break
			}
			h[i] = h[c]
			i = c
		}
		h[i] = t
	}
	return h[0]
}

// bareLoop is a line without physics: whatever happens to it comes again and again
// at its own time, as often and with as many draws as it does to the line, and
// changes nothing else. It returns what has been drawn in all.
func bareLoop(l *model.Line, horizon float64) float64 {
	var all []bareClock
	add := func(name string, gap model.Dist, factor float64, also ...model.Dist) {
		if !gap.Given() || math.IsInf(gap.A, 1) {
			return
		}
		c := bareClock{gap: newSource(gap, 1, 0, name), factor: factor}
		for i, d := range also {
			c.also = append(c.also, newSource(d, 1, 0, name+string(rune('a'+i))))
		}
		c.next = c.gap.draw() * factor
		all = append(all, c)
	}
	chance := model.Dist{Law: model.Uniform, B: 1}
	v, u, w := l.Process.Speed, &l.Unwind, &l.Rewind
	length := func(size *model.RollSize) model.Dist {
		if !size.ByDiameter {
			return size.Length
		}
		return model.Const(size.Mean(l.Web))
	}
	for range max(1, l.Crew.Lines) {
		add("unwind", length(&u.Roll), 1/v, u.ResidualError, u.ChangeTime, u.Load, u.Prepare, u.Dwell, u.SpliceScrap, chance, chance, l.Crew.Reaction)
		if w.Change != model.None {
			add("rewind", length(&w.Roll), 1/v, w.ChangeTime, w.Doff, w.LoadCore, w.Dwell, w.TransferScrap, w.Pack, chance, l.Crew.Reaction)
		}
		if k := l.WebBreaks; k != nil {
			add("break", model.Dist{Law: model.Exponential, A: k.MeanLength}, 1/v, k.Repair, k.Scrap, l.Crew.Reaction, l.Process.StopScrap, l.Process.RestartScrap)
		}
		for i := range l.Stops {
			k := &l.Stops[i]
			add(k.Name, k.Every, 1, k.Repair, k.Scrap, l.Crew.Reaction, l.Process.StopScrap, l.Process.RestartScrap)
		}
		if k := l.Jobs; k != nil {
			add("order", k.Length, 1/v, k.Changeover, k.Scrap, l.Crew.Reaction, l.Process.StopScrap, l.Process.RestartScrap)
		}
	}
	for _, k := range l.Crew.Duties {
		if k.PerRoll == 0 {
			add("duty "+k.Name, k.Every, 1, k.Takes, l.Crew.Reaction)
		}
	}
	for range l.Crew.Breaks {
		add("break of the crew", model.Const(l.Crew.Shift), 1)
	}
	sum := 0.0
	for {
		c := &all[0]
		for i := range all {
			if all[i].next < c.next {
				c = &all[i]
			}
		}
		if c.next >= horizon {
			return sum
		}
		for i := range c.also {
			sum += c.also[i].draw()
		}
		c.next += c.gap.draw() * c.factor
	}
}

// bareClock is something that happens again and again, with what is drawn then.
type bareClock struct {
	next, factor float64
	gap          source
	also         []source
}
