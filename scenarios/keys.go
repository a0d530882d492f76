package scenarios

import (
	"math"

	"rollchange/model"
)

var inf = math.Inf(1)

// table is every key of a scenario, in the order of the reference.
var table = concat(generalKeys, unwindKeys, spliceKeys, rewindKeys, slitKeys, buildKeys, storageKeys("unwind"), storageKeys("rewind"), crewKeys, groupKeys, otherKeys, orderKeys, sweepKeys, liveKeys, recordKeys, reportKeys, economicKeys)

func concat(parts ...[]*Key) []Key {
	var all []Key
	for _, p := range parts {
		for _, k := range p {
			all = append(all, *k)
		}
	}
	return all
}

// Keys returns the table of keys, in the order of the reference.
func Keys() []Key { return append([]Key(nil), table...) }

var generalKeys = []*Key{
	key("title", text, "", "What the study is called", func(t *target, v value) { t.study.Title = v.text }),
	key("units", choice, "", "Units of tables and pictures", func(t *target, v value) { t.study.Units = model.System(v.text) }, oneOf("metric", "imperial"), def(`"metric"`)),

	key("web.width", quantity, model.Length, "Width of the web", func(t *target, v value) { t.line().Web.Width = v.num() }, above0, needed("for areas, masses, spindle_torque and the tape of a splice"), like(`"330 mm"`)),
	key("web.caliper", quantity, model.Length, "Caliper (thickness) of the web", func(t *target, v value) { t.line().Web.Caliper = v.num() }, above0, needed("with a roll_diameter, for spindle_torque and for rewind.build"), like(`"0.1 mm"`)),
	key("web.grammage", quantity, model.Grammage, "Mass of the web per area", func(t *target, v value) { t.line().Web.Grammage = v.num() }, above0, needed("for masses and spindle_torque")),
	key("web.register_repeat", quantity, model.Length, "Print repeat; used where splices are made in register", func(t *target, v value) { t.line().Web.RegisterRepeat = v.num() }, above0, needed("to splice in register"), like(`"406.4 mm"`)),

	key("web.stock", text, "", "Name of the web in stock: orders for the same web keep the parent roll on; if not given, those with the same web and size of rolls", func(t *target, v value) { t.line().Web.Stock = v.text }),

	key("line.speed", quantity, model.Speed, "Speed of the process", func(t *target, v value) { t.line().Process.Speed = v.num() }, above0, needed("always")),
	key("line.rated_speed", quantity, model.Speed, "Speed that OEE performance is measured against; if not given, line.speed", func(t *target, v value) { t.line().Process.RatedSpeed = v.num() }, above0),
	key("line.accel", quantity, model.Acceleration, "Ramp up of the process", func(t *target, v value) { t.line().Process.Accel = v.num() }, above0, needed("always")),
	key("line.decel", quantity, model.Acceleration, "Ramp down of the process, also of the interlock", func(t *target, v value) { t.line().Process.Decel = v.num() }, above0, needed("always")),
	key("line.path", quantity, model.Length, "Fixed web path from the splice point to the process, storage not counted", func(t *target, v value) { t.line().Process.Path = v.num() }, def(`"0 m"`)),
	key("line.stop_scrap", varying, model.Length, "Scrap behind the process each time the web comes to rest", func(t *target, v value) { t.line().Process.StopScrap = v.dist }, def(`"0 m"`)),
	key("line.restart_scrap", varying, model.Length, "Scrap each time the web starts again", func(t *target, v value) { t.line().Process.RestartScrap = v.dist }, def(`"0 m"`)),

	key("run.horizon", quantity, model.Time, "Simulated time of each replication", func(t *target, v value) { t.study.Run.Horizon = v.num() }, above0, def(`"30 d"`)),
	key("run.replications", integer, model.Number, "Independent repetitions", func(t *target, v value) { t.study.Run.Replications = int(v.integer) }, within(1, 100000, "1 to 100000"), def("20")),
	key("run.seed", integer, model.Number, "Random seed: the same seed gives the same results", func(t *target, v value) { t.study.Run.Seed = uint64(v.integer) }, within(0, math.MaxInt64, "0 or above"), def("1")),
	key("run.confidence", fraction, model.Share, "Confidence of the intervals", func(t *target, v value) { t.study.Run.Confidence = v.num() }, within(0.5, 0.9999, "50 % to 99.99 %"), def(`"95 %"`)),
	key("run.warm_up", special, model.Time, "Time before results count, or \"auto\" to find it from the output (MSER-5)", func(t *target, v value) {
		t.study.Run.WarmUp, t.study.Run.WarmUpAuto = v.num(), v.text == "auto"
	}, def(`"0 s"`)),
	key("run.controls", choice, "", "Whether the known means of the draws narrow the figures (control variates): draws, or none for plain means", func(t *target, v value) {
		t.study.Run.NoControls = v.text == "none"
	}, oneOf("draws", "none"), def(`"draws"`)),
	key("run.records", choice, "", "Whether every figure has a second half width, with what the records leave open: observed, of all laws that say how much was observed, or none; if not given, a report has it where a law does", func(t *target, v value) {
		t.study.Run.Records = model.Records(v.text)
	}, oneOf("observed", "none")),
}

