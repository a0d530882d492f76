package words

// What stands in the workbook of a plan. Those with a verb are formats.
const (
	SheetPlan        = "Plan"
	SheetOrders      = "Orders"
	SheetProposal    = "Proposal"
	PlanSheetNote    = "%s. Values, not formulas: another list needs another simulation."
	PlanTimesOf      = "Times are on the clock of the plant, to the minute."
	PlanTimesFrom    = "Times are hours from the start of the list."
	PlanOrdersNote   = "Means over the replications in which the order ended; hours, web and rolls from the end of the order before."
	PlanProposalNote = "Sequences to consider, judged on random events that they were not found with; tools, plates and customers are not in them."
	PlanNotDone      = "replications that the horizon ended"
	PlanSooner       = "done sooner than with %s"
	PlanMoreTimed    = "more orders on time than with %s"
	PlanLessLate     = "less late than with %s, all orders"
	PlanOnTimeOf     = HeadOnTime + ", of %d"
	PlanDoneLow      = HeadListDone + ", 5 %"
	PlanDoneHigh     = HeadListDone + ", 95 %"
	PlanTime         = "time"
	PlanHours        = "h"
	PlanHoursOf      = "%s, h"
	NotesAnswerPlan  = "The answer"
	HeadChanges      = "changeovers"
	PlanExact        = "yes"
	PlanMost         = "a sheet has %d rows, and the orders of all alternatives are %d: use --csv"
)

// The heads of the columns of a plan. The heads of hours by cause stand after
// PlanOrderHeads, then PlanWebHeads, the first three with the unit of length.
var (
	PlanHeads         = []string{"The whole list", SheetUnit} // then each alternative, and ±
	PlanOrderHeads    = []string{"alternative", HeadOrder, HeadProduct, "line", "length, %s", HeadBegins, HeadEnds, HeadEndsLow, HeadEndsHigh, HeadDue, "chance late", "late by, h", "hours and waits, h", "running at line speed, h", "ramping up and down, h", "running slowed, h"}
	PlanWebHeads      = []string{HeadGood + ", %s", HeadWasted + ", %s", "of which left on cores, %s", HeadFinished, HeadSplices, HeadTape + ", %s", "replications in which it ended"}
	PlanProposalHeads = []string{"alternative", "less of", "the list, h", SheetPlusMinus, "the proposal, h", SheetPlusMinus, "gain, h", SheetPlusMinus, "sequences tried", "simulated", "no other is shorter"}
	PlanSequenceHeads = []string{"alternative", "place", HeadOrder, HeadProduct, "place in the list"}
)
