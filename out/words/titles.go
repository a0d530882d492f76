package words

import "rollchange/model"

// The titles, axes, keys and labels of the pictures; axis.go has those that
// hang on a key or a unit. Those with a verb are formats.

// Of several pictures.
const (
	TitleOf        = "%s: %s" // a title and what it is of
	NotFromZero    = "; the scale does not begin at 0"
	OneAPoint      = "one replication a point"
	PossibleNotWhy = "not possible: %s"
	PossibleNotAt  = "not possible, %s: %s"
	EveryPoint     = "at every point"
	MoreReasons    = "and %d more reasons"
	NameUnwind     = "unwind"
	NameRewind     = "rewind"
	NameProcess    = "process"
	NameStorage    = "%s storage"
	NameInterlock  = "%s interlock at line speed"
	MillionOf      = "million %s"
	ThousandOf     = "thousand %s"
	LimitAbove     = "%s (above %s)" // what happens where a limit does not hold, and the limit
)

// PossibleNotLines says it on one line or on two.
var PossibleNotLines = [][]string{{"not possible"}, {"not", "possible"}}

// Of the bars.
const (
	TitleHours  = "Where the hours go"
	AxisHours   = "share of the hours of each alternative, %"
	TitleWeb    = "Web that does not become good product"
	AxisWeb     = "share of the web supplied to each alternative, %"
	TitleOutput = "Good output, with its limits at %g %% confidence"
	WithRecords = " over simulation and records"
	AxisOutput  = "good web of each alternative, %s"
)

// Of a cash flow.
const (
	TitleCash  = "Cash flow, %s: %s"
	CashUnder  = "%s, against %s, at the ends of years"
	CashBars   = "net of the year, mean of the draws"
	CashBand   = "sum of all years so far; the band holds it in %g %% of the draws"
	CashYear   = "year"
	CashRepaid = "the mean cash flow has paid back after %s years"
)

// Of the drawing of a line.
const (
	TitleLine        = "The line, from its side: %s"
	LineParent       = "parent roll"
	LineFinished     = "finished roll"
	LineBySplices    = "%s ended by splices"
	LineRoll         = "%s %s" // a roll and its length
	LineDiameter     = "diameter %s"
	LineCore         = "on a core of %s"
	LineNoDiameter   = "diameter not known"
	LineLanes        = "%d lanes, each:"
	LineOfWeb        = "%s of web"
	LineStorage      = "storage %s"
	LineRunsAt       = "runs at %s"
	LineNoStrands    = "strands not given"
	LineStrands      = "%s strands"
	LineStrandsDrawn = "%s strands (40 drawn)"
	LineTravel       = "carriage travel %s"
	LineSpeed        = "at %s"
	LineWide         = "web %s wide"
	LinePath         = "%s of fixed web path"
	LineMetre        = "1 m"
	LineThreeFeet    = "3 ft"
	LineScale        = "%s: diameters and heights to scale where they are known; distances along the line are not"
	LineNotScale     = "not to scale: no diameter and no carriage travel is known"
)

// Of what the cycles leave in a storage, and of a log.
const (
	MarkInterlock     = "interlock at line speed"
	MarkReserve       = "reserve"
	MarkRewindReserve = "capacity less reserve"
	NothingToDraw     = "too little happened in that period to draw"
)

// Of a sweep over one key.
const (
	SweepOnce    = "the mean, one replication a point"
	SweepMean    = "mean of %d replications; the band is its %g %% confidence"
	SweepNamed   = "%s %s" // an alternative and where something holds for it
	SweepNothing = "nothing to show for %s"
	SweepNone    = "none" // the level of a chance of which none was seen
	SweepUpTo    = "up to %s"
	SweepFrom    = "from %s"
	SweepAt      = "at %s"
	SweepFromTo  = "from %s to %s"
	SweepMore    = "and more"
)

// Of a map over two keys.
const (
	MapMean        = "mean of %d replications at each dot"
	MapEveryDot    = "%s at every dot"
	MapLimits      = "where a limit does not hold, inside its bold line: %s"
	MapMoreReasons = "%s; and %d more reasons"
	MapNoFigure    = "no figure there"
)

// Of what inputs move.
const (
	SwingUnder       = "result when one input is moved and the others stay at their base"
	SwingUnderBoth   = "result when one input is moved; an input of the line is moved in both alternatives"
	SwingUnderDrawn  = "result when one economic input is moved and the others are drawn as they vary"
	SwingLow         = "with the input at its low end, written at the bar"
	SwingHigh        = "with the input at its high end; the line through the end of a bar is the confidence interval of the difference from the base"
	SwingHighDrawn   = "with the input at its high end; an input without an interval of its own is moved by 10 %"
	SwingNever       = "%s: never"
	SwingNotPossible = "%s: not possible"
	SwingNoneSeen    = "%s: none seen"
	SwingBase        = "base %s"
	SwingBaseNone    = "base none seen"
	SwingTotal       = "total effect"
	TitleMeanNPV     = "mean net present value %s"
)

// changeWords say how a station changes its roll.
var changeWords = map[bool]map[model.ChangeKind]string{
	true:  {model.Manual: "unwind, by hand", model.ZeroSpeed: "unwind, splice at rest", model.Flying: "unwind, splice at speed"},
	false: {model.Manual: "rewind, by hand", model.ZeroSpeed: "rewind, transfer at rest", model.Flying: "rewind, transfer at speed"},
}

// ChangeWords says how the unwind, or the rewind, changes its roll.
func ChangeWords(unwind bool, change model.ChangeKind) string { return changeWords[unwind][change] }