var unwindKeys = []*Key{
	key("unwind.change", choice, "", "How the unwind changes rolls", func(t *target, v value) { t.line().Unwind.Change = model.KindOf(v.text, model.Unwinding) }, oneOf(model.KindNames(model.Unwinding)...), needed("always")),
	key("unwind.roll_length", varying, model.Length, "Length of web on a parent roll", func(t *target, v value) { t.line().Unwind.Roll.Length = v.dist }, above0, needed("unless roll_diameter is given"), like(`"2000 m"`)),
	key("unwind.roll_diameter", varying, model.Length, "Outer diameter of a parent roll", func(t *target, v value) {
		t.line().Unwind.Roll.Diameter, t.line().Unwind.Roll.ByDiameter = v.dist, true
	}, above0, needed("unless roll_length is given"), like(`"1000 mm"`)),
	key("unwind.core_diameter", quantity, model.Length, "Outer diameter of the core", func(t *target, v value) { t.line().Unwind.Roll.Core = v.num() }, above0, needed("with roll_diameter, and for spindle_torque"), like(`"76 mm"`)),
	key("unwind.residual", quantity, model.Length, "Web to be left on the core, set point", func(t *target, v value) { t.line().Unwind.Residual = v.num() }, def(`"0 m"`)),
	key("unwind.residual_least", quantity, model.Length, "Web left at which the roll stops if the next is still not armed", func(t *target, v value) { t.line().Unwind.ResidualLeast = v.num() }, def(`"0 m"`), usedBy("zero-speed")),
	key("unwind.residual_error", varying, model.Length, "Web really left minus web that the control believes is left", func(t *target, v value) { t.line().Unwind.ResidualError = v.dist }, signed, def(`"0 m"`)),
	key("unwind.call_ahead", quantity, model.Time, "How long before the expected stop the operator is called", func(t *target, v value) { t.line().Unwind.CallAhead = v.num() }, def(`"0 s"`), usedBy("manual")),
	key("unwind.change_time", varying, model.Time, "Time to change the roll, web at rest and operator there", func(t *target, v value) { t.line().Unwind.ChangeTime = v.dist }, needed("for manual"), usedBy("manual"), like(`"4 min"`)),
	key("unwind.load", varying, model.Time, "Time to load the next roll on the free spindle", func(t *target, v value) { t.line().Unwind.Load = v.dist }, needed("for zero-speed and flying"), usedBy("zero-speed, flying")),
	key("unwind.prepare", varying, model.Time, "Time to prepare its splice; the roll is then armed", func(t *target, v value) { t.line().Unwind.Prepare = v.dist }, needed("for zero-speed and flying, unless unwind.splice is given"), usedBy("zero-speed, flying")),
	key("unwind.dwell", varying, model.Time, "Web at rest at the splice table: cut, index, press, hold", func(t *target, v value) { t.line().Unwind.Dwell = v.dist }, needed("for zero-speed, unless unwind.splice is given"), usedBy("zero-speed"), like(`"8 s"`)),
	key("unwind.decel", quantity, model.Acceleration, "Ramp down of the unwind for a splice", func(t *target, v value) { t.line().Unwind.Decel = v.num() }, above0, needed("for zero-speed"), usedBy("zero-speed")),
	key("unwind.accel", quantity, model.Acceleration, "Ramp up of the unwind after a splice", func(t *target, v value) { t.line().Unwind.Accel = v.num() }, above0, needed("for zero-speed"), usedBy("zero-speed")),
	key("unwind.max_speed", quantity, model.Speed, "Speed while the storage refills; above line.speed", func(t *target, v value) { t.line().Unwind.MaxSpeed = v.num() }, above0, needed("for zero-speed"), usedBy("zero-speed"), like(`"200 m/min"`)),
	key("unwind.spindle_torque", quantity, model.Torque, "Spindle torque for ramps; limits them by the roll's inertia", func(t *target, v value) { t.line().Unwind.SpindleTorque = v.num() }, above0, usedBy("zero-speed")),
	key("unwind.splice_success", quantity, model.Share, "Splices that hold at the table", func(t *target, v value) { t.line().Unwind.SpliceSuccess = v.num() }, shareKey, def(`"100 %"`), usedBy("zero-speed, flying")),
	seen("unwind.splice_success_observed", "Splices that splice_success was counted in", func(t *target) *int { return &t.line().Unwind.SuccessObserved }, usedBy("zero-speed, flying")),
	key("unwind.splice_breaks", quantity, model.Share, "Splices that hold at the table and part in the process", func(t *target, v value) { t.line().Unwind.SpliceBreaks = v.num() }, shareKey, def(`"0 %"`)),
	seen("unwind.splice_breaks_observed", "Splices that splice_breaks was counted in", func(t *target) *int { return &t.line().Unwind.BreaksObserved }),
	key("unwind.recover", varying, model.Time, "Time to splice by hand, and to mend a run-out", func(t *target, v value) { t.line().Unwind.Recover = v.dist }, needed("for flying without late_change; for zero-speed when a splice can fail or a roll run out")),
	key("unwind.late_change", varying, model.Time, "Time to change at rest when the next roll is late, by whoever armed it; if not given, by hand in recover", func(t *target, v value) { t.line().Unwind.LateChange = v.dist }, usedBy("flying"), like(`"10 s"`)),
	key("unwind.splice_scrap", varying, model.Length, "Scrap after the splice", func(t *target, v value) { t.line().Unwind.SpliceScrap = v.dist }, def(`"0 m"`)),
	key("unwind.splice_in", flag, "", "Whether another web is spliced in early enough to be at the process when its order begins; else the web in path and storage is scrap", func(t *target, v value) { t.line().Unwind.SpliceIn = v.flag }, def("false"), usedBy("zero-speed, flying")),
	key("unwind.reuse", flag, "", "Whether a part roll that an order leaves is put on again for the next of its web; if not given, true with [orders]", func(t *target, v value) { t.line().Unwind.Reuse = v.flag }),
	key("unwind.tape_per_splice", quantity, model.Length, "Splicing tape used for a splice", func(t *target, v value) { t.line().Unwind.TapePerSplice = v.num() }, def(`"0 m"`)),
}

