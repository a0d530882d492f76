package records

// Step is what the times or durations of a column are multiples of.
type Step struct {
	Seconds float64
	Fives   float64 // share of them on whole five minutes; 0.2 is what chance brings where minutes are written
}

// steps are those that are looked for, ms: parts of an hour and of a minute, and
// decimals of both.
var steps = []int64{hour, 30 * minute, 15 * minute, 10 * minute, 6 * minute, 5 * minute, minute, 36 * second, 30 * second, 15 * second,
	10 * second, 6 * second, 5 * second, 3600, second, 600, 100, 60, 36, 10, 6, 1}

// doubt is the greatest chance that values are multiples of a step above a minute
// by accident; few is how many values say nothing of one.
const (
	doubt = 0.001
	few   = 8
)

// stepOf is the largest step that all values are multiples of. One above a minute
// is taken only when values written in minutes would hardly all fall on it: of
// different values, as the times of a day are, only those are counted.
func stepOf(values []int64, different bool) Step {
	if len(values) == 0 {
		return Step{}
	}
	s, fives, n := Step{}, 0, len(values)
	if different {
		seen := map[int64]bool{}
		for _, v := range values {
			if seen[v] = true; len(seen) > 50 {
				break
			}
		}
		n = len(seen)
	}
	for _, v := range values {
		if v%(5*minute) == 0 {
			fives++
		}
	}
	s.Fives = float64(fives) / float64(len(values))
	for _, step := range steps {
		if step > minute {
			chance := 1.0
			for range min(n, 50) {
				chance *= float64(minute) / float64(step)
			}
			if n < few || chance > doubt {
				continue
			}
		}
		all := true
		for _, v := range values {
			if v%step != 0 {
				all = false
				break
			}
		}
		if all {
			s.Seconds = float64(step) / second
			break
		}
	}
	return s
}
