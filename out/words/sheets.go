package words

// What stands in the sheets of the workbook: their names, heads and remarks.
// Those with a verb are formats.

// Of several sheets.
const (
	SheetUnit          = "Unit"
	SheetFormula       = "Formula"
	SheetSource        = "Source"
	SheetSavedBefore   = "saved a year before tax"
	SheetNPVTaxed      = "net present value %s"
	SheetYears         = "years"
	SheetPerYear       = "a year" // the unit of a rate
	SheetNever         = "never"
	SheetNone          = "none"
	SheetNotUnique     = "not unique"
	SheetNotInvested   = "nothing invested"
	SheetTotal         = "total"
	SheetInvestment    = "investment"
	SheetAnnual        = "equivalent annual value"
	SheetIRR           = "internal rate of return"
	SheetMIRR          = "modified rate of return"
	SheetSIR           = "savings to investment"
	SheetOfCurrency    = "%s, %s" // a label and its currency
	SheetMovedByTenth  = "%s (±10 %%)"
	SheetSavings       = "Savings"
	SheetCashFlow      = "Cash flow"
	SheetUncertainty   = "Uncertainty"
	SheetNotes         = "Notes"
	SheetResults       = "Results"
	SheetAnswer        = "Answer"
	SheetByYear        = "By year"
	SheetRates         = "Rates"
	SheetNPV           = "net present value"
	SheetPayback       = "payback"
	SheetDifference    = "Difference"
	SheetPlusMinus     = "±"
	ResultsAlone       = "± is the half width of the simulation alone; compare --records says what the records leave open."
	SheetPaybackSimple = "simple payback"
)

// Of the first sheet.
const (
	RunDiffers       = "Inputs differ from those of the run: what is grey is as of the run and does not match them."
	AsOfTheRun       = "As of the run"
	AnswerNote       = "Savings of %s against %s. Change a shaded cell: payback, savings and cash flow follow. What is not live is marked as of the run."
	AnswerPayback    = "payback %s"
	AnswerDiscounted = "payback at present value %s"
	AnswerIRR        = "internal rate of return %s"
	AnswerInvested   = "investment before tax"
	AnswerMedian     = "as of the run a median: some draws may have none"
	AnswerOverDraws  = "As of the run, over %s draws; %g %% of them lie between low and high. The live figures take every input at its mean; where demand is uncertain around capacity the mean of the draws is another figure."
	AnswerShares     = "Live. A part of all that is saved a year; maintenance, investment and start-up count in full."
	InputsOfProfit   = "of profit"
	InputsOfHours    = "of the hours"
	InputsSameHours  = "the same as planned hours a year"
	InputsAllSold    = "empty: all good web is sold"
	InputsOverLife   = "empty: over the life"
	InputsAllLeave   = "not given: all"
	InputsAllPrices  = "empty: as all prices"
	InputsNotGiven   = "not given: counts as 0"
	InputsLowHigh    = "Low and high hold %g %% of what an input that varies may be; the formulas take its mean."
	BoundsTitle      = "Not possible"
	BoundsNotBelow   = "It must be a number, 0 or above."
	BoundsYears      = "It must be 1 to %d years."
	BoundsShare      = "It must be 0 % to 100 %."
	BoundsChange     = "It must be -50 % to 50 % a year."
	ByYearTitle      = "What differs by year"
	ByYearNote       = "Shares: of the investment and of the start-up cost that are spent in a year, and of the saving that is reached."
	ByYearHow        = "Investment and start-up should add up to 100 %. What lies after the end of the life is not spent. Year 0 has no saving; maintenance counts in full from year 1."
	ByYearFirstSum   = "invested within the life, the first"
	ByYearOtherSum   = "invested within the life, the alternative"
	RatesTitle       = "Is the rate of return the only one?"
	RatesNote        = "The net present value at many rates, for all, half and three quarters of the saving: it is 0 at each internal rate of return between those tried."
	RatesFound       = "rates found; where the first lies"
	RatesDiffer      = "inputs that differ from the run"
)

