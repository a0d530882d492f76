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
		"good_rate":   {SD: 0.01, Periods: 60, Sources: []whatif.Source{{Key: "jobs.length", Share: 0.9, Half: 0.2}, {Key: "unwind.dwell", Share: 0.03, Half: 0.4}}, Split: true, Rest: whatif.Source{Share: 0.07, Half: 0.03}},
		"npv":         {Periods: 60},
	}, Alternative: "automatic", Against: "by hand", Currency: "EUR", Taxed: true, Share: 0.1, Missed: nan,
		Metrics: []string{"waste.total", "good_rate", "npv", "payback"}, Skipped: []whatif.Unmoved{{Key: "line.stop_scrap", Why: whatif.AtZero}}, Lacking: []whatif.Lack{{Metric: "payback", Why: whatif.NoInvestment}},
		Swings: map[string][]whatif.Swing{
			"waste.total": {{Key: "line.restart_scrap", At: [3]whatif.Setting{{How: whatif.Mean, Text: "18.9 m"}, {Text: "lognormal, mean 21 m, sd 8 m"}, {How: whatif.Mean, Text: "23.1 m"}}, Low: 0.045, Base: 0.0468, Up: 0.049, LowHalf: 0.0001, BaseHalf: 0.0004, UpHalf: 0.0001, Total: nan},
				{Key: "jobs.scrap", At: [3]whatif.Setting{{Text: "54 m"}, {Text: "60 m"}, {Text: "66 m"}}, Low: 0.0467, Base: 0.0468, Up: 0.0469, LowHalf: 0.01, BaseHalf: 0.0004, UpHalf: 0.01, Total: nan}},
			"good_rate": {{Key: "line.speed", At: [3]whatif.Setting{{Text: "108 m/min"}, {Text: "120 m/min"}, {Text: "132 m/min"}}, Low: nan, Base: 2, Up: 2.2, LowHalf: nan, BaseHalf: 0.02, UpHalf: 0.01, Total: 0.5}},
			"npv":       {{Key: "economics.price", At: [3]whatif.Setting{{Text: "0.18 EUR/m2"}, {Text: "0.2 EUR/m2"}, {Text: "0.22 EUR/m2"}}, Low: 100000, Base: 150000, Up: 210000, LowHalf: 1000, BaseHalf: 4000, UpHalf: 1000, Total: nan}},
			"payback":   {{Key: "economics.price", At: [3]whatif.Setting{{Text: "0.18 EUR/m2"}, {Text: "0.2 EUR/m2"}, {Text: "0.22 EUR/m2"}}, Low: inf, Base: 3, Up: 2.5, LowHalf: nan, BaseHalf: 0.1, UpHalf: 0.01, Total: nan}},
		}}
}
