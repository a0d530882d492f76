package words

import (
	"fmt"
	"math"
	"strings"

	"rollchange/sim/savings"
)

// mostDearer is how many alternatives above the recommended one a sentence tells of.
const mostDearer = 3

// StepsSentence recommends one of several alternatives, or none, as the steps of
// investment show it, and says what the dearer ones would add; "" where there is
// nothing to choose from.
func StepsSentence(s *savings.Steps) string {
	if !s.Several() {
		return ""
	}
	text := notRecommended(s)
	if s.Recommended > 0 {
		text = recommended(s)
	}
	if len(s.Left) > 0 {
		text += fmt.Sprintf(" No step, because no savings can be calculated: %s.", namedAll(s.Left, AlternativeName))
	}
	if s.TermsDiffer {
		text += " A step is valued over the life, at the discount rate and with the tax of the alternative that it leads to."
	}
	return text
}

// StepsShown says in short which of several alternatives is told of in full, and why it.
func StepsShown(s *savings.Steps) string {
	for _, x := range s.List {
		if x.To != s.Shown() {
			continue
		}
		name := AlternativeName(x.Case.Alternative)
		if s.Recommended > 0 {
			return fmt.Sprintf("%s is recommended: of %s, in order of investment, it is the last whose step is shown to pay", name, counted(len(s.List), "alternative"))
		}
		return fmt.Sprintf("None of %s is recommended, since no step of investment is shown to pay; %s has the highest mean net present value", counted(len(s.List), "alternative"), name)
	}
	return ""
}

// recommended tells of the last step that was accepted, and of those above it, which
// were judged against that.
func recommended(s *savings.Steps) string {
	text, above := "", []string{}
	for _, x := range s.List {
		if x.To == s.Recommended {
			c := x.Case
			text = fmt.Sprintf("%s is recommended: in order of investment it is the last alternative whose step is shown to pay. It %s %s; the net present value of that step %s is %s %s%s.",
				AlternativeName(c.Alternative), takes(c), AlternativeName(c.Against), TaxWords(c), Money(c.Random.NPV.Mean, HalfOf(c.Random.NPV)), Currency(c), inMean(c.Random.NPV))
			continue
		}
		if text != "" {
			above = append(above, fmt.Sprintf(" %s %s %s and %s.", AlternativeName(x.Case.Alternative), takes(x.Case), AlternativeName(x.Case.Against), whyNot(x)))
		}
	}
	if n := len(above) - mostDearer; n > 0 {
		above = append(above[:mostDearer], fmt.Sprintf(" The table of steps has %s more that are not accepted.", Grouped(float64(n))))
	}
	return text + strings.Join(above, "")
}

// notRecommended says that no step is accepted, and which alternative has the highest
// mean net present value none the less: all were judged against the first.
func notRecommended(s *savings.Steps) string {
	lose, best := true, s.List[0].Case
	for _, x := range s.List {
		lose = lose && x.Verdict == savings.Loses
		if x.Case.Random.NPV.Mean > best.Random.NPV.Mean {
			best = x.Case
		}
	}
	why := "no step of investment is shown to pay"
	switch {
	case s.Once:
		why = "one replication does not show that any of them pays"
	case lose:
		why = "each is shown to lose money"
	}
	r := best.Random
	gain := ""
	if !certain(r.NPV) && !lose {
		gain = ", a gain " + InDraws(r.Gains, r.Draws)
	}
	if best.Few {
		gain += "; too few events separate the two for that range to hold"
	}
	return fmt.Sprintf("No alternative is recommended: %s. %s has the highest mean net present value, %s %s %s%s%s.", why, AlternativeName(best.Alternative),
		Money(r.NPV.Mean, HalfOf(r.NPV)), Currency(best), TaxWords(best), inRange(r.NPV), gain)
}

// takes compares the investment of a step: "takes 55,000 EUR more than".
func takes(c *savings.Case) string {
	x := c.Random.Investment
	amount := Money(math.Abs(x.Mean), HalfOf(x))
	switch {
	case certain(x) && x.Mean == 0:
		return "takes the same investment as"
	case c.Worth.Investment == 0 || amount == "0":
		return "takes about the same investment as"
	case x.Mean < 0:
		return fmt.Sprintf("takes %s %s less than", amount, Currency(c))
	}
	return fmt.Sprintf("takes %s %s more than", amount, Currency(c))
}

// whyNot says what a step that is not accepted would bring.
func whyNot(x savings.Step) string {
	c := x.Case
	npv := c.Random.NPV
	adds := fmt.Sprintf("adds %s %s at present value %s", Money(npv.Mean, HalfOf(npv)), Currency(c), TaxWords(c))
	switch {
	case x.Verdict == savings.Loses:
		return fmt.Sprintf("is worth less: the step loses %s %s at present value %s%s", Money(-npv.Mean, HalfOf(npv)), Currency(c), TaxWords(c), inMean(savings.Spread{Mean: -npv.Mean, Low: -npv.High, High: -npv.Low}))
	case c.Few:
		return fmt.Sprintf("is not shown to be worth more, because too few events separate the two: the step %s%s", adds, inMean(npv))
	case certain(npv):
		return "is worth no more: the step adds nothing"
	}
	return fmt.Sprintf("is not shown to be worth more: the step %s%s, a gain %s", adds, inMean(npv), InDraws(c.Random.Gains, c.Random.Draws))
}

// inMean is the range of a mean in brackets, where it has one.
func inMean(s savings.Spread) string {
	if certain(s) {
		return ""
	}
	return " (mean; " + MoneySpan(s) + ")"
}

// inRange is inMean where the mean is named already.
func inRange(s savings.Spread) string {
	if certain(s) {
		return ""
	}
	return " (" + MoneySpan(s) + ")"
}

// StepVerdict says in a few words what becomes of a step.
func StepVerdict(x savings.Step) string {
	switch {
	case x.Verdict == savings.Pays:
		return "accepted"
	case x.Verdict == savings.Loses:
		return "loses"
	case certain(x.Case.Random.NPV) && x.Case.Random.NPV.Mean == 0:
		return "adds nothing"
	}
	return "not shown to pay"
}

// StepRate is the rate of return of a step in the middle of the draws, and its range; a
// rate that most draws do not have says nothing of the step.
func StepRate(s savings.Spread) (median, span string) {
	if s.Known < 0.5 {
		return "–", "–"
	}
	return Percent(s.Median), PercentSpan(s)
}

// StepGain is a share of the draws in a narrow column: "all" and "none" are every one of them.
func StepGain(share float64) string {
	switch {
	case share == 0:
		return "none"
	case share == 1:
		return "all"
	case share > 0.999:
		return "> 99.9 %"
	case share < 0.001:
		return "< 0.1 %"
	}
	return Percent(share) + " %"
}

// StepsNote says how the steps are judged.
func StepsNote(s *savings.Steps) string {
	c := s.List[0].Case
	return fmt.Sprintf("The alternatives exclude each other: one of them is chosen. In order of investment each is judged against the last one accepted, by what separates the two in the same %s draws; a step is accepted if the range that holds %g %% of its net present values lies above 0, else it is skipped. Amounts are means, rates and paybacks medians; – stands for a rate that most draws do not have, and for a payback where nothing more is invested.",
		Grouped(float64(c.Random.Draws)), 100*c.Run.Confidence)
}
