package metric

import "strings"

// The names of the metrics, in JSON, CSV, tables, sweeps and limits.
const (
	GoodRate         = "good_rate"
	ProcessedRate    = "processed_rate"
	GoodAreaRate     = "good_area_rate"
	GoodMassRate     = "good_mass_rate"
	FinishedRollRate = "finished_roll_rate"
	WithoutSplice    = "finished_rolls.without_splice"
	Availability     = "availability"
	Performance      = "performance"
	Quality          = "quality"
	OEE              = "oee"

	Running   = "time.running"
	Ramping   = "time.ramping"
	Slowed    = "time.slowed"
	Stopped   = "time.stopped"
	StoppedBy = "time.stopped." // and a hold
	Waiting   = "time.waiting_for_operator"
	StopRate  = "stop_rate"
	BeginsBy  = "stop_rate." // and a hold

	Waste           = "waste.total"
	WasteResidual   = "waste.residual"
	WasteSplice     = "waste.splice"
	WasteRestart    = "waste.restart"
	WasteWebBreak   = "waste.web_break"
	WasteStop       = "waste.stop"
	WasteTransfer   = "waste.transfer"
	WasteChangeover = "waste.changeover"
	WasteRejected   = "waste.rejected"
	WasteTrim       = "waste.trim"

	SpliceRate         = "splice_rate"
	SpliceNotReady     = "splice.not_ready"
	SpliceFailed       = "splice.failed"
	RunOut             = "splice.run_out"
	SpliceNotRefilled  = "splice.not_refilled"
	SpliceLost         = "splice.web_lost"
	Depletion          = "splice.depletion"
	DepletionInterval  = Depletion + "_interval"
	DepletionCounted   = Depletion + "_counted"
	DepletionNotFailed = Depletion + ".not_failed"
	DepletionFailed    = Depletion + ".failed"
	DepletionBy        = Depletion + "." // and a cause, or a law of the dwell
	UnwindEmpty        = "unwind_storage.empty"
	UnwindLowest       = "unwind_storage.lowest"

	TransferRate        = "transfer_rate"
	TransferNotReady    = "transfer.not_ready"
	TransferFailed      = "transfer.failed"
	TransferNotRefilled = "transfer.not_refilled"
	Overfill            = "transfer.overfill"
	OverfillInterval    = Overfill + "_interval"
	OverfillCounted     = Overfill + "_counted"
	OverfillNotFailed   = Overfill + ".not_failed"
	OverfillFailed      = Overfill + ".failed"
	OverfillBy          = Overfill + "." // and a cause, or a law of the dwell
	RewindFull          = "rewind_storage.full"
	RewindHighest       = "rewind_storage.highest"

	CrewBusy   = "crew.utilisation"
	CrewBusyBy = CrewBusy + "." // and a group of the crew

	PartRolls   = "part_rolls.returned" // to stock, at another web
	PartWeb     = "part_rolls.web"      // that is on them
	PartsReused = "part_rolls.reused"   // put on again

	ProductGood    = "product.good_rate."          // and a product, as in the next ones
	ProductTime    = "product.time."               // from the end of the order before
	ProductWaste   = "product.waste."              // of what was supplied for it
	ProductRolls   = "product.finished_roll_rate." //
	ProductSplices = "product.splice_rate."        //
	ProductTape    = "product.tape_rate."          //
)

// FamilyOf is the family of figures that add up which a metric of the whole line is in:
// the times, or the waste by cause. It is empty for any other metric.
func FamilyOf(name string) string {
	switch family, _, found := strings.Cut(name, "."); {
	case found && (family == "time" || family == "waste") && name != Waiting:
		return family
	}
	return ""
}

// ProductOf is the product that a metric is of; false for one of the whole line.
func ProductOf(name string) (product string, ok bool) {
	for _, family := range []string{ProductGood, ProductTime, ProductWaste, ProductRolls, ProductSplices, ProductTape} {
		if product, ok = strings.CutPrefix(name, family); ok {
			return product, true
		}
	}
	return "", false
}

// HoldOf is the hold for which a metric of a hold is measured; false for any other.
func HoldOf(name string) (hold string, ok bool) {
	if hold, ok = strings.CutPrefix(name, StoppedBy); ok {
		return hold, true
	}
	return strings.CutPrefix(name, BeginsBy)
}

// CrewGroupOf is the group of a crew for which a metric is measured; false for any other.
func CrewGroupOf(name string) (group string, ok bool) { return strings.CutPrefix(name, CrewBusyBy) }

// IsStoppedBy says that a metric is the time stopped for one hold.
func IsStoppedBy(name string) bool { return strings.HasPrefix(name, StoppedBy) }

// RiskOf is the chance that a metric belongs to, Depletion or Overfill, and which part
// of it it is: a cause or a law, "" for one that is no part; false for any other metric.
func RiskOf(name string) (whole, part string, ok bool) {
	for _, whole := range []string{Depletion, Overfill} {
		if part, ok := strings.CutPrefix(name, whole+"."); ok {
			return whole, part, true
		}
		if name == whole || name == whole+"_counted" || name == whole+"_interval" {
			return whole, "", true
		}
	}
	return "", "", false
}

// ChangesOf is the rate of the roll changes, or finished rolls, that a share of them is of.
func ChangesOf(name string) string {
	if name == WithoutSplice {
		return FinishedRollRate
	}
	if strings.HasPrefix(name, "transfer.") {
		return TransferRate
	}
	return SpliceRate
}
