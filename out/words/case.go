package words

import (
	"fmt"
	"math"
	"strings"

	"rollchange/model"
	"rollchange/sim/savings"
)

// CaseSentences is the answer of a savings case: what is saved, what limits what
// is sold, what it is worth, and what the limits of those figures cover.
func CaseSentences(c *savings.Case, sys model.System) []string {
	list := []string{SavedSentence(c), CaseKind(c, sys)}
	if s := InstallationSentence(c, sys); s != "" {
		list = append(list, s)
	}
	return append(list, WorthSentence(c), CoveredSentence(c))
}

// SavedSentence says what is saved a year, in the mean of the draws. A saving
// whose interval covers 0 is not said to be one.
func SavedSentence(c *savings.Case) string {
	t, cur := c.Random.Total, Currency(c)
	name, first := AlternativeName(c.Alternative), AlternativeName(c.Against)
	if certain(t) {
		switch {
		case t.Mean > 0:
			return fmt.Sprintf("%s saves %s %s a year before tax compared with %s.", name, Money(t.Mean, 0), cur, first)
		case t.Mean < 0:
			return fmt.Sprintf("%s costs %s %s a year more than %s before tax.", name, Money(-t.Mean, 0), cur, first)
		}
		return fmt.Sprintf("%s neither saves nor costs anything compared with %s.", name, first)
	}
	over := func(s savings.Spread) string {
		return fmt.Sprintf("(mean of %s draws; %g %% of them lie in %s)", Grouped(float64(c.Random.Draws)), 100*c.Run.Confidence, MoneySpan(s))
	}
	half := HalfOf(t)
	switch {
	case c.Few && t.Low <= c.Reach[0] && t.High >= -c.Reach[0]:
		return fmt.Sprintf("It is not shown that %s saves anything compared with %s, because too few events separate the two: %s %s a year before tax %s; that range is too narrow.", name, first, Money(t.Mean, half), cur, over(t))
	case t.Low > 0:
		return fmt.Sprintf("%s saves %s %s a year before tax compared with %s %s.", name, Money(t.Mean, half), cur, first, over(t))
	case t.High < 0:
		return fmt.Sprintf("%s costs %s %s a year more than %s before tax %s.", name, Money(-t.Mean, half), cur, first, over(savings.Spread{Low: -t.High, High: -t.Low}))
	}
	return fmt.Sprintf("It is not shown that %s saves anything compared with %s: %s %s a year before tax %s.", name, first, Money(t.Mean, half), cur, over(t))
}

// certain says whether a figure is the same in every draw.
func certain(s savings.Spread) bool {
	return s.Low == s.High && math.Abs(s.Mean-s.Low) <= 1e-9*math.Abs(s.Low)
}

