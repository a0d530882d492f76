package model

import (
	"testing"

	"github.com/stretchr/testify/assert"
)

// A roll of 1000 m by 1.2 m at 100 g/m2 holds 120 kg; slit into 4 lanes, 40 mm trimmed
// off, each is 290 mm wide and holds 29 kg; into 6 with 60 mm, 190 mm and 19 kg, which
// one person may lift.
func TestMassOfALane(t *testing.T) {
	l := stopLine()
	l.Web = Web{Width: 1.2, Grammage: 0.1}
	l.Unwind.Roll = RollSize{Length: Const(150)} // 18 kg
	l.Rewind = Rewind{Change: Manual, Roll: RollSize{Length: Const(1000)}, Trigger: ByLength, ChangeTime: Const(60)}
	fact := func(label string) (value float64, note string) {
		for _, f := range FactsOf(l) {
			if f.Label == label {
				return f.Value, f.Note
			}
		}
		return 0, ""
	}
	mass, _ := fact("finished roll, mass of web")
	assert.InDelta(t, 120, mass, 1e-9)
	_, note := fact("width of a finished roll")
	assert.Empty(t, note, "of a web that is not slit nothing is said")
	assert.True(t, warns(l, "a finished roll holds about 120 kg"))

	l.Rewind.Lanes, l.Rewind.Trim = 4, 0.04
	mass, _ = fact("finished roll, mass of web")
	assert.InDelta(t, 29, mass, 1e-9)
	width, note := fact("width of a finished roll")
	assert.InDelta(t, 0.29, width, 1e-12)
	assert.Equal(t, "(web width - trim) / lanes", note)
	assert.True(t, warns(l, "a finished roll holds about 29 kg"))

	l.Rewind.Lanes, l.Rewind.Trim = 6, 0.06
	assert.False(t, warns(l, "finished roll holds"))
	assert.InDelta(t, 0.05, l.TrimShare(), 1e-12)
	l.Rewind.Lanes = 1
	width, _ = fact("width of a finished roll")
	assert.InDelta(t, 1.14, width, 1e-12)
	l.Rewind.Lanes, l.Rewind.Trim = 2, 0
	width, _ = fact("width of a finished roll")
	assert.InDelta(t, 0.6, width, 1e-12)
}

// Packing is by the roll: 6 lanes of 100 m, each packed in 10 + 20 s, are 180 s of work
// in the 40 s that a set runs at 2.5 m/s.
func TestCrewLoadByLane(t *testing.T) {
	l := stopLine()
	l.Crew = Crew{Operators: 1, Lines: 1, Reaction: Const(10)}
	l.Unwind = Unwind{Change: Flying, Roll: RollSize{Length: Const(1e9)}, SpliceSuccess: 1}
	l.Rewind = Rewind{Change: Flying, Roll: RollSize{Length: Const(100)}, TransferSuccess: 1, Doff: Const(0), LoadCore: Const(0), Pack: Const(20), Lanes: 6}
	v := l.Process.Speed
	assert.InDelta(t, (10+180)/(100/v), crewLoad(l), 1e-6)
}
