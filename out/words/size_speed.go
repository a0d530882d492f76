package words

import (
	"fmt"
	"strings"

	"rollchange/model"
	"rollchange/sim/metric"
	"rollchange/sim/whatif"
)

// BoundText says what has happened when a limit of a line does not hold.
func BoundText(b whatif.Bound) string {
	switch whole, _, _ := metric.RiskOf(b.Metric); whole {
	case metric.Depletion:
		return "storage depleted more often than the target"
	case metric.Overfill:
		return "rewind storage full more often than the target"
	}
	return map[string]string{
		metric.SpliceNotReady:      "next parent roll not armed in time",
		metric.TransferNotReady:    "next core not ready in time",
		metric.SpliceNotRefilled:   "storage not refilled before the next splice",
		metric.TransferNotRefilled: "rewind storage not drawn down before the next transfer",
		metric.CrewBusy:            "crew too busy",
		metric.Waste:               "too much waste",
	}[b.Metric]
}

// atRewind says whether the changes that a limit is put on are those of the rewind.
func atRewind(b whatif.Bound) bool { return metric.ChangesOf(b.Metric) == metric.TransferRate }

// noSpeedText says in one line that a limit holds at no speed, and what would have
// to change.
func noSpeedText(a *whatif.Answer, n whatif.AtNoSpeed, in func(float64) string, sys model.System) string {
	s := fmt.Sprintf("%s at every speed tried: still %s at %s; the limit is %s", BoundText(n.Bound), chanceText(n.Chance), in(n.X), shareText(n.Most))
	if n.Rate {
		s = fmt.Sprintf("%s at every speed tried: still %s times the target at %s", BoundText(n.Bound), digits(n.Times, 2), in(n.X))
	}
	if n.Then == nil {
		return s
	}
	return s + "; " + noteText(a, n.Then, sys)
}

// wasteText is a part of the waste in a sentence.
func wasteText(part string) string {
	return map[string]string{metric.WasteResidual: "web left on cores", metric.WasteSplice: "scrap at splices", metric.WasteRestart: "scrap after restarts", metric.WasteWebBreak: "scrap at web breaks",
		metric.WasteStop: "scrap at stops", metric.WasteTransfer: "scrap at transfers", metric.WasteChangeover: "scrap at changeovers", metric.WasteRejected: "rejected rolls", metric.WasteTrim: "edge trim"}[part]
}

// triedText says what a lever comes to: "with 3 operators instead of 2 it would be
// 0.1 % at 70 m, which meets the target".
func triedText(n whatif.Tried, in func(float64) string, sys model.System) string {
	return fmt.Sprintf("with %s it would be %s at %s, which %s", leverText(n.Lever, sys), chanceText(n.Chance), in(n.X), map[whatif.Meeting]string{
		whatif.Met: "meets the target", whatif.NotMet: "does not meet it either", whatif.MetByEstimate: "meets it by the estimate alone, not by its upper limit"}[n.Meets])
}

// leverText is a change that helps: "a top speed of the unwind of 180 m/min instead
// of 150 m/min".
func leverText(l whatif.Lever, sys model.System) string {
	if l.Key == "crew.operators" || l.Group != "" {
		return fmt.Sprintf("%s%s instead of %g", counted(int(l.To), "operator"), ofGroup(l.Group), l.Now)
	}
	u := model.Display(l.Dim, sys)
	value := func(x float64) string { return Short(u.From(x), 6) + " " + u.Name }
	end, _, _ := strings.Cut(l.Key, ".")
	what := fmt.Sprintf("a top speed of the %s of", end)
	if l.Dim == model.Share {
		what = changesText(end == "rewind") + " that succeed in"
	}
	return fmt.Sprintf("%s %s instead of %s", what, value(l.To), value(l.Now))
}
