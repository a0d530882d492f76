package model

import (
	"fmt"
	"maps"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
)

func warns(l *Line, what string) bool {
	for _, c := range CautionsOf(l, Metric) {
		if strings.Contains(c, what) {
			return true
		}
	}
	return false
}

// Each caution is absent from a line without its reason and there with it.
func TestCautions(t *testing.T) {
	for _, c := range []struct {
		what   string
		reason func(l *Line)
	}{
		{"NIOSH load constant 23 kg, ISO 11228-1 reference mass 25 kg", func(l *Line) { l.Web = Web{Width: 1, Grammage: 0.05} }},
		{"no web breaks, stops or jobs", func(l *Line) { l.WebBreaks = nil }},
		{"normal distribution redrawn", func(l *Line) { l.Unwind.Dwell = Dist{Law: Normal, A: 8, B: 5} }},
		{"normal distribution with mean 0", func(l *Line) { l.Unwind.Dwell = Dist{Law: Normal, A: 0, B: 5} }},
		{"held at its run level", func(l *Line) { l.Process.Decel = 1; l.Unwind.Storage.RunLevel -= 2 }},
		{"cannot keep up", func(l *Line) { l.Crew.Duties = []Duty{{Name: "check", Every: Const(60), Takes: Const(60)}} }},
		{"too small", func(l *Line) { l.Unwind.Dwell = Const(30) }},
		{"takes longer", func(l *Line) { l.Unwind.Load = Const(900) }},
		{"takes longer", func(l *Line) { l.Unwind.Change = Flying; l.Unwind.Load = Const(900) }},
		{"restart level of the unwind storage", func(l *Line) { l.Unwind.Storage.RestartLevel = 5 }},
		{"shorter than", func(l *Line) { l.Unwind.Roll.Length = Const(50) }},
	} {
		l := spliceLine()
		l.WebBreaks = &WebBreaks{MeanLength: 30000, AtSpeed: 2.5, Repair: Const(300)}
		assert.False(t, warns(l, c.what), "%s, without reason", c.what)
		c.reason(l)
		assert.True(t, warns(l, c.what), c.what)
	}
}

// A load between the two masses names the one that it is above.
func TestLoadBetweenTheTwoMasses(t *testing.T) {
	l := stopLine()
	l.Web = Web{Width: 0.3, Grammage: 0.04} // 24 kg
	assert.True(t, warns(l, "about 24 kg"))
	assert.True(t, warns(l, "ISO 11228-1 reference mass is 25 kg"))
	assert.False(t, warns(spliceLine(), "kg of web"), "mass not known")
}

func TestCautionsAreInTheUnitsOfTheReader(t *testing.T) {
	l := Line{Web: Web{Width: 1, Caliper: 1e-4, Grammage: 0.1}, Process: Process{Speed: 2, Decel: 1, Accel: 1},
		Unwind: Unwind{Change: Manual, Roll: RollSize{Length: Const(3000), Core: 0.1}}, Rewind: Rewind{Change: None}, Crew: Crew{Operators: 1, Lines: 1}}
	assert.Contains(t, strings.Join(CautionsOf(&l, Metric), "\n"), "about 300 kg of web")
	assert.Contains(t, strings.Join(CautionsOf(&l, Imperial), "\n"), "about 661 lb of web: too heavy for one person to lift (NIOSH load constant 51 lb, ISO 11228-1 reference mass 55 lb)")
}

// made is a line that makes products; each is the line with one change.
func made(change map[string]func(l *Line)) *Line {
	l := spliceLine()
	l.Orders = &Orders{}
	for _, name := range slices.Sorted(maps.Keys(change)) {
		product := *spliceLine()
		change[name](&product)
		l.Products = append(l.Products, Product{Name: name, Line: &product})
	}
	return l
}

// Of the products of a line the worst stands for all, with the names of those of which
// all that the caution says is true.
func TestTheWorstStandsForAllProducts(t *testing.T) {
	heavy := func(grammage float64) func(l *Line) {
		return func(l *Line) { l.Web = Web{Width: 1, Grammage: grammage} }
	}
	mass := func(grammage float64) float64 { return grammage * spliceLine().Unwind.Roll.Length.Mean() }
	const lift = " kg of web: too heavy for one person to lift"
	l := made(map[string]func(*Line){"A 900": heavy(0.05), "B 70": heavy(0.0801), "C": heavy(0.08011), "D": heavy(0.06)})
	assert.True(t, warns(l, fmt.Sprintf("B 70, C: a parent roll holds about %.0f%s", mass(0.08011), lift)), CautionsOf(l, Metric))
	assert.False(t, warns(l, fmt.Sprintf("%.0f%s", mass(0.05), lift)), "lighter ones are not named")

	l = made(map[string]func(*Line){"A": heavy(0.05), "B": heavy(0.05)})
	assert.Contains(t, CautionsOf(l, Metric), cautionsOf(l.Products[0].Line, Metric, true)[0].text, "one of all products names none")

	// A storage that lasts less long is worse, whatever else of the dwell is larger.
	lasts := func(room float64) func(l *Line) {
		return func(l *Line) {
			l.Unwind.Dwell = Dist{Law: Lognormal, A: 4, B: 1}
			l.Unwind.Storage.Capacity, l.Unwind.Storage.RunLevel = room, room
		}
	}
	l = made(map[string]func(*Line){"A": lasts(50), "B": lasts(45), "C": lasts(60)})
	least, is := beyondData(UnwindCycle(l.Products[1].Line), "splice")
	assert.True(t, is)
	assert.Contains(t, CautionsOf(l, Metric), "B: "+least.text)

	// What two products differ in beyond the figure that decides is said of its own alone.
	late := func(speed float64) func(l *Line) {
		return func(l *Line) { l.Unwind.Load, l.Process.Speed = Const(1e5), speed }
	}
	l = made(map[string]func(*Line){"slow": late(1), "fast": late(2)})
	roll := l.Unwind.Roll.Length.Mean()
	assert.True(t, warns(l, fmt.Sprintf(" min) than a roll runs (%.3g min)", roll/2/60)))
	assert.True(t, warns(l, "fast: preparing the next change of the unwind"))
	assert.False(t, warns(l, fmt.Sprintf("than a roll runs (%.3g min)", roll/60)))
}

// A figure in the name of a product, a stop or a group is no figure of a caution: each
// stop has its own.
func TestFiguresInNamesAreNoFiguresOfCautions(t *testing.T) {
	stops := func(sd float64) func(l *Line) {
		return func(l *Line) {
			for _, name := range []string{"press 2", "press 30", "press 4"} {
				l.Stops = append(l.Stops, Stop{Name: name, Every: Const(1e6), Repair: Dist{Law: Normal, A: 8, B: sd}})
			}
		}
	}
	l := made(map[string]func(*Line){"9 mm": stops(5), "10 mm": stops(6)})
	var found []string
	for _, c := range CautionsOf(l, Metric) {
		if strings.Contains(c, "normal distribution") {
			found = append(found, c)
		}
	}
	shift := 100 * Dist{Law: Normal, A: 8, B: 6}.cutShift()
	var want []string
	for _, name := range []string{"press 2", "press 30", "press 4"} {
		want = append(want, fmt.Sprintf("10 mm: %s, length of the stop: a normal distribution redrawn below 0 has a mean %.1f %% above the one given; a lognormal or gamma may fit better", name, shift))
	}
	assert.Equal(t, want, found)
}
