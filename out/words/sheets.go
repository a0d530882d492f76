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
	SheetInputs        = "Inputs"
	SheetDifference    = "Difference"
	SheetPlusMinus     = "±"
	ResultsAlone       = "± is the half width of the simulation alone; compare --records says what the records leave open."
	SheetPaybackSimple = "simple payback"
)

// Of the inputs.
const (
	InputsNote          = "Savings of %s against %s. Change a shaded cell: savings, cash flow and payback follow. Formulas are metric."
	InputsPayback       = "payback %s"
	InputsPaybackNote   = "median: a payback that never comes has no mean"
	InputsOverDraws     = "Over %s draws; %g %% of them lie between low and high. These are values of the case as calculated: the formulas take every input at its mean, and where demand is uncertain around capacity they give another figure."
	InputsOfProfit      = "of profit"
	InputsSameHours     = "the same as planned hours a year"
	InputsAllSold       = "empty: all good web is sold"
	InputsOverLife      = "empty: over the life"
	InputsNotGiven      = "not given: counts as 0"
	InputsLowHigh       = "Low and high hold %g %% of what an input that varies may be; the formulas take its mean."
	InputsOperators     = "operators"
	InputsLines         = "identical lines"
	InputsWidth         = "width of the web"
	InputsTrim          = "edge trim"
	InputsGrammage      = "grammage"
	InputsTape          = "tape a splice"
	ResultsTitle        = "What was simulated"
	ResultsNote         = "%s. Values, not formulas: another line needs another simulation."
	ResultsResult       = "Result"
	ResultsUsed         = "used by the formulas"
	ResultsAll          = "all results"
	SavingsTitle        = "What is saved a year before tax"
	SavingsSheetNote    = "Formulas with all inputs at their means; the mean of the draws, low and high are values."
	SavingsYear         = "A year, with mean inputs"
	SavingsFor          = "Saved for, %s a year"
	SavingsHalf         = "± simulated: half width of the simulation alone, about the figure with mean inputs. Low and high hold %g %% of %s draws; they and the mean are values."
	SavingsChart        = "Saved a year before tax, with mean inputs, %s"
	SavingsSeries       = "saved a year"
	FlowTitle           = "Cash flow and what it is worth, with mean inputs"
	FlowNote            = "%s; the sheet has room for %d years of life."
	FlowChart           = "Net flow by year %s, with mean inputs, %s"
	UncertaintyTitle    = "How sure it is"
	UncertaintyNote     = "%s draws. Values of the case as calculated; they do not follow the formulas."
	UncertaintyDiscount = "discounted payback"
	UncertaintyGains    = "chance of a positive net present value"
	UncertaintyPaid     = "Paid back %s by the end of year"
	UncertaintyChart    = "Chance of payback by the end of a year"
)

// The heads of the columns.
var (
	InputsAnswerHeads     = []string{"The answer", "Mean", SheetUnit, "Low", "High", ""}
	InputsHeads           = []string{"Input, at its mean", "Value", SheetUnit, "Low", "High", SheetSource}
	InputsLineHeads       = []string{"The line", "First", SheetUnit, "Alternative", "", SheetSource}
	SavingsHeads          = []string{"mean inputs", "± simulated", "low", "high", "mean of the draws", SheetFormula} // after SavingsFor
	FlowHeads             = []string{"year", SheetInvestment, "saved", "depreciation", "salvage", "tax", "net", "cumulative", "factor", SheetPaybackSimple, UncertaintyDiscount, "outlay, present value", "return, end of life", "sign change", "of savings, after tax", "at present value", "book value"}
	UncertaintyHeads      = []string{"Figure", "mean", "median", "low", "high", "with mean inputs", SheetUnit}
	UncertaintyPaidHeads  = []string{"simple", "at present value"} // after UncertaintyPaid
	UncertaintyMovesHeads = []string{"What moves the mean net present value", "low", "high", "value at low", "value at high", "", SheetUnit}
	UncertaintyShareHeads = []string{"Share of the spread", "share", "rank correlation"}
)

// SheetRow is a row of a sheet: what it is called, and the remark beside it.
type SheetRow struct{ Label, Remark string }

// The rows of a year of an alternative.
var (
	RowCapacity      = SheetRow{"good web that could be made", "good web a second × planned hours"}
	RowGood          = SheetRow{"good web", "the demand, or what can be made where that is less"}
	RowHours         = SheetRow{"hours needed", "good web / good web a second"}
	RowWaste         = SheetRow{"waste", "good web × waste share / (1 − waste share)"}
	RowWasteTrimmed  = SheetRow{"waste, of full width", "good web × (1 − trim / width) × waste share / (1 − waste share)"}
	RowWasteArea     = SheetRow{"waste, area", "waste × width"}
	RowWasteMass     = SheetRow{"waste, mass", "waste × width × grammage"}
	RowOperatorHours = SheetRow{"operator hours", "operators × hours"}
	RowLineHours     = SheetRow{"line hours", "lines × hours"}
	RowTape          = SheetRow{"splicing tape", "tape a splice × splices"}
)

// The rows of what a cash flow is worth; the first words of an amount stand
// before its currency.
var (
	RowInvestment    = SheetRow{SheetInvestment, "that of the alternative less that of the first"}
	RowSalvage       = SheetRow{"salvage", "at the end of the life"}
	RowLife          = SheetRow{"life, whole years", "cash flows are at year ends"}
	RowDepreciation  = SheetRow{"depreciation, whole years", "straight line; over the life where not given"}
	RowCharge        = SheetRow{"depreciation a year", "of the investment less its salvage"}
	RowSigns         = SheetRow{"changes of sign of the net flow", "one: the rate of return is unique"}
	RowNPV           = SheetRow{"net present value", "the net flows at present value, added up"}
	RowNPVByFunction = SheetRow{"the same by NPV()", "as a check"}
	RowAnnual        = SheetRow{SheetAnnual, "over the life"}
	RowIRR           = SheetRow{SheetIRR, "taken twice: the second from what the first found"}
	RowMIRR          = SheetRow{SheetMIRR, "outlays and returns at the discount rate"}
	RowSimple        = SheetRow{"simple payback, years", "linear within the year"}
	RowDiscounted    = SheetRow{"discounted payback, years", "the same of the flows at present value"}
	RowSIR           = SheetRow{SheetSIR, "savings after tax over what is invested less what is sold, at present value"}
)

// The notes: heads, and what is said of every case.
const (
	NotesAnswer     = "The answer, mean of the draws"
	NotesBefore     = "Before you use these figures"
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
