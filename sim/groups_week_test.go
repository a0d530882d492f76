package sim

import (
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"

	"rollchange/model"
	"rollchange/sim/effort"
)

// A group turns when its shifts say so: at any moment of three weeks it is on when the
// shift and the day of that moment are its own.
func TestGroupsTurnWithTheWeek(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 2))
	some := func(n, first int) []int {
		var list []int
		for i := range n {
			if r.Float64() < 0.5 {
				list = append(list, first+i)
			}
		}
		return list
	}
	looked, tried := 0, effort.Of(200, 1000, 2000)
	for range tried {
		perDay := 1 + r.IntN(6)
		spec := model.Crew{Operators: 1, Shift: model.Day / float64(perDay), Begins: model.Day * float64(r.IntN(7))}
		spec.Groups = []model.Group{{Name: "x", Operators: 1, Shifts: some(perDay, 1), Days: some(7, 0)}}
		g := &spec.Groups[0]
		c := crew{spec: &spec, run: &run{spec: &model.Line{}}}
		c.buildGroups()
		x := &c.groups.list[0]
		if x.week == nil {
			assert.Equal(t, never, x.moment)
			continue
		}
		looked++
		turns := 0
		for tick := 0.5; tick < 3*7*24*60; tick++ { // each minute, half a minute off
			now := tick * 60
			for x.moment <= now {
				at := x.moment
				c.turns()
				assert.Greater(t, x.moment, at)
				turns++
			}
			week := now + spec.Begins
			day, shift := int(week/model.Day)%7, int((week-model.Day*float64(int(week/model.Day)))/spec.Shift)+1
			want := (g.Days == nil || slices.Contains(g.Days, day)) && (g.Shifts == nil || slices.Contains(g.Shifts, shift))
			if want != x.on {
				t.Fatalf("%d shifts, %v on %v, begins %g: at %g s it is %v", perDay, g.Shifts, g.Days, spec.Begins/model.Day, now, x.on)
			}
		}
		assert.Positive(t, turns)
	}
	assert.Greater(t, looked, tried/2)
}

// Every task is some work of a group: one that is new and not said falls to those who
// change rolls at the unwind.
func TestEveryTaskIsWork(t *testing.T) {
	done := map[model.Work]bool{}
	for k := range tasks {
		w := workOfTask[k]
		assert.True(t, k == TaskUnwindChange || w != model.UnwindChanges, "task %d", k)
		assert.Equal(t, k.neverUrgent(), !w.Stands(), "task %d", k)
		done[w] = true
	}
	for w := range model.WorkWords() {
		assert.True(t, done[model.Work(w)], "%s is nobody's task", model.Work(w))
	}
}