// CaseKind says what limits what is sold: one case where it holds in every
// draw, else in what share of the draws each does.
func CaseKind(c *savings.Case, sys model.System) string {
	u := LongUnit(sys)
	l := func(x float64) string { return Whole(u.From(x)) + " " + u.Name }
	in := func(i int) string {
		if c.HoursDiffer {
			return fmt.Sprintf("in its %s h", Whole(c.Hours[i]/3600))
		}
		return "in a year"
	}
	name := [2]string{AlternativeName(c.Against), AlternativeName(c.Alternative)}
	made := func(i int) string { // to the digits that it has as what is sold
		if h := u.From(c.CapacityHalf(i)); h > 0 {
			return number(u.From(c.Capacity[i]), Decimals(u.From(c.Capacity[i]), h)) + " " + u.Name
		}
		return l(c.Capacity[i])
	}
	can := fmt.Sprintf("the %s that %s can make %s and the %s of %s", made(0), name[0], in(0), made(1), name[1])
	if c.HoursDiffer {
		can += " " + in(1)
	}
	shares := c.Random.Kinds
	switch {
	case math.IsInf(c.Demand, 1):
		return fmt.Sprintf("Capacity-limited: no demand is given, so all good web counts as sold: %s.", can)
	case shares[savings.CapacityLimited] == 1:
		return fmt.Sprintf("Capacity-limited: the %s of %s a year exceeds %s, so both sell all they make.", demandOf(c), l(c.Demand), can)
	case shares[savings.DemandLimited] == 1:
		return fmt.Sprintf("Demand-limited: the %s of %s a year is within %s, so the same good web is made %s.", demandOf(c), l(c.Demand), can, inHours(c))
	case shares[savings.Between] == 1:
		all, other := name[0], name[1]
		if c.Capacity[1] < c.Capacity[0] {
			all, other = other, all
		}
		return fmt.Sprintf("Between the two cases: the %s of %s a year lies between %s; %s sells all it makes, %s meets the demand in fewer hours than planned.", demandOf(c), l(c.Demand), can, all, other)
	}
	var parts []string
	for _, x := range []struct {
		kind  savings.Kind
		where string
	}{
		{savings.DemandLimited, "demand limits sales: both can meet it, and the same good web is made " + inHours(c)},
		{savings.Between, "the demand lies between the two, and only one can meet it"},
		{savings.CapacityLimited, "capacity limits sales: neither can meet the demand, and both sell all they make"},
	} {
		if s := shares[x.kind]; s > 0 {
			parts = append(parts, InDraws(s, c.Random.Draws)+" "+x.where)
		}
	}
	return fmt.Sprintf("What limits sales is not certain: the mean demand is %s a year, compared with %s. %s.", l(c.Demand), can, Capital(strings.Join(parts, "; ")))
}

// demandOf is what the demand is called: its mean, where it is not certain.
func demandOf(c *savings.Case) string {
	for i := range c.Inputs {
		if in := &c.Inputs[i]; in.Key == "economics.demand" && in.Varies() {
			return "mean demand"
		}
	}
	return "demand"
}

// inHours says how the hours compare that the same good web takes.
func inHours(c *savings.Case) string {
	switch c.Faster {
	case 1:
		return "in fewer hours"
	case -1:
		return "in more hours"
	}
	return "in about the same hours (no significant difference)"
}

// WorthSentence says when the investment is paid back and what the case is worth.
func WorthSentence(c *savings.Case) string {
	r, cur := c.Random, Currency(c)
	value := worthOf(c)
	investment := Money(math.Abs(r.Investment.Mean), HalfOf(r.Investment))
	switch {
	case r.Invests == 0 && r.Investment.Mean < 0:
		return fmt.Sprintf("%s %s less is invested than with %s, so there is nothing to pay back; %s.", investment, cur, AlternativeName(c.Against), value)
	case r.Invests == 0:
		return fmt.Sprintf("Nothing more is invested, so there is nothing to pay back; %s.", value)
	}
	what := fmt.Sprintf("The investment of %s %s", investment, cur)
	switch once := Money(r.StartUp.Mean+r.Lost.Mean, HalfOf(r.StartUp)+HalfOf(r.Lost)); {
	case r.StartUp.Mean == 0 && r.Lost.Mean == 0:
	case r.Investment.Mean == 0:
		what = fmt.Sprintf("The cost of start-up and lost production, %s %s before tax,", once, cur)
	default:
		what += fmt.Sprintf(", with %s %s before tax for start-up and lost production,", once, cur)
	}
	if r.Invests < 1 {
		what = fmt.Sprintf("%s more is invested than with %s; in those draws the investment", Capital(InDraws(r.Invests, r.Draws)), AlternativeName(c.Against))
	}
	switch {
	case r.PaysBack.Simple == 0 && certain(r.NPV):
		return fmt.Sprintf("%s is not paid back within the life; %s.", what, value)
	case r.PaysBack.Simple == 0:
		return fmt.Sprintf("%s is not paid back within the life in any draw; %s.", what, value)
	case math.IsInf(r.Simple.Median, 1):
		return fmt.Sprintf("%s is not paid back within the life in half of the draws or more; at present value it is paid back %s; %s.", what, paysBack(c), value)
	case certain(r.Simple) && (certain(r.Discounted) || r.PaysBack.Discounted == 0):
		return fmt.Sprintf("%s is paid back in %s years %s, at present value %s; %s.", what, Payback(r.Simple.Median), TaxWords(c), presentYears(r.Discounted.Median), value)
	}
	return fmt.Sprintf("%s is paid back in %s years %s%s, at present value %s%s; these are medians. At present value it is paid back within the life %s. %s.",
		what, Payback(r.Simple.Median), TaxWords(c), inBrackets(r.Simple), presentYears(r.Discounted.Median), inBrackets(r.Discounted), paysBack(c), Capital(value))
}

