package metric

// table holds the metrics in the order of a table of one alternative. A name that
// ends in a dot is that of a family, one for each hold or each part; a
// part with a row of its own stands before it.
var table = []Metric{
	// name, unit, estimate, group, shown, its row, place in a comparison
	{GoodRate, "m/s", Mean, Makes, Plain, Always, First},
	{ProcessedRate, "m/s", Mean, Makes, Plain, Always, Not},
	{GoodAreaRate, "m2/s", Mean, Makes, Plain, Always, First},
	{GoodMassRate, "kg/s", Mean, Makes, Plain, Always, First},
	{FinishedRollRate, "1/s", Mean, Makes, PerTime, Always, First},
	{Availability, "1", Mean, Makes, Share, Always, Then},
	{Performance, "1", Mean, Makes, Share, Always, Then},
	{Quality, "1", Mean, Makes, Share, Always, Then},
	{OEE, "1", Mean, Makes, Share, Always, First},

	{Running, "1", Mean, Hours, ShareOfTime, IfAny, First},
	{Ramping, "1", Mean, Hours, ShareOfTime, IfAny, Then},
	{Slowed, "1", Mean, Hours, ShareOfTime, IfAny, First},
	{Stopped, "1", Mean, Hours, ShareOfTime, Whole, Then},
	{StoppedBy, "1", Mean, Hours, ShareOfTime, IfAny, Then},
	{Waiting, "1", Mean, People, ShareOfTime, Always, Then},
	{StopRate, "1/s", Count, Hours, PerTime, Whole, Then},
	{BeginsBy, "1/s", Count, Hours, PerTime, Within, Not},

	{Waste, "1", Mean, WebGoes, Share, Whole, First},
	{WasteResidual, "1", Mean, WebGoes, Share, IfAny, First},
	{WasteSplice, "1", Mean, WebGoes, Share, IfAny, First},
	{WasteRestart, "1", Mean, WebGoes, Share, IfAny, First},
	{WasteWebBreak, "1", Mean, WebGoes, Share, IfAny, First},
	{WasteStop, "1", Mean, WebGoes, Share, IfAny, First},
	{WasteTransfer, "1", Mean, WebGoes, Share, IfAny, First},
	{WasteChangeover, "1", Mean, WebGoes, Share, IfAny, First},
	{WasteRejected, "1", Mean, WebGoes, Share, IfAny, First},

	{SpliceRate, "1/s", Mean, RollChanges, PerTime, Always, First},
	{SpliceNotReady, "1", OfTrials, RollChanges, ShareOfChanges, Always, First},
	{SpliceFailed, "1", OfTrials, RollChanges, ShareOfChanges, Always, First},
	{RunOut, "1", OfTrials, RollChanges, ShareOfChanges, Always, First},
	{SpliceNotRefilled, "1", OfTrials, RollChanges, ShareOfChanges, Always, First},
	{Depletion, "1", OfTrials, Risk, Chance, Always, First},
	{DepletionInterval, "s", Interval, Risk, Every, Always, Not},
	{DepletionCounted, "1", OfTrials, Risk, ShareOfChanges, Always, Not},
	{DepletionNotFailed, "1", OfTrials, Risk, Chance, Within, Not},
	{DepletionFailed, "1", OfTrials, Risk, Chance, Within, Not},
	{DepletionBy, "1", Ratio, Risk, Chance, Within, Not},
	{UnwindEmpty, "1/s", Count, RollChanges, PerTime, IfAny, Not},
	{UnwindLowest, "m", Ratio, RollChanges, Plain, Always, First},

	{TransferRate, "1/s", Mean, RollChanges, PerTime, Always, First},
	{TransferNotReady, "1", OfTrials, RollChanges, ShareOfChanges, Always, First},
	{TransferFailed, "1", OfTrials, RollChanges, ShareOfChanges, Always, First},
	{TransferNotRefilled, "1", OfTrials, RollChanges, ShareOfChanges, Always, First},
	{Overfill, "1", OfTrials, Risk, Chance, Always, First},
	{OverfillInterval, "s", Interval, Risk, Every, Always, Not},
	{OverfillCounted, "1", OfTrials, Risk, ShareOfChanges, Always, Not},
	{OverfillNotFailed, "1", OfTrials, Risk, Chance, Within, Not},
	{OverfillFailed, "1", OfTrials, Risk, Chance, Within, Not},
	{OverfillBy, "1", Ratio, Risk, Chance, Within, Not},
	{RewindFull, "1/s", Count, RollChanges, PerTime, IfAny, Not},
	{RewindHighest, "m", Ratio, RollChanges, Plain, Always, First},

	{CrewBusy, "1", Mean, People, Share, Always, First},
	{CrewBusyBy, "1", Mean, People, Share, Always, First},
}
