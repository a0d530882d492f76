package random

import (
	"errors"
	"fmt"
	"math/rand/v2"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"

	"rollchange/scenarios"
	"rollchange/sim/effort"
)

// keyed is a line with one value that ends on it.
var keyed = regexp.MustCompile(`^(\s*[a-z_]+ = )([^\[]*)$`)

// unread puts values that cannot be read into the place of the one on a line, and checks
// that each is one error, at its line; it returns how many were refused. Names are said
// again where they are used, and a text may be any.
func unread(t *testing.T, what string, lines []string, i int) (refused int) {
	t.Helper()
	was := lines[i]
	m := keyed.FindStringSubmatch(was)
	if m == nil || strings.Contains(was, `"""`) || strings.HasPrefix(was, "exclude") {
		return 0
	}
	defer func() { lines[i] = was }()
	for _, bad := range []string{`"@"`, `{ dist = "normal", mean = "@", sd = "1" }`, `[[1]]`} {
		if bad == `"@"` && strings.HasPrefix(was, "name = ") {
			continue // it is a name
		}
		lines[i] = m[1] + bad
		_, err := scenarios.Parse("x.toml", []byte(strings.Join(lines, "\n")), "..")
		var e *scenarios.Errors
		if !errors.As(err, &e) {
			continue // it is a text
		}
		refused++
		for _, p := range e.Problems {
			assert.Equal(t, i+1, p.Line, "%s, %s%s: %s: %s", what, m[1], bad, p.Key, p.What)
		}
	}
	return refused
}

// One value of a scenario that cannot be read is one error: no rule says something of what
// would stand in its place. Of the shipped ones.
func TestOneValueThatCannotBeReadIsOneError(t *testing.T) {
	refused := 0
	for _, x := range effort.Some(scenarios.Templates(), 2) {
		lines := strings.Split(string(x.Text), "\n")
		for i := 0; i < len(lines); i += effort.Of(5, 3, 1) {
			refused += unread(t, x.Name, lines, i)
		}
	}
	assert.Greater(t, refused, effort.Of(20, 300, 900))
}

// Of random ones.
func TestOneRandomValueThatCannotBeReadIsOneError(t *testing.T) {
	refused := 0
	for seed := range uint64(effort.Of(4, 25, 600)) {
		drawn, _, err := Draw(seed)
		if err != nil {
			continue // it is refused as it is
		}
		lines := strings.Split(drawn.Text(), "\n")
		r := rand.New(rand.NewPCG(seed, 1))
		for range 25 {
			refused += unread(t, fmt.Sprint("seed ", seed), lines, r.IntN(len(lines)))
		}
	}
	assert.Greater(t, refused, effort.Of(20, 300, 3000))
}
