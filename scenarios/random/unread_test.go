package random

import (
	"errors"
	"math/rand/v2"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"

	"rollchange/scenarios"
	"rollchange/sim/effort"
)

// One value of a random scenario that cannot be read is one error, at its line: no rule
// says something of what would stand in its place.
func TestOneValueThatCannotBeReadIsOneError(t *testing.T) {
	value := regexp.MustCompile(`^(\s*[a-z_]+ = )([^\[]*)$`)
	tried := 0
	for seed := range uint64(effort.Of(4, 25, 600)) {
		drawn, _, err := Draw(seed)
		if err != nil {
			continue // it is refused as it is
		}
		lines := strings.Split(drawn.Text(), "\n")
		r := rand.New(rand.NewPCG(seed, 1))
		for range 25 {
			i := r.IntN(len(lines))
			was := lines[i]
			m := value.FindStringSubmatch(was)
			if m == nil || strings.Contains(was, `"""`) {
				continue
			}
			for _, bad := range []string{`"@"`, `[[1]]`} {
				if bad == `"@"` && strings.HasPrefix(was, "name = ") {
					continue // it is a name
				}
				lines[i] = m[1] + bad
				_, err := scenarios.Parse("x.toml", []byte(strings.Join(lines, "\n")), ".")
				lines[i] = was
				var e *scenarios.Errors
				if !errors.As(err, &e) {
					continue // it is a text
				}
				tried++
				for _, p := range e.Problems {
					assert.Equal(t, i+1, p.Line, "seed %d, %s%s: %s: %s", seed, m[1], bad, p.Key, p.What)
				}
			}
		}
	}
	assert.Greater(t, tried, effort.Of(20, 300, 3000))
}
