package words

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"rollchange/model"
	"rollchange/sim/metric"
	"rollchange/sim/whatif"
)

// SizedText is a value for people in the unit of its dimension, to four digits at least.
func SizedText(x float64, d model.Dimension, sys model.System) string {
	return sizedBeside(x, x, d, sys)
}

// sizedBeside is SizedText of a limit, with as many decimals as the value beside it.
func sizedBeside(x, value float64, d model.Dimension, sys model.System) string {
	switch {
	case math.IsNaN(x):
		return "–"
	case math.IsInf(x, 1):
		return "no end"
	case d == model.Thickness && x == 0:
		return "0 " + model.Display(d, sys).Name
	case d == model.Number:
		return parted(strconv.FormatFloat(x, 'f', -1, 64))
	}
	u := model.Display(d, sys)
	decimals := max(0, 3-exponent(math.Max(1e-9, math.Abs(u.From(value))), 4))
	return number(u.From(x), min(decimals, 6)) + " " + u.Name
}

// AnswerSentence is the answer to a sizing question: the value with its interval
// and what binds, or why the target is not met.
func AnswerSentence(a *whatif.Answer, sys model.System) string {
	value := SizedText(a.Value, a.Dim, sys)
	if !a.Met {
		lead := "Not met"
		if a.Short != nil {
			lead = "Not shown to be met"
		}
		return fmt.Sprintf("%s: %s. %s.", lead, TargetText(a), Capital(Keyless(WhyText(a, sys))))
	}
	between := ""
	if low, high := sizedBeside(a.Low, a.Value, a.Dim, sys), sizedBeside(a.High, a.Value, a.Dim, sys); low != high && a.High-a.Low > 1e-3*a.Value {
		between = fmt.Sprintf(" (%s to %s)", strings.TrimSuffix(low, " "+model.Display(a.Dim, sys).Name), high)
	}
	what := map[string]string{whatif.Storage: "Smallest " + SizedName(a.Of), whatif.Speed: "Fastest line speed", whatif.Residual: "Best residual", whatif.Crew: "Fewest operators"}[a.Kind]
	what += ofGroup(a.Group)
	if a.Of == whatif.Lines {
		what = "Most lines"
	}
	if a.Kind == whatif.Roll {
		what, value = rollAnswer(a, value)
	}
	s := fmt.Sprintf("%s: %s%s. Target: %s.", what, value, between, TargetText(a))
	if by := ConstraintText(a.LimitedBy, a.Of); by != "" {
		s += fmt.Sprintf(" What binds: %s.", Keyless(by))
	}
	return s
}

// MostSentence says at which speed most good web is made.
func MostSentence(a *whatif.Answer, sys model.System) string {
	e := a.Most.Metrics[metric.GoodRate]
	u := ShownUnit("m/s", e.Mean, sys)
	s := fmt.Sprintf("Most good web is made at about %s: %s %s.", SizedText(a.Most.X, a.Dim, sys), Figure(e, u), u.Name)
	for _, t := range a.Evidence {
		if t.X == a.Now && t.Possible {
			now := t.Metrics[metric.GoodRate]
			s += fmt.Sprintf(" At the present %s it is %s %s.", SizedText(a.Now, a.Dim, sys), Figure(now, u), u.Name)
		}
	}
	return s
}

// BoundMost is the most that a metric may be.
func BoundMost(x whatif.Bound) string {
	if x.Rate {
		return x.Asked
	}
	return Chance(x.Most)
}

// ValuesSimulated heads the values that were simulated, so many of which are shown.
func ValuesSimulated(all, shown int) string {
	head := HeadValuesSimulated
	if shown < all {
		head = HeadNearestSimulated
	}
	return fmt.Sprintf(head, counted(all, "value"))
}
