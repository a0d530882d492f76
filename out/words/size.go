package words

import (
	"fmt"
	"strings"

	"rollchange/model"
	"rollchange/sim/whatif"
)

// SizedName is what an answer to a sizing question is a value of.
func SizedName(q whatif.Quantity) string {
	return map[whatif.Quantity]string{whatif.UnwindStorage: "unwind storage", whatif.RewindStorage: "rewind storage", whatif.LineSpeed: "line speed",
		whatif.ResidualSetPoint: "residual set point", whatif.Operators: "operators", whatif.Lines: "lines",
		whatif.FinishedRoll: "finished roll", whatif.Oscillation: "oscillation"}[q]
}

// TargetText is the target of an answer.
func TargetText(a *whatif.Answer) string {
	switch a.Kind {
	case whatif.Storage:
		return storageTarget(a)
	case whatif.Speed:
		return "every limit holds" + countingText(a.Target.Failed, "depletions by changes that")
	case whatif.Residual:
		return "least cost of web left on cores and of run-outs"
	case whatif.Roll:
		return "the ridge of the seam is not above the allowed one"
	}
	return fmt.Sprintf("no more than %s %% of the good web lost for want of an operator", Short(100*a.Target.Lost, 3)) + ofGroup(a.Group)
}

// countingText says whether changes that fail count in a target, where some do.
func countingText(c whatif.Counting, what string) string {
	return map[whatif.Counting]string{whatif.Counted: " (counting " + what + " fail and are made by hand)", whatif.NotCounted: " (not counting " + what + " fail and are made by hand)"}[c]
}

// ConstraintText says what keeps an answer from being better; "" where nothing does.
func ConstraintText(c whatif.Constraint, of whatif.Quantity) string {
	switch c.By {
	case whatif.ALimit:
		return BoundText(c.Bound)
	case whatif.NotPossible:
		return c.Why
	}
	return causeText(c.By, of)
}

// causeText is a cause in a sentence.
func causeText(c whatif.Cause, of whatif.Quantity) string {
	switch rewind := of == whatif.RewindStorage; {
	case c == whatif.LongDwell:
		return "a long dwell"
	case c == whatif.NotReady && rewind:
		return "the next core not ready in time"
	case c == whatif.NotReady:
		return "the next roll not armed in time"
	case c == whatif.FailedByHand:
		return changesText(rewind) + " that fail and are made by hand"
	case c == whatif.NotRefilled && rewind:
		return "transfers that begin before the storage is drawn down"
	case c == whatif.NotRefilled:
		return "splices that begin before the storage is refilled"
	case c == whatif.Waiting:
		return "the line waiting for an operator"
	case c == whatif.RunOutCost:
		return "the cost of a run-out against that of web left on every core"
	case c == whatif.FastestTried:
		return "three times the present speed, the fastest tried"
	case c == whatif.SeamRidge:
		return "the ridge of the seam"
	}
	return ""
}

// changesText is what the changes of a station are called.
func changesText(rewind bool) string {
	if rewind {
		return "transfers"
	}
	return "splices"
}

// NoteTexts are the notes of an answer.
func NoteTexts(a *whatif.Answer, sys model.System) []string { return says(a, a.Notes, sys) }

// WhyText says why a target is not met.
func WhyText(a *whatif.Answer, sys model.System) string {
	return strings.Join(says(a, a.Why, sys), "; ")
}

func says(a *whatif.Answer, notes []whatif.Note, sys model.System) []string {
	var list []string
	for _, n := range notes {
		list = append(list, noteText(a, n, sys))
	}
	return list
}

