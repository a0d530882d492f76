package random

import (
	"fmt"
	"strconv"
	"strings"
)

// moneyHooks are those of what is given by year, and of the time that hangs on a year.
func moneyHooks() {
	hooks["alternative[].investment_by_year"] = hook{word: spentBy("investment")}
	hooks["alternative[].start_up_by_year"] = hook{word: spentBy("start_up_cost")}
	hooks["alternative[].learning"] = hook{word: func(_ *drawer, c chance, _ string) string {
		return pick(c, `["60 %", "90 %"]`, `["0 %"]`, `["50 %", "100 %", "95.5 %"]`)
	}}
	hooks["alternative[].installation_time"] = hook{steady: true, number: func(d *drawer, c chance, _ string) float64 {
		return d.si("economics.hours_per_year") * c.log(1e-3, 0.3)
	}}
}

// spentBy is what is spent by year: shares of a sum that is given, else amounts.
func spentBy(sum string) func(d *drawer, c chance, path string) string {
	return func(d *drawer, c chance, path string) string {
		if !d.given[path[:strings.LastIndexByte(path, '.')+1]+sum] {
			return pick(c, "[300000, 200000]", "[0, 1, 2e5]", "[0]", "[1e6]")
		}
		first := 1 + c.IntN(99)
		return fmt.Sprintf("[%s, %s]", strconv.Quote(fmt.Sprintf("%d %%", first)), strconv.Quote(fmt.Sprintf("%d %%", 100-first)))
	}
}

// mendMoney drops from every alternative what is refused of it.
func (d *drawer) mendMoney(key string) bool {
	name, ok := strings.CutPrefix(key, "alternative[].")
	if !ok {
		return false
	}
	for i := range d.mood.heirs {
		delete(d.given, fmt.Sprintf("alternative[%d].%s", i, name))
	}
	return true
}
