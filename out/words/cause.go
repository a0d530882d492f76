package words

import (
	"fmt"

	"rollchange/model/legible"
	"rollchange/sim/metric"
	"rollchange/sim/savings"
)

// causes are what each cause of savings is called, and how it is calculated;
// "first" is the first alternative.
var causes = [savings.Causes]struct{ label, formula string }{
	savings.Contribution: {"extra good output", "price × width × (good web − good web of the first)"},
	savings.Material:     {"waste: material", "material cost × width × (waste of the first − waste)"},
	savings.Disposal:     {"waste: disposal", "disposal cost × grammage × width × (waste of the first − waste)"},
	savings.WasteIncome:  {"waste: income", "income from waste × grammage × width × (waste − waste of the first)"},
	savings.CrewHours:    {"time: crew hours", "crew cost × (operator hours of the first − operator hours)"},
	savings.LineHours:    {"time: line hours", "line cost × (line hours of the first − line hours)"},
	savings.Tape:         {"tape", "tape cost × (tape of the first − tape)"},
	savings.Maintenance:  {"maintenance", "maintenance of the first − maintenance"},
}

// CauseLabel is what a cause of savings is called.
func CauseLabel(c savings.Cause) string { return causes[c].label }

// CauseFormula says in words how a cause of savings of a case is calculated.
func CauseFormula(c *savings.Case, k savings.Cause) string {
	if k == savings.Contribution && c.Trimmed() {
		return "price × (width without trim × good web − the same of the first)"
	}
	if _, given := c.Leaves(); k == savings.CrewHours && given {
		return causes[k].formula + " × share of freed hours that leaves"
	}
	return causes[k].formula
}

// simulated is what the simulated inputs of a savings case are called.
var simulated = map[string]string{metric.GoodRate: "good web", metric.Waste: "waste", metric.SpliceRate: "splices"}

// InputLabel is what an input of a savings case is called.
func InputLabel(in *savings.Input) string {
	if in.Simulated() {
		return simulated[in.Key] + " of " + [2]string{"the first", "the alternative"}[in.Side]
	}
	return KeyWords(in.Key)
}

// DriverLabel is what a driver of the net present value is called.
func DriverLabel(d savings.Driver) string {
	if d.Key == savings.Simulation {
		return "what was simulated, taken together"
	}
	return KeyWords(d.Key)
}

// SwungLabel is what moves the net present value from one end of a swing to
// the other.
func SwungLabel(s savings.Swing) string {
	if name, ok := simulated[s.Key]; ok {
		return "simulated " + name + ", difference"
	}
	return KeyWords(s.Key)
}

// OtherCondition says when what is told of another kind of case would hold.
func OtherCondition(c *savings.Case, o savings.Other) string {
	if o.Kind == savings.CapacityLimited {
		return "if all good web were sold"
	}
	return fmt.Sprintf("if no more were sold than %q can make", [2]string{c.Against, c.Alternative}[o.Least])
}

// OtherSentence says what the saving would be in a case of another kind.
func OtherSentence(c *savings.Case, o savings.Other) string {
	when := legible.Line(OtherCondition(c, o))
	if o.NoPrice {
		return fmt.Sprintf("%s, %s: not known, %s.", o.Kind, when, NoPrice)
	}
	return fmt.Sprintf("%s, %s: %s %s a year before tax, net present value %s %s %s.", o.Kind, when, Money(o.Total, 0), Currency(c), TaxWords(c), Money(o.NPV, 0), Currency(c))
}

// NoPrice says why a case in which more is sold cannot be told.
const NoPrice = "no price is given"