// Of the sheets.
const (
	InputsOperators     = "operators"
	InputsLines         = "identical lines"
	InputsWidth         = "width of the web"
	InputsTrim          = "edge trim"
	InputsGrammage      = "grammage"
	InputsTape          = "tape per splice"
	ResultsTitle        = "What was simulated"
	ResultsNote         = "%s. As of the run: another line needs another simulation. Shaded cells may be changed to try what follows."
	ResultsOfWeb        = "of the web"
	ResultsResult       = "Result"
	ResultsUsed         = "used by the formulas"
	ResultsAll          = "all results"
	SavingsTitle        = "What is saved a year before tax"
	SavingsSheetNote    = "Live, with the inputs of the first sheet. ± simulated, low, high and mean of the draws are as of the run."
	SavingsYear         = "A year, with these inputs"
	SavingsFor          = "Saved for, %s a year"
	SavingsHalf         = "± simulated: half width of the simulation alone, about the figure with mean inputs. Low and high hold %g %% of %s draws."
	SavingsChart        = "Saved a year before tax, with these inputs, %s"
	SavingsSeries       = "saved a year"
	FlowTitle           = "Cash flow and what it is worth, with these inputs"
	FlowNote            = "%s. The life may be 1 to %d years."
	FlowChart           = "Sum of the flows %s, with these inputs, %s"
	FlowYear            = "end of year"
	FlowOfShare         = "%g %% of the saving: "
	FlowNetOf           = "net"
	FlowSumOf           = "cumulative"
	FlowPaidOf          = "payback"
	FlowSignOf          = "sign"
	FlowTurnsOf         = "sign change"
	RowOfShare          = "with %s: "
	UncertaintyTitle    = "How sure it is"
	UncertaintyNote     = "%s draws, as of the run: these figures do not follow the inputs."
	UncertaintyDiscount = "discounted payback"
	UncertaintyGains    = "chance of a positive net present value"
	UncertaintyPaid     = "Paid back %s by the end of year"
	UncertaintyChart    = "Chance of payback by the end of a year"
)

// The heads of the columns.
var (
	AnswerHeads           = []string{"The answer", "With these inputs", SheetUnit, "As of the run: mean of the draws", "low", "high", ""}
	InputsHeads           = []string{"Input, at its mean", "Value", SheetUnit, "low", "high", AsOfTheRun, SheetSource}
	InputsLineHeads       = []string{"The line", "First", SheetUnit, "Alternative", AsOfTheRun + ": first", AsOfTheRun + ": alternative", SheetSource}
	SavingsHeads          = []string{"with these inputs", "± simulated", "low", "high", "mean of the draws", SheetFormula} // after SavingsFor
	UncertaintyHeads      = []string{"Figure, as of the run", "mean", "median", "low", "high", "with mean inputs", SheetUnit}
	UncertaintyPaidHeads  = []string{"simple", "at present value"} // after UncertaintyPaid
	UncertaintyShareHeads = []string{"Share of the spread", "share", "rank correlation"}
	RatesHeads            = []string{"1 / (1 + rate)", "rate", "net present value", "sign change", "half of the saving", "sign change", "three quarters", "sign change"}
)

// UncertaintyMoves are the heads of what moves the net present value.
func UncertaintyMoves(taxed string) []string {
	return []string{"What moves the mean net present value " + taxed, "low", "high", "value at low", "value at high", "", SheetUnit}
}

// FlowHeads are the heads of the cash flow, the first twelve for people.
func FlowHeads(taxed string) []string {
	return []string{"year", SheetInvestment + " before tax", "start-up and lost production before tax", "saved before tax", "depreciation", "salvage", "tax", "net " + taxed, "cumulative " + taxed, "factor", "at present value " + taxed, "cumulative at present value",
		"payback", "payback at present value", "outlay, present value", "return, end of life", "of savings, after tax", "written off a year", "written off, all so far", "saved by learning", "sign", "sign change", "spends", "year shown", "cumulative", "cumulative at present value"}
}

// ByYearHeads are the heads of what differs by year.
func ByYearHeads(first, other string) []string {
	return []string{"Year", "invested, " + first, "invested, " + other, "start-up, " + first, "start-up, " + other, "of the saving", "", AsOfTheRun + ": invested", "invested", "start-up", "start-up", "of the saving"}
}

