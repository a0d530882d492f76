package model

import (
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
	assert.Contains(t, strings.Join(CautionsOf(&l, Imperial), "\n"), "about 661 lb of web: more than one person should lift (NIOSH load constant 51 lb, ISO 11228-1 reference mass 55 lb)")
}