var rewindKeys = []*Key{
	key("rewind.change", choice, "", "How the rewind changes rolls; none: the process consumes the web", func(t *target, v value) { t.line().Rewind.Change = model.KindOf(v.text, model.Rewinding) }, oneOf(model.KindNames(model.Rewinding)...), needed("always")),
	key("rewind.roll_length", varying, model.Length, "Length of a finished roll", func(t *target, v value) { t.line().Rewind.Roll.Length = v.dist }, above0, needed("unless none, or trigger is splice"), usedBy("manual, zero-speed, flying")),
	key("rewind.roll_diameter", varying, model.Length, "Outer diameter of a finished roll", func(t *target, v value) {
		t.line().Rewind.Roll.Diameter, t.line().Rewind.Roll.ByDiameter = v.dist, true
	}, above0, usedBy("manual, zero-speed, flying"), like(`"400 mm"`)),
	key("rewind.core_diameter", quantity, model.Length, "Outer diameter of its core", func(t *target, v value) { t.line().Rewind.Roll.Core = v.num() }, above0, needed("with roll_diameter, and for rewind.build"), usedBy("manual, zero-speed, flying"), like(`"76 mm"`)),
	key("rewind.trigger", choice, "", "What ends a finished roll", func(t *target, v value) { t.line().Rewind.Trigger = model.Trigger(v.text) }, oneOf("length", "splice", "length or splice"), def(`"length"`), usedBy("manual, zero-speed, flying")),
	key("rewind.overrun", quantity, model.Length, "How much longer a roll may grow while the next core is not ready", func(t *target, v value) { t.line().Rewind.Overrun = v.num() }, def(`"0 m"`), usedBy("zero-speed, flying")),
	key("rewind.min_length", quantity, model.Length, "A shorter finished roll is waste", func(t *target, v value) { t.line().Rewind.MinLength = v.num() }, def(`"0 m"`), usedBy("manual, zero-speed, flying")),
	key("rewind.max_splices", integer, model.Number, "A finished roll with more splices is waste; if not given, no limit", func(t *target, v value) { t.line().Rewind.MaxSplices = int(v.integer) }, within(0, 1e6, "0 or above"), usedBy("manual, zero-speed, flying")),
	key("rewind.end_with_order", flag, "", "Whether the end of an order ends the finished roll; if not given, true with [orders]", func(t *target, v value) { t.line().Rewind.EndWithOrder = v.flag }, usedBy("manual, zero-speed, flying")),
	key("rewind.call_ahead", quantity, model.Time, "How long before the expected stop the operator is called", func(t *target, v value) { t.line().Rewind.CallAhead = v.num() }, def(`"0 s"`), usedBy("manual")),
	key("rewind.change_time", varying, model.Time, "Time to change the roll, web at rest and operator there", func(t *target, v value) { t.line().Rewind.ChangeTime = v.dist }, needed("for manual"), usedBy("manual")),
	key("rewind.doff", varying, model.Time, "Time to take off the full roll", func(t *target, v value) { t.line().Rewind.Doff = v.dist }, needed("for zero-speed and flying"), usedBy("zero-speed, flying")),
	key("rewind.load_core", varying, model.Time, "Time to load and tape an empty core", func(t *target, v value) { t.line().Rewind.LoadCore = v.dist }, needed("for zero-speed and flying"), usedBy("zero-speed, flying")),
	key("rewind.pack", varying, model.Time, "Time to pack a finished roll, a separate task", func(t *target, v value) { t.line().Rewind.Pack = v.dist }, usedBy("manual, zero-speed, flying")),
	key("rewind.dwell", varying, model.Time, "Web at rest at the turret: cut, index, attach", func(t *target, v value) { t.line().Rewind.Dwell = v.dist }, needed("for zero-speed"), usedBy("zero-speed"), like(`"8 s"`)),
	key("rewind.decel", quantity, model.Acceleration, "Ramp down of the rewind for a transfer", func(t *target, v value) { t.line().Rewind.Decel = v.num() }, above0, needed("for zero-speed"), usedBy("zero-speed")),
	key("rewind.accel", quantity, model.Acceleration, "Ramp up of the rewind after a transfer", func(t *target, v value) { t.line().Rewind.Accel = v.num() }, above0, needed("for zero-speed"), usedBy("zero-speed")),
	key("rewind.max_speed", quantity, model.Speed, "Speed while the storage is drawn down; above line.speed", func(t *target, v value) { t.line().Rewind.MaxSpeed = v.num() }, above0, needed("for zero-speed"), usedBy("zero-speed"), like(`"200 m/min"`)),
	key("rewind.transfer_success", quantity, model.Share, "Transfers that hold", func(t *target, v value) { t.line().Rewind.TransferSuccess = v.num() }, shareKey, def(`"100 %"`), usedBy("zero-speed, flying")),
	seen("rewind.transfer_success_observed", "Transfers that transfer_success was counted in", func(t *target) *int { return &t.line().Rewind.SuccessObserved }, usedBy("zero-speed, flying")),
	key("rewind.recover", varying, model.Time, "Time to transfer by hand", func(t *target, v value) { t.line().Rewind.Recover = v.dist }, needed("for flying without late_change; for zero-speed when a transfer can fail"), usedBy("zero-speed, flying")),
	key("rewind.late_change", varying, model.Time, "Time to change at rest when the next core is late, by whoever loaded it; if not given, by hand in recover", func(t *target, v value) { t.line().Rewind.LateChange = v.dist }, usedBy("flying"), like(`"10 s"`)),
	key("rewind.transfer_scrap", varying, model.Length, "Scrap, the first metres of the new roll", func(t *target, v value) { t.line().Rewind.TransferScrap = v.dist }, def(`"0 m"`), usedBy("manual, zero-speed, flying")),
}