// inBrackets is the interval of a payback, where it is one to the digits shown.
func inBrackets(s savings.Spread) string {
	if text := PaybackSpan(s); strings.Contains(text, " – ") {
		return " (" + text + ")"
	}
	return ""
}

// presentYears is a payback at present value in the middle of a sentence.
func presentYears(years float64) string {
	if math.IsInf(years, 1) {
		return "not within the life"
	}
	return "in " + Payback(years) + " years"
}

// paysBack is in what share of the draws that invest something it is paid back,
// at present value.
func paysBack(c *savings.Case) string {
	x := c.Random.PaysBack.Discounted
	if c.Random.Invests < 1 {
		return chanceOf(x)
	}
	return InDraws(x, c.Random.Draws)
}

// chanceOf is a share of some of the draws.
func chanceOf(x float64) string {
	switch {
	case x == 0:
		return "in none of them"
	case x == 1:
		return "in all of them"
	case x > 0.999:
		return "in more than 99.9 % of them"
	case x < 0.001:
		return "in fewer than 0.1 % of them"
	}
	return "in " + Percent(x) + " % of them"
}

// worthOf says the net present value, in the mean of the draws.
func worthOf(c *savings.Case) string {
	r := c.Random
	s := fmt.Sprintf("the net present value %s %s is %s %s", TaxWords(c), LifeAndRate(c), Money(r.NPV.Mean, HalfOf(r.NPV)), Currency(c))
	if certain(r.NPV) {
		return s
	}
	s += fmt.Sprintf(" (mean; %s)", MoneySpan(r.NPV))
	if r.Gains < 1 {
		s += ", positive " + InDraws(r.Gains, r.Draws)
	}
	return s
}

// MeanNPV is the mean net present value with its currency, to the digits that it has everywhere.
func MeanNPV(c *savings.Case) string {
	return Money(c.Random.NPV.Mean, HalfOf(c.Random.NPV)) + " " + Currency(c)
}

// LifeAndRate says over how long and at which rate flows are valued.
func LifeAndRate(c *savings.Case) string {
	fixedLife, fixedRate := c.Certain()
	mean := map[bool]string{false: " (mean)"}
	return fmt.Sprintf("over %s%s at %s %%%s", counted(c.Worth.Life, "year"), mean[fixedLife], Short(100*c.Worth.Rate, 4), mean[fixedRate])
}

// CoveredSentence says what the draws, and so the limits of all that is calculated
// from them, cover, and what not.
func CoveredSentence(c *savings.Case) string {
	inputs, simulated := c.Drawn()
	economic := fmt.Sprintf("the %d economic inputs that vary", inputs)
	if inputs == 1 {
		economic = "the one economic input that varies"
	}
	noise := "the simulation has no noise"
	if c.Run.Replications < 2 {
		noise = "one replication gives no limits for the noise of the simulation"
	}
	s := "No limits are given: no economic input varies, and " + noise + "."
	switch {
	case inputs > 0 && simulated:
		s = fmt.Sprintf("The limits cover %s and the noise of the simulation.", economic)
	case inputs > 0:
		s = fmt.Sprintf("The limits cover %s; %s.", economic, noise)
	case simulated:
		s = "The limits cover the noise of the simulation; no economic input varies."
	}
	if c.Records && simulated {
		if inputs > 0 {
			return fmt.Sprintf("The limits cover %s, the noise of the simulation and what the records leave open.", economic) + recordsCovered
		}
		return "The limits cover the noise of the simulation and what the records leave open; no economic input varies." + recordsCovered
	}
	return s + notCovered
}

