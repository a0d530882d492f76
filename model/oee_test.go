package model

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"pgregory.net/rapid"
)

// S. Nakajima, Introduction to TPM, 1988 (from memory): 460 min of loading, 60
// min down, 400 items at an ideal 0.5 min, 2 % rejects: 87 % x 50 % x 98 % = 42.6 %.
func TestNakajima(t *testing.T) {
	e := Effectiveness{Busy: 460 * 60, Production: 400 * 60, ItemTime: 30, Made: 400, Good: 392}
	assert.InDelta(t, 0.87, e.Availability(), 0.005)
	assert.InDelta(t, 0.50, e.Performance(), 1e-12)
	assert.InDelta(t, 0.98, e.Quality(), 1e-12)
	assert.InDelta(t, 0.426, e.OEE(), 5e-4)
	assert.InDelta(t, 0.426087, e.OEE(), 5e-7)
}

// Wikipedia, "Overall equipment effectiveness" (from memory): a 480 min shift
// with a 30 min break and 60 min down, 242 units at 1.5 min, 21 rejects:
// 86.67 %, 93.08 %, 91.32 %, OEE 73.6 % (73.67 exactly).
func TestEncyclopaediaExample(t *testing.T) {
	e := Effectiveness{Busy: 450, Production: 390, ItemTime: 1.5, Made: 242, Good: 221}
	assert.InDelta(t, 0.8667, e.Availability(), 5e-5)
	assert.InDelta(t, 0.9308, e.Performance(), 5e-5)
	assert.InDelta(t, 0.9132, e.Quality(), 5e-5)
	assert.InDelta(t, 0.736666667, e.OEE(), 5e-10)
}

// The "ideal conditions" of euromotor.org prodoc7.html, an EU training text,
// 0.90 x 0.95 x 0.99, are printed as 85 % and more; the product is 84.6 %.
func TestIdealConditions(t *testing.T) {
	e := Effectiveness{Busy: 1000, Production: 900, ItemTime: 1, Made: 855, Good: 846.45}
	assert.InDelta(t, 0.84645, e.OEE(), 1e-12)
}

func TestOEEDoesNotDependOnTheSplit(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		e := Effectiveness{Busy: 1000, Production: rapid.Float64Range(1, 1000).Draw(t, "apt"), ItemTime: rapid.Float64Range(0.1, 1).Draw(t, "pri"),
			Made: rapid.Float64Range(1, 1000).Draw(t, "pq")}
		e.Good = e.Made * rapid.Float64Range(0, 1).Draw(t, "share")
		assert.InDelta(t, e.OEE(), e.Availability()*e.Performance()*e.Quality(), 1e-12)
	})
}
