package savings

import (
	"errors"
	"fmt"
	"strings"
)

// Reason is why a key is needed.
type Reason int

// The reasons.
const (
	HoursOfAYear   Reason = iota // how long the line may run
	HoursOfOne                   // how long one alternative may run, of which the other has it
	WorthOfLater                 // what later money is worth today
	YearsOfUse                   // how long the equipment is used
	PricedByArea                 // prices are by the square metre
	PricedByMass                 // disposal is by the kilogram
	WorthOfGoodWeb               // what more good web earns, or that no more is sold
)

// Need is a key that the scenario would have to give.
type Need struct {
	Key   string // "economics.life"
	Why   Reason
	Lacks string // of HoursOfOne: the alternative without
}

// NeedsError names what the scenario would have to give.
type NeedsError struct {
	Alternative string
	Needs       []Need
}

// Error names the keys.
func (e *NeedsError) Error() string {
	var keys []string
	for _, n := range e.Needs {
		keys = append(keys, n.Key)
	}
	return fmt.Sprintf("%s: needed for the savings of %q", strings.Join(keys, ", "), e.Alternative)
}

// ErrNoWeb says that an alternative makes no good web.
var ErrNoWeb = errors.New("makes no good web, so there is no saving to calculate")

// priced refuses a case in which more is sold at the means and no price is given.
func (c *Case) priced() error {
	if !c.in[price].Given && (c.Kind != DemandLimited || c.stands && c.lostWhile(&c.mean).good > 0) {
		return &NeedsError{c.Alternative, []Need{{Key: "economics.price", Why: WorthOfGoodWeb}}}
	}
	return nil
}

// needs says which keys the case cannot do without.
func (c *Case) needs() error {
	e := &NeedsError{Alternative: c.Alternative}
	need := func(missing bool, key string, why Reason, lacks string) {
		if missing {
			e.Needs = append(e.Needs, Need{key, why, lacks})
		}
	}
	first, other := c.in[hours0].Dist.Given(), c.in[hours1].Given
	need(!first && !other, "economics.hours_per_year", HoursOfAYear, "")
	need(first && !other, "economics.hours_per_year", HoursOfOne, c.Alternative)
	need(!first && other, "economics.hours_per_year", HoursOfOne, c.Against)
	need(!c.in[rate].Given, "economics.discount_rate", WorthOfLater, "")
	need(!c.in[life].Given, "economics.life", YearsOfUse, "")
	byMass := c.in[disposal].Given || c.in[income].Given
	area := c.in[price].Given || c.in[material].Given || byMass
	need(area && (c.side[0].Width == 0 || c.side[1].Width == 0), "web.width", PricedByArea, "")
	need(byMass && (c.side[0].Grammage == 0 || c.side[1].Grammage == 0), "web.grammage", PricedByMass, "")
	need(!c.in[price].Given && !c.in[demand].Given, "economics.price", WorthOfGoodWeb, "")
	for k, name := range []string{c.Against, c.Alternative} {
		if g := c.mean[[2]index{good0, good1}[k]]; !(g > 0) {
			return fmt.Errorf("%q: %w", name, ErrNoWeb)
		}
	}
	if c.in[life].Given && c.mean[life] > mostYears {
		return fmt.Errorf("economics.life of %.4g years: the most is %d", c.mean[life], mostYears)
	}
	if len(e.Needs) > 0 {
		return e
	}
	return nil
}
