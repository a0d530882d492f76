package scenarios

import (
	"math/rand/v2"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"

	"rollchange/sim/effort"
)

// What is scanned by hand is what a regular expression finds, in 50,000 texts each.
func TestScannedAsWritten(t *testing.T) {
	effort.NotInRace(t)
	r := rand.New(rand.NewPCG(9, 2))
	texts := func(check func(s string) bool, pieces ...string) {
		found := 0
		for range effort.Of(10000, 50000, 50000) {
			var b strings.Builder
			for range r.IntN(9) {
				b.WriteString(pieces[r.IntN(len(pieces))])
			}
			if check(b.String()) {
				found++
			}
		}
		assert.Greater(t, found, effort.Of(100, 500, 500))
	}
	head := regexp.MustCompile(`^(.*?)\s*\[\s*(.*?)\s*\]$`)
	texts(func(s string) bool {
		name, unit := s, ""
		m := head.FindStringSubmatch(s)
		if m != nil {
			name, unit = m[1], m[2]
		}
		if strings.Contains(s, "\n") && strings.Count(s, "[") > 1 {
			return false // a head on two lines with two brackets: no unit is taken from it
		}
		gotName, gotUnit := split(s)
		assert.Equal(t, [2]string{name, unit}, [2]string{gotName, gotUnit}, "%q", s)
		return m != nil
	}, "a", "dwell", "[", "]", " ", "\n", "\t", "\v", "s", "é", "\xff")

	quantity := regexp.MustCompile(`^\s*([-+]?[0-9._]+(?:[eE][-+]?[0-9]+)?)\s*(.*)$`)
	texts(func(s string) bool {
		m := quantity.FindStringSubmatch(s)
		x, unit, ok := SplitQuantity(s)
		if m == nil {
			assert.False(t, ok, "%q", s)
			return false
		}
		want, err := strconv.ParseFloat(strings.ReplaceAll(m[1], "_", ""), 64)
		assert.Equal(t, err == nil, ok, "%q", s)
		assert.Equal(t, want, x, "%q", s)
		assert.Equal(t, strings.TrimSpace(m[2]), unit, "%q", s)
		return true
	}, "1", "20", ".", "_", "e", "E", "-", "+", " ", "\n", "\r", "m", "/min", "\u00a0")

	index := regexp.MustCompile(`\[\d+\]`)
	texts(func(s string) bool {
		assert.Equal(t, index.ReplaceAllString(s, "[]"), row(s), "%q", s)
		return index.MatchString(s)
	}, "stop", "[", "]", "1", "12", "[]", "[3]", ".", "x")
}