// noteText is a note in a sentence, without its full stop.
func noteText(a *whatif.Answer, n whatif.Note, sys model.System) string {
	in := func(x float64) string { return inUnits(x, a.Dim, sys) }
	if s := chanceNote(a, n, in); s != "" {
		return s
	}
	if s := recordsNote(a, n, in); s != "" {
		return s
	}
	if s := rollNote(n, sys); s != "" {
		return s
	}
	switch n := n.(type) {
	case whatif.Failed:
		return failedText(n, a.Of == whatif.RewindStorage, in)
	case whatif.Unshown:
		return unshownText(n, a.Of == whatif.RewindStorage, in)
	case whatif.Tried:
		return triedText(n, in, sys)
	case whatif.AtNoSpeed:
		return noSpeedText(a, n, in, sys)
	case whatif.LargestWaste:
		return fmt.Sprintf("the largest part of it is %s, %s", wasteText(n.Metric), chanceText(n.Share))
	case whatif.OthersHold:
		return fmt.Sprintf("the other limits hold up to %s (%s)", in(n.X), ConstraintText(n.Constraint, a.Of))
	}
	if a.Kind == whatif.Crew {
		return crewNote(n, a.Group)
	}
	return residualNote(n, a.Currency, in, sys)
}

// inUnits is a quantity in SI as the reader of the study writes it.
func inUnits(x float64, d model.Dimension, sys model.System) string {
	u := model.Display(d, sys)
	return Short(u.From(x), 4) + " " + u.Name
}

// FormulaText is a closed form and what it takes for granted.
func FormulaText(f whatif.Formula) (formula, assumptions string) {
	const residual = "every roll is changed when the control believes that the set point is left, and the errors of rolls are independent"
	switch f {
	case whatif.StorageOfASplice:
		return "v²/(2 d) + v q + v²/(2 a) + reserve + v²/(2 D), over the share of the capacity that the run level leaves; v line speed, q the dwell exceeded with that risk, d and a ramps of the station, D ramp of the line",
			"every change begins at the run level with its roll armed, none fails, and the process runs at line speed throughout"
	case whatif.SpeedOfASplice:
		return "the root v of v²/(2 d) + v q + v²/(2 a) + reserve + v²/(2 D) = content at the run level; v line speed, q the dwell exceeded with that risk, d and a ramps of the station, D ramp of the line",
			"only the storage limits the speed, every change begins at the run level with its roll armed, and none fails"
	case whatif.MachineInterference:
		return "machine interference M/M/c//N: p(k)/p(k-1) = (N-k+1) λ/(min(k, c) μ); the share of lines running with c operators, compared with one operator a line",
			"all crew work is done with the line at rest, and times between calls and times of work are exponential"
	case whatif.RollOfARidge:
		return "N = h/(e min(1, w/(2 a))), L = pi N (d + N t); h the allowed ridge, e the extra thickness of the seam, w its width, a the oscillation to each side, N wraps, d the core, t the caliper",
			"the roll is hard, and the web is moved evenly from end to end"
	case whatif.OscillationOfARidge:
		return "a = N e w/(2 h), N = (D - d)/(2 t), 0 where N e is within h; h the allowed ridge, e the extra thickness of the seam, w its width, N wraps, D and d roll and core, t the caliper",
			"the roll is hard, and the web is moved evenly from end to end"
	case whatif.ResidualByShort:
		return "Φ(x/s) = p/(p + c): the error is below x with that chance, p the cost a metre short, c that of a metre left", residual
	case whatif.ResidualBySetPoint:
		return "x = s sqrt(-2 ln(c s sqrt(2 pi)/K)), c the cost of a metre, s the sd of the error, K the cost of a run-out", residual
	case whatif.ResidualByRest:
		return "φ(x/s)/Φ(x/s) = c s/K, c the cost of a metre left, s the sd of the error, K the cost of a run-out", residual
	}
	return "least of c E[rest] + K P(run-out) over the distribution of the error, by golden section", residual
}

// OtherForm names what a closed form is under another assumption.
func OtherForm(o whatif.Other) string {
	if o.Dwell != "" {
		return "dwell " + string(o.Dwell)
	}
	return SizedName(o.Of)
}
