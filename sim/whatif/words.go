package whatif

import "fmt"

// belowEverything says why no speed meets a limit.
func belowEverything(b Binding, got float64) string {
	if b.Rate {
		return fmt.Sprintf("%s at every speed: still %.2g times the target at the lowest", b.Words, got/b.Most)
	}
	return fmt.Sprintf("%s at every speed: still %.3g %% at the lowest, %.3g %% is the most", b.Words, 100*got, 100*b.Most)
}
