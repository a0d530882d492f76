package model

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
)

// inGroups is a line by hand with a duty, its crew in two groups.
func inGroups() *Line {
	return &Line{
		Process: Process{Speed: 2, RatedSpeed: 2, Accel: 1e9, Decel: 1e9},
		Unwind:  Unwind{Change: Manual, Roll: RollSize{Length: Const(2000)}, ChangeTime: Const(90)},
		Rewind:  Rewind{Change: None},
		Crew: Crew{Operators: 3, Lines: 2, Reaction: Const(10), Shift: 8 * 3600, Duties: []Duty{{Name: "pallets", Every: Const(1000), Takes: Const(240)}},
			Groups: []Group{{Name: "handlers", Operators: 1, Tasks: []string{"duties"}, Shifts: []int{1, 3}, Days: []int{0, 1, 2, 3, 4}},
				{Name: "setters", Operators: 2, Tasks: []string{"unwind changes", "duty boxes"}}}},
	}
}

// Duties take 250 s of 1000; handlers are there for 80 of 168 h. A roll runs 1000 s and
// stops the line for 100, so each of two lines asks for 100 s of 1100 of two setters.
func TestLoadOfGroups(t *testing.T) {
	l := inGroups()
	assert.InDelta(t, 0.25*168/80, groupLoad(l, 0), 1e-9)
	assert.InDelta(t, 2*100./1100/2, groupLoad(l, 1), 1e-6)
	assert.InDelta(t, (0.25+2*100./1100)/(2+80./168), crewLoad(l), 1e-6)
	l.Crew.Groups[1].Tasks = nil // both may do the duties: nobody has them alone
	assert.Zero(t, groupLoad(l, 0))
	assert.InDelta(t, 2*100./1100/2, groupLoad(l, 1), 1e-6)
	l.Crew.Groups = nil
	assert.InDelta(t, (0.25+2*100./1100)/3, crewLoad(l), 1e-6)
}

// A task waits for the longest gap between the shifts of all groups that do it, also
// over the end of the week.
func TestLongestOff(t *testing.T) {
	c := &inGroups().Crew
	duty := NamedWork{Duties, "pallets"}
	assert.InDelta(t, 48, c.LongestOff(duty)/3600, 1e-9, "the night of Friday ends as Saturday begins")
	c.Groups[0].Shifts = []int{1}
	assert.InDelta(t, 2*24+16, c.LongestOff(duty)/3600, 1e-9)
	c.Groups[0].Days = []int{2}
	assert.InDelta(t, 7*24-8, c.LongestOff(duty)/3600, 1e-9)
	assert.True(t, math.IsInf(c.LongestOff(NamedWork{Work: Packing}), 1))
	assert.Zero(t, c.LongestOff(NamedWork{Work: UnwindChanges}))
	c.Groups[1].Tasks, c.Groups[1].Days, c.Groups[1].Shifts = []string{"duty pallets"}, []int{2}, []int{2, 3}
	assert.InDelta(t, 6*24, c.LongestOff(duty)/3600, 1e-9, "the one follows the other")
}

func TestShiftsOfADay(t *testing.T) {
	for hours, want := range map[float64]int{8: 3, 24: 1, 12: 2, 7: 0, 25: 0, 48: 0, 1. / 60: 1440, 1. / 61: 0, 24. / 7: 7} {
		assert.Equal(t, want, (&Crew{Shift: hours * 3600}).ShiftsOfDay(), "%g h", hours)
	}
	c := &Crew{Shift: 8 * 3600}
	assert.Equal(t, []Span{{0, Day}, {6 * Day, Week}}, c.On(&Group{Days: []int{0, 6}, Shifts: []int{1, 2, 3}}))
	assert.Equal(t, []Span{{Day * 2 / 3, Day * 4 / 3}, {Day * 5 / 3, 2 * Day}}, c.On(&Group{Days: []int{0, 1}, Shifts: []int{1, 3}})[1:])
	assert.Equal(t, []Span{{0, Week}}, c.On(&Group{Shifts: []int{3, 2, 1}}))
}

// A caution says what work a line can stand for while nobody is there; packing and
// duties it never stands for.
func TestCautionsOfGroups(t *testing.T) {
	l := inGroups()
	say := func() string {
		text := ""
		for _, c := range CautionsOf(l, Metric) {
			text += c + "\n"
		}
		return text
	}
	assert.NotContains(t, say(), "at a stretch")
	assert.NotContains(t, say(), "handlers has work")
	l.Crew.Groups[1].Shifts = []int{2, 3}
	assert.Contains(t, say(), "nobody who does unwind changes is there for up to 8 h at a stretch: a line can stand for it so long")
	l.Stops = []Stop{{Name: "jam", Every: Const(1e6), Repair: Const(60), NeedsOperator: true}, {Name: "cut", Every: Const(1e6), Repair: Const(60)}}
	l.Crew.Groups[1].Tasks = append(l.Crew.Groups[1].Tasks, "stops")
	assert.Contains(t, say(), "nobody who does unwind changes or stop jam is there for up to 8 h")
	l.Crew.Groups[0].Tasks = nil
	l.Crew.Groups[0].Days = nil
	assert.NotContains(t, say(), "at a stretch", "the handlers are there in the first shift")

	l.Crew.Groups[0].Tasks, l.Crew.Duties[0].Takes = []string{"duties"}, Const(690)
	assert.Contains(t, say(), "handlers has work that no other group does for about 105 % of its time: it cannot keep up")
}
