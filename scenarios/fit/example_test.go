package fit_test

import (
	"fmt"

	"rollchange/scenarios/fit"
)

// Stops of one cause from a log in minutes, the last of which had not ended.
func ExampleOf() {
	var values []fit.Value
	for _, minutes := range []float64{12, 7, 31, 9, 15, 22, 8, 11, 18, 9, 14, 10} {
		values = append(values, fit.Value{X: 60 * minutes, Step: 60})
	}
	values = append(values, fit.Value{X: 60 * 5, Open: true})
	r, err := fit.Of(values, fit.Options{Seed: 1})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%d of %d ended; %s\n", r.Observed(), r.N, r.Why)
	for i, f := range r.Laws {
		taken := ""
		if i == r.Taken {
			taken = fmt.Sprintf(", taken: %.0f %% of its own records fit worse", 100*r.Judged.P)
		}
		if f.Tied {
			fmt.Printf("%s from %g s, mean %.0f s, 99.9 %% below %.0f s, AIC %.1f%s\n", f.Dist.Law, f.Dist.Least, f.Dist.Mean(), f.Far, f.AIC, taken)
		}
	}
	// Output:
	// 12 of 13 ended; tied
	// exponential from 390 s, mean 829 s, 99.9 % below 3425 s, AIC 75.8, taken: 77 % of its own records fit worse
	// gamma from 390 s, mean 830 s, 99.9 % below 3088 s, AIC 77.6
}