// InstallHeads are those of what is lost while a line is installed.
func InstallHeads(first, other string) []string {
	return []string{"While it is installed, in year 0", first, other, "", SheetUnit, "", SheetFormula}
}

// SheetRow is a row of a sheet: what it is called, and the remark beside it.
type SheetRow struct{ Label, Remark string }

// The rows of a year of an alternative.
var (
	RowPlanned       = SheetRow{"planned hours", "of each side"}
	RowLeft          = SheetRow{"planned hours left", "planned hours of the first − installation"}
	RowLost          = SheetRow{"good web not made", "good web of the first − what can be made in the hours left"}
	RowLostMoney     = SheetRow{"lost production before tax", "its contribution − the web, disposal, tape and line hours that it would have taken"}
	RowLostExtra     = SheetRow{"lost production before tax", "of the alternative − of the first"}
	RowCapacity      = SheetRow{"good web that could be made", "good web per second × planned hours"}
	RowGood          = SheetRow{"good web", "the demand, or what can be made where that is less"}
	RowHours         = SheetRow{"hours needed", "good web / good web per second"}
	RowWasteTrimmed  = SheetRow{"waste, of full width", "good web × (1 − trim / width) × waste share / (1 − waste share)"}
	RowWasteArea     = SheetRow{"waste, area", "waste × width"}
	RowWasteMass     = SheetRow{"waste, mass", "waste × width × grammage"}
	RowOperatorHours = SheetRow{"operator hours", "operators × hours"}
	RowLineHours     = SheetRow{"line hours", "lines × hours"}
	RowTape          = SheetRow{"splicing tape", "tape per splice × splices"}
)

// The rows of what a cash flow is worth; the first words of an amount stand
// before its currency.
var (
	RowInvestment    = SheetRow{SheetInvestment, "alternative less first, within the life"}
	RowOnce          = SheetRow{"start-up and lost production", "alternative less first"}
	RowSalvage       = SheetRow{"salvage", "at the end of the life"}
	RowLife          = SheetRow{"life, whole years", "cash flows are at year ends"}
	RowDepreciation  = SheetRow{"depreciation, whole years", "straight line; over the life if not given"}
	RowChanges       = [3]SheetRow{{"change of the contribution a year", ""}, {"change of web and tape prices a year", ""}, {"change of wages a year", ""}}
	RowSigns         = SheetRow{"changes of sign of the net flow", "one: the rate of return is unique"}
	RowNPV           = SheetRow{SheetNPV, "net flows at present value, added up"}
	RowNPVByFunction = SheetRow{"the same by NPV()", "as a check"}
	RowAnnual        = SheetRow{SheetAnnual, "over the life"}
	RowIRR           = SheetRow{SheetIRR, "the only one: see the sheet of rates"}
	RowMIRR          = SheetRow{SheetMIRR, "all at the discount rate"}
	RowSimple        = SheetRow{SheetPaybackSimple, "linear within the year"}
	RowDiscounted    = SheetRow{"payback at present value", "of the flows at present value"}
	RowSIR           = SheetRow{SheetSIR, "over what is invested and started up"}
)

// The notes: heads, and what is said of every case.
const (
	NotesAnswer     = "The answer as of the run, mean of the draws"
	NotesBefore     = "Before you use these figures, as of the run"
	NotesCalculated = "How it is calculated"
	NotesCautions   = "Cautions"
	NotesMade       = "How it was made"
	NotesDiffers    = "What differs from the scenario"
	NotesTool       = "rollchange %s, scenario %s (SHA-256 %s), %s"
	NotesFlows      = "End-of-year flows; year 0 is the investment (NIST Handbook 135; ASTM E917, E1057, E1074, E1121). Within the year of recovery the payback is linear."
	NotesPrice      = "Price is the contribution of a square metre of good web: what it sells for less what is spent only because it is made, waste apart."
	NotesSIR        = "Savings to investment: savings after tax over the investment less what it is sold for after tax, all at present value."
	NotesLoss       = "A taxable loss saves tax on other profits."
	NotesWaste      = "The waste of a year is good web × waste share / (1 − waste share): web that is still in the line at the end counts as good."
)
