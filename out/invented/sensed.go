package invented

import (
	"math"

	"rollchange/sim/whatif"
)

// Sensed is an invented sensitivity of a share, a speed and money.
func Sensed() *whatif.Sensitivities {
	nan, inf := math.NaN(), math.Inf(1)
	return &whatif.Sensitivities{Period: 15 * 86400, Varies: map[string]whatif.Varies{
		"waste.total": {SD: 0.0008, Periods: 60, Sources: []whatif.Source{{Key: "jobs.length", Share: 0.85, Half: 0.2}, {Key: "unwind.dwell", Share: 0.3, Half: 0.4}, {Key: "web_breaks.mean_length", Share: 0.004, Half: 0.001}}},
		"good_rate":   {SD: 0.01, Periods: 60, Sources: []whatif.Source{{Key: "jobs.length", Share: 0.9, Half: 0.2}, {Key: "unwind.dwell", Share: 0.3, Half: 0.4}}},
		"npv":         {Periods: 60},
	}, Alternative: "automatic", Against: "by hand", Currency: "EUR", Taxed: true, Share: 0.1,
		Metrics: []string{"waste.total", "good_rate", "npv", "payback"}, Skipped: []string{"line.stop_scrap: it is 0"}, Lacking: []string{"x: y"},
		Swings: map[string][]whatif.Swing{
			"waste.total": {{Key: "line.restart_scrap", LowText: "mean 18.9 m", BaseText: "lognormal, mean 21 m, sd 8 m", High: "mean 23.1 m", Low: 0.045, Base: 0.0468, Up: 0.049, LowHalf: 0.0001, BaseHalf: 0.0004, UpHalf: 0.0001, Total: nan},
				{Key: "jobs.scrap", LowText: "54 m", BaseText: "60 m", High: "66 m", Low: 0.0467, Base: 0.0468, Up: 0.0469, LowHalf: 0.01, BaseHalf: 0.0004, UpHalf: 0.01, Total: nan}},
			"good_rate": {{Key: "line.speed", LowText: "108 m/min", BaseText: "120 m/min", High: "132 m/min", Low: nan, Base: 2, Up: 2.2, LowHalf: nan, BaseHalf: 0.02, UpHalf: 0.01, Total: 0.5}},
			"npv":       {{Key: "economics.price", LowText: "0.18 EUR/m2", BaseText: "0.2 EUR/m2", High: "0.22 EUR/m2", Low: 100000, Base: 150000, Up: 210000, LowHalf: 1000, BaseHalf: 4000, UpHalf: 1000, Total: nan}},
			"payback":   {{Key: "economics.price", LowText: "0.18 EUR/m2", BaseText: "0.2 EUR/m2", High: "0.22 EUR/m2", Low: inf, Base: 3, Up: 2.5, LowHalf: nan, BaseHalf: 0.1, UpHalf: 0.01, Total: nan}},
		}}
}
