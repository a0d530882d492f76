package words

// The heads of the text tables: what stands above a table, over its columns,
// before its rows and below it. Those with a verb are formats.

// Of several tables.
const (
	HeadMean       = "mean"
	HeadMedian     = "median"
	HeadLowHigh    = "low – high"
	HeadMeanInputs = "mean inputs"
	HeadSimulated  = "± simulated"
	HeadDifference = "difference"
	HeadTotal      = "total"
	HeadNone       = "none"
	HeadYear       = "year"
	HeadStorage    = "storage"
	NotPossible    = "not a possible line: %s"
	HeadWithUnit   = "%s, %s" // a label and its unit
)

// Of run and compare.
const (
	HeadGoodWeb       = "good"
	HeadRests         = "the web comes to rest"
	HeadSupplied      = "total web supplied"
	HeadStopsAt       = "at %s %s"
	HeadLevelsBelow   = "below, 0.1 / 5 / 50 % of cycles"
	HeadLevelsAbove   = "above, 0.1 / 5 / 50 % of cycles"
	HeadCauses        = "  causes: %s"
	HeadOtherLaws     = "  if the dwell were %s"
	NoneSeenNote      = "(none in so many: at %g %% confidence the share is below the figure beside it)"
	OneReplication    = "(one replication gives no confidence interval: run 10 or more)"
	TooFewNote        = "(± ?: too few events in so few replications for an interval)"
	TooFewButNote     = "(± ?: too few events in so few replications for an interval; about %d replications would do)"
	DifferenceNote    = "(+ and −: difference from %s, same random events in both; ~ no significant difference)"
	HeadEachPoint     = "Each point: %s"
	HeadPointsLeftOut = "Left out, not a possible line:"
	HeadAcross        = "%s (across: %s)" // a metric and the key over the columns
	CellLeftOut       = "left out"
)

// Of a log.
const (
	HeadTime      = "time"
	HeadClock     = "h:min:s"
	HeadStation   = "station"
	HeadEvent     = "event"
	HeadWeb       = "web"
	HeadProcessed = "processed"
	HeadUnwind    = "unwind"
	HeadRewind    = "rewind"
	HeadHolds     = "holds on; operators busy"
	LogLine       = "line %d, %s"
	LogHolds      = "on: %s; operators busy: %d"
	LogNothing    = "nothing"
)

// Of a size.
const (
	ScenarioHas          = "The scenario has %s."
	HeadBinds            = "What binds, in order"
	BindsAtMost          = " (%s at most)"
	BindsAbove           = "above %s"
	BindsEverywhere      = "at every speed"
	NeverBinds           = "Never binds at any speed tried: %s."
	HeadClosedForm       = "Closed form: %s"
	FormulaValid         = "%s; valid if %s"
	FormOfStations       = "by station"
	FormOfLaws           = "other distributions, same mean and sd"
	HeadStrands          = "strands"
	HeadCarriageTravel   = "carriage travel"
	HeadCarriageSpeed    = "carriage speed"
	HeadTension          = "tension added"
	HeadValuesSimulated  = "Simulated (%d values, the nearest shown)"
	HeadLow              = "low"
	HeadHigh             = "high"
	LawInText, LawInForm = "Weibull", "weibull" // in a sentence, and among the laws
)

// Of a sensitivity.
const (
	HeadNotMoved    = "Not moved"
	HeadNotKnown    = "Not known"
	HeadNow         = "%s, now %s"
	HeadInput       = "input"
	HeadLowEnd      = "low end"
	HeadHighEnd     = "high end"
	HeadMovedTo     = "moved to"
	NoInputMoves    = "  no input moves it significantly"
	OneInputLess    = "  and 1 input that moves it less or not significantly"
	InputsLess      = "  and %d inputs that move it less or not significantly"
	NeverVaries     = "  it does not vary between periods of %s"
	HeadVariation   = "random variation between periods of %s (sd %s over %d)"
	HeadOfVariance  = "of the variance"
	NoSourceAdds    = "    no source adds to it significantly"
	OneSourceLess   = "    and 1 source that adds less or nothing significant"
	SourcesLess     = "    and %d sources that add less or nothing significant"
	MovedAlone      = "each input that is not known exactly is moved alone by %.4g %%: a distribution by its mean, keeping its shape; a share above 50 %% by what it lacks of 100 %%; a whole number by one"
	MovedInBoth     = "; an input of the line moves in both alternatives, each from its own value"
	MovedOnce       = "; same random events throughout; one replication cannot tell a difference from noise"
	MovedFromNow    = "; differences from now, with the same random events; ~ no significant difference"
	RedrawnVariance = ". Random variation: each source is redrawn alone; its share of the variance includes all interactions, so shares may add up to more than 100 %"
)

// Of a savings case.
const (
	HeadSavingsOf      = "savings of %s"
	HeadDraws          = "%s; low – high holds %g %% of %s draws"
	HeadAYear          = "A year, mean of the draws"
	HeadSaved          = "What is saved a year before tax, %s"
	HeadCashFlow       = "Cash flow, %s, mean of the draws"
	HeadWorth          = "What it is worth %s"
	HeadChance         = "Chance of payback %s"
	HeadMoves          = "What moves the mean net present value"
	HeadOtherKinds     = "If one limit alone applied, mean of the draws"
	HeadBefore         = "Before you use these figures"
	HeadPlanned        = "planned hours, h"
	HeadGoodOf         = "good web, %s"
	HeadHoursNeeded    = "hours needed, h"
	HeadOperatorHours  = "operator hours, h"
	HeadLineHours      = "line hours, h"
	HeadWasteOf        = "waste, %s"
	HeadTapeOf         = "splicing tape, %s"
	HeadYearSaved      = "saved"
	HeadDepreciation   = "depreciation"
	HeadTax            = "tax"
	HeadNet            = "net"
	HeadCumulative     = "cumulative"
	HeadNetRange       = "net, low – high"
	IncludingSalvage   = "    including the salvage of %s"
	HeadInvestment     = "investment"
	HeadNPV            = "net present value"
	HeadPerYear        = "equivalent annual value"
	HeadIRR            = "internal rate of return, %"
	HeadMIRR           = "modified rate of return, %"
	HeadSimple         = "simple payback, years"
	HeadDiscounted     = "discounted payback, years"
	HeadSIR            = "savings to investment"
	RateNotUnique      = "not unique"
	OneRateIn          = "exactly one rate %s; low, high and median are of those"
	RatesOfMeans       = "with mean inputs: %s"
	HeadByYear         = "by the end of year"
	HeadSimpleShort    = "simple"
	HeadAtPresent      = "at present value"
	HeadSpreadShare    = "share of its spread (squared rank correlation)"
	HeadOneInput       = "one input at a time"
	HeadFromTo         = "from – to"
	HeadMeanNPV        = "mean net present value"
	MovedByTenth       = "%s (±10 %%)"
	HeadSavingsAgainst = "Savings against %s, %s"
	HeadSavedBefore    = "saved a year before tax"
	HeadNPVTaxed       = "net present value %s"
	HeadPaybackYears   = "payback, years"
	HeadInvested       = "  investment %s"
	SavingsNote        = "(means of %s draws, medians for paybacks; below each figure the range that holds %g %% of the draws; rollchange payback shows the calculation%s)"
	AllSoldNote        = "; no demand is given, so all good web counts as sold"
)