// recordsCovered is how far the limits cover how well the line is known.
const recordsCovered = " Of the line they cover what values were observed of: its other times, its speeds and its sizes are taken as they are written."

const notCovered = " They do not cover how well the line itself is known: its times, speeds and sizes. A sensitivity analysis does" + sensitivityCommand + "."

// sensitivityCommand is what a person at a terminal types for it.
const sensitivityCommand = " (rollchange sensitivity --metric savings,npv,payback)"

// CoveredInReport is CoveredSentence for a reader who has no terminal.
func CoveredInReport(c *savings.Case) string {
	return strings.Replace(CoveredSentence(c), sensitivityCommand, "", 1)
}

// noiseToo says that the draws take the noise of the simulation too, where they do.
func noiseToo(c *savings.Case) string {
	if _, simulated := c.Drawn(); simulated {
		return " and the noise of the simulation"
	}
	return ""
}

// TaxWords says on which side of tax a figure is.
func TaxWords(c *savings.Case) string {
	if c.Taxed() {
		return "after tax"
	}
	return BeforeTax
}

// BeforeTax is the side of tax on which savings and investments are.
const BeforeTax = "before tax"

// Capital writes the first letter of a sentence large.
func Capital(s string) string {
	if s == "" {
		return s
	}
	return strings.ToUpper(s[:1]) + s[1:]
}

// counted is a number of things with its noun: "1 year", "3 years".
func counted(n int, noun string) string {
	if n == 1 {
		return "1 " + noun
	}
	return Grouped(float64(n)) + " " + noun + "s"
}

// CoveredOfAll says what the limits of several cases cover.
func CoveredOfAll(cases []*savings.Case) string {
	text := ""
	for _, c := range cases {
		switch s := ""; {
		case c == nil:
		case text == "":
			text = CoveredSentence(c)
		default:
			if s = CoveredSentence(c); s != text { // inputs of their own, such as the investment
				if c.Records {
					return "The limits cover the economic inputs that vary in each alternative, the noise of the simulation and what the records leave open." + recordsCovered
				}
				return "The limits cover the economic inputs that vary in each alternative" + noiseToo(c) + "." + notCovered
			}
		}
	}
	return text
}

// LimitedBy says in a few words what limits what is sold.
func LimitedBy(c *savings.Case) string {
	for _, k := range []savings.Kind{savings.CapacityLimited, savings.DemandLimited, savings.Between} {
		if c.Random.Kinds[k] == 1 && k == savings.Between {
			return "demand between the two"
		}
		if c.Random.Kinds[k] == 1 {
			return string(k)
		}
	}
	return Percent(c.Random.Kinds[savings.DemandLimited]) + " % demand-limited"
}

// lastSpent is the last year of the life in which something is invested or spent.
func lastSpent(c *savings.Case) int {
	last := 0
	for t, y := range c.Worth.Flow {
		if y.Investment != 0 || y.Expense != 0 {
			last = t
		}
	}
	return last
}

// MoneyNote is what goes with every cash flow.
func MoneyNote(c *savings.Case) string {
	s := "cash flows at year ends, the investment in year 0"
	if last := lastSpent(c); last > 0 {
		s = fmt.Sprintf("cash flows at year ends, investment and start-up in the years 0 to %d", last)
	}
	if x := learningText(c); x != "" {
		s += "; " + x
	}
	changes := priceChangesText(c)
	if changes != "" || len(c.Learning()) > 0 {
		s += "; what is saved a year is at the prices of year 0, with all learned"
	}
	if x := changes; x != "" {
		s += "; prices are those of year 0 and change each year: " + x + "; the discount rate and the changes must all leave inflation out, or all include it"
	} else {
		s += "; savings in today's money, so the discount rate is a real rate, without inflation"
	}
	if c.Taxed() {
		return s + "; savings are before tax, net flows and everything calculated from them after tax; straight-line depreciation of the investment less its salvage"
	}
	return s + "; all figures are before tax"
}
