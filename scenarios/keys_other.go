package scenarios

import (
	"math"

	"rollchange/model"
)

// storageKeys are the keys of the storage at one end of the line.
func storageKeys(end string) []*Key {
	of := func(t *target) *model.Storage {
		if end == "unwind" {
			return &t.line().Unwind.Storage
		}
		return &t.line().Rewind.Storage
	}
	run, restart, low := `"100 %"`, "half of the run level", "falls below"
	if end == "rewind" {
		run, restart, low = `"0 %"`, "half way between run level and capacity", "rises above"
	}
	p := end + ".storage."
	lvl := func(name, meaning string, field func(*model.Storage) *float64, options ...func(*Key)) *Key {
		return key(p+name, level, model.Length, meaning, func(t *target, v value) {
			*field(of(t)) = v.num()
			if v.share {
				t.share[p+name] = v.num()
			}
		}, append(options, usedBy("zero-speed"))...)
	}
	return []*Key{
		key(p+"capacity", quantity, model.Length, "Web that the storage (festoon) can hold", func(t *target, v value) { of(t).Capacity = v.num() }, above0, needed("for zero-speed, unless strands and travel are given"), usedBy("zero-speed"), like(`"60 m"`)),
		key(p+"strands", integer, model.Number, "Strands of web in the storage", func(t *target, v value) { of(t).Strands = int(v.integer) }, within(1, 1000, "1 to 1000"), usedBy("zero-speed")),
		key(p+"travel", quantity, model.Length, "Carriage travel; capacity is strands times travel", func(t *target, v value) { of(t).Travel = v.num() }, above0, usedBy("zero-speed"), like(`"4 m"`)),
		lvl("run_level", "Content while the line runs undisturbed", func(s *model.Storage) *float64 { return &s.RunLevel }, def(run)),
		lvl("restart_level", "Content at which a line that the interlock stopped may restart; if not given, "+restart, func(s *model.Storage) *float64 { return &s.RestartLevel }, like(`"50 %"`)),
		lvl("reserve", "Content (or room) never to be used", func(s *model.Storage) *float64 { return &s.Reserve }, def(`"0 m"`)),
		key(p+"on_low", choice, "", "What the process does before the interlock stops it", func(t *target, v value) { of(t).Slow = v.text == "slow" }, oneOf("stop", "slow"), def(`"stop"`), usedBy("zero-speed")),
		lvl("slow_level", "With on_low = \"slow\": the process slows when the content "+low+" this", func(s *model.Storage) *float64 { return &s.SlowLevel }, needed(`with on_low = "slow"`), like(`"50 %"`)),
		key(p+"slow_speed", quantity, model.Speed, "Speed to which it slows", func(t *target, v value) { of(t).SlowSpeed = v.num() }, above0, needed(`with on_low = "slow"`), usedBy("zero-speed"), like(`"60 m/min"`)),
		key(p+"roller_drag", quantity, model.Force, "Drag of one idler, for the tension added by the strands", func(t *target, v value) { of(t).RollerDrag = v.num() }, usedBy("zero-speed")),
	}
}

var crewKeys = []*Key{
	key("crew.operators", integer, model.Number, "People who share all tasks; with groups their sum, which need not be given", func(t *target, v value) { t.line().Crew.Operators = int(v.integer) }, within(0, 1000, "0 to 1000"), def("1")),
	key("crew.lines", integer, model.Number, "Identical lines that share the crew", func(t *target, v value) { t.line().Crew.Lines = int(v.integer) }, within(1, 100, "1 to 100"), def("1")),
	key("crew.reaction", varying, model.Time, "From the call until the operator is at the station: notice, walk", func(t *target, v value) { t.line().Crew.Reaction = v.dist }, def(`"0 s"`)),
	key("crew.shift", quantity, model.Time, "Length of a shift; breaks repeat in each", func(t *target, v value) { t.line().Crew.Shift = v.num() }, above0, def(`"8 h"`)),
	key("crew.duty[].name", text, "", "Name of other work for the crew", func(t *target, v value) { t.duty.Name = v.text }, needed("always")),
	key("crew.duty[].every", varying, model.Time, "Time from call to call", func(t *target, v value) { t.duty.Every = v.dist }, above0, needed("unless per_roll is given"), like(`"45 min"`)),
	key("crew.duty[].per_roll", perRoll, model.Number, "One call per finished roll, or per this many", func(t *target, v value) { t.duty.PerRoll = int(v.integer) }, within(1, 1e6, "true, or 1 or above"), needed("unless every is given")),
	key("crew.duty[].takes", varying, model.Time, "Time that the work takes", func(t *target, v value) { t.duty.Takes = v.dist }, needed("always"), like(`"5 min"`)),
	key("crew.break[].at", quantity, model.Time, "Start of the break, from the start of the shift", func(t *target, v value) { t.pause.At = v.num() }, needed("always"), like(`"4 h"`)),
	key("crew.break[].for", quantity, model.Time, "Length of the break", func(t *target, v value) { t.pause.For = v.num() }, above0, needed("always"), like(`"30 min"`)),
	key("crew.break[].cover", flag, "", "true: the line runs on with one operator fewer, one of each group; false: it stops", func(t *target, v value) { t.pause.Cover = v.flag }, def("false")),
}

func breaks(t *target) *model.WebBreaks {
	if t.line().WebBreaks == nil {
		t.line().WebBreaks = &model.WebBreaks{MeanLength: math.Inf(1)}
	}
	return t.line().WebBreaks
}

func jobs(t *target) *model.Jobs {
	if t.line().Jobs == nil {
		t.line().Jobs = &model.Jobs{}
	}
	return t.line().Jobs
}

var otherKeys = []*Key{
	key("web_breaks.mean_length", quantity, model.Length, "Mean web between breaks at at_speed; if not given, the web never breaks by itself", func(t *target, v value) { breaks(t).MeanLength = v.num() }, above0, like(`"100 km"`)),
	seen("web_breaks.observed", "Web breaks that mean_length comes from", func(t *target) *int { return &breaks(t).Observed }),
	key("web_breaks.at_speed", quantity, model.Speed, "Speed at which mean_length holds; if not given, line.speed", func(t *target, v value) { breaks(t).AtSpeed = v.num() }, above0),
	key("web_breaks.exponent", number, model.Number, "Breaks per metre grow with (speed/at_speed) to this power", func(t *target, v value) { breaks(t).Exponent = v.num() }, within(0, 20, "0 to 20")),
	key("web_breaks.repair", varying, model.Time, "Time to mend a web break", func(t *target, v value) { breaks(t).Repair = v.dist }, needed("when the web, a splice or a flying change can break"), like(`"10 min"`)),
	key("web_breaks.scrap", varying, model.Length, "Scrap after the break", func(t *target, v value) { breaks(t).Scrap = v.dist }, like(`"20 m"`)),

	key("stop[].name", text, "", "Name of a cause of stops", func(t *target, v value) { t.stop.Name = v.text }, needed("always")),
	key("stop[].every", varying, model.Time, "Time between stops", func(t *target, v value) { t.stop.Every = v.dist }, above0, needed("always"), like(`"4 h"`)),
	key("stop[].basis", choice, "", "Whether every counts running time or calendar time", func(t *target, v value) { t.stop.Calendar = v.text == "calendar" }, oneOf("running", "calendar"), def(`"running"`)),
	key("stop[].repair", varying, model.Time, "Time to fix it, at rest", func(t *target, v value) { t.stop.Repair = v.dist }, needed("always"), like(`"5 min"`)),
	key("stop[].needs_operator", flag, "", "Whether an operator does it", func(t *target, v value) { t.stop.NeedsOperator = v.flag }, def("true")),
	key("stop[].scrap", varying, model.Length, "Scrap after the stop", func(t *target, v value) { t.stop.Scrap = v.dist }, def(`"0 m"`)),

	key("jobs.length", varying, model.Length, "Length of an order, as processed", func(t *target, v value) { jobs(t).Length = v.dist }, above0, needed("with any key of jobs"), like(`"3000 m"`)),
	key("jobs.changeover", varying, model.Time, "Changeover between orders, one operator", func(t *target, v value) { jobs(t).Changeover = v.dist }, needed("with any key of jobs"), like(`"20 min"`)),
	key("jobs.scrap", varying, model.Length, "Scrap of a changeover", func(t *target, v value) { jobs(t).Scrap = v.dist }, like(`"50 m"`)),
	key("jobs.new_parent_roll", flag, "", "Each order begins with a new parent roll; what is left of the old one goes back to stock", func(t *target, v value) { jobs(t).NewParentRoll = v.flag }),
}

var sweepKeys = []*Key{
	key("sweep[].name", text, "", "Name of a sweep, for sweep --sweep NAME", func(t *target, v value) { t.sweep.Name = v.text }, needed("always")),
	key("sweep[].vary", text, "", "What is varied: KEY=FROM..TO/STEPS or KEY=A,B,C", func(t *target, v value) { t.sweep.Vary = v.text }, needed("always"), like(`"line.speed=100 m/min..250 m/min/7"`)),
	key("sweep[].against", text, "", "A second key that is varied, against the first", func(t *target, v value) { t.sweep.Against = v.text }),
	key("sweep[].log", flag, "", "Steps of equal ratio", func(t *target, v value) { t.sweep.Log = v.flag }, def("false")),
}

var liveKeys = []*Key{
	key("live[].vary", text, "", "What can be moved on the page that live writes: KEY=FROM..TO, or a key alone", func(t *target, v value) { *t.live = v.text }, needed("always"), like(`"line.speed=100 m/min..250 m/min"`)),
}

func econ(name string, k kind, dim model.Dimension, meaning string, field func(*model.Economics) *model.Dist, options ...func(*Key)) *Key {
	return key("economics."+name, k, dim, meaning, func(t *target, v value) { *field(&t.line().Economics) = v.dist }, options...)
}

var economicKeys = []*Key{
	key("economics.currency", text, "", "Name of the currency", func(t *target, v value) { t.line().Economics.Currency = v.text }, def(`"EUR"`)),
	econ("hours_per_year", varying, model.Time, "Planned hours a year", func(e *model.Economics) *model.Dist { return &e.HoursPerYear }, above0, like(`"6000 h"`)),
	econ("demand", varying, model.Length, "Good web that can be sold a year; if not given, all that is made", func(e *model.Economics) *model.Dist { return &e.Demand }, above0, like(`"20000 km"`)),
	econ("price", vnumber, model.MoneyPerArea, "Contribution per m2 of good web: its price less the costs of making it, waste apart", func(e *model.Economics) *model.Dist { return &e.Price }),
	econ("material_cost", vnumber, model.MoneyPerArea, "Cost per m2 of web", func(e *model.Economics) *model.Dist { return &e.MaterialCost }),
	econ("disposal_cost", vnumber, model.MoneyPerMass, "Cost per kg of waste", func(e *model.Economics) *model.Dist { return &e.DisposalCost }),
	econ("waste_income", vnumber, model.MoneyPerMass, "What a kg of waste is sold for", func(e *model.Economics) *model.Dist { return &e.WasteIncome }),
	econ("crew_cost", vnumber, model.MoneyPerHour, "Cost per operator hour", func(e *model.Economics) *model.Dist { return &e.CrewCost }),
	econ("crew_hours_saved", varying, model.Share, "Share of the freed operator hours that is really no longer paid; if not given, all", func(e *model.Economics) *model.Dist { return &e.CrewHoursSaved }, shareKey, like(`"60 %"`)),
	econ("line_cost", vnumber, model.MoneyPerHour, "Cost per line hour", func(e *model.Economics) *model.Dist { return &e.LineCost }),
	econ("tape_cost", vnumber, model.MoneyPerMetre, "Cost per m of splicing tape", func(e *model.Economics) *model.Dist { return &e.TapeCost }),
	econ("discount_rate", varying, model.Share, "Discount rate a year", func(e *model.Economics) *model.Dist { return &e.DiscountRate }, shareKey),
	econ("life", vnumber, model.Years, "Years of use of the equipment", func(e *model.Economics) *model.Dist { return &e.Life }, above0),
	econ("tax_rate", varying, model.Share, "Tax on profit", func(e *model.Economics) *model.Dist { return &e.TaxRate }, shareKey, like(`"25 %"`)),
	econ("depreciation_years", vnumber, model.Years, "Years of straight-line depreciation", func(e *model.Economics) *model.Dist { return &e.DepreciationYears }, above0),
	econ("price_change", varying, model.Share, "Change of all prices and costs a year, beyond inflation where discount_rate is without it", func(e *model.Economics) *model.Dist { return &e.PriceChange }, yearly, like(`"1 %"`)),
	econ("output_price_change", varying, model.Share, "Change of price, the contribution, a year; if not given, price_change", func(e *model.Economics) *model.Dist { return &e.OutputPriceChange }, yearly, like(`"-1 %"`)),
	econ("material_price_change", varying, model.Share, "Change of material_cost, tape_cost and waste_income a year; if not given, price_change", func(e *model.Economics) *model.Dist { return &e.MaterialPriceChange }, yearly, like(`"2 %"`)),
	econ("wage_change", varying, model.Share, "Change of crew_cost a year; if not given, price_change", func(e *model.Economics) *model.Dist { return &e.WageChange }, yearly, like(`"1.5 %"`)),

	key("alternative[].name", text, "", "Name of an alternative; the others are compared with the first", func(t *target, v value) { t.alt.Name = v.text }, needed("always")),
	key("alternative[].investment", vnumber, model.Money, "Investment in all", func(t *target, v value) { t.alt.Investment = v.dist }),
	spent("alternative[].investment_by_year", "What is invested in year 0, 1, …: amounts in place of investment, or shares of it; if not given, all in year 0", func(a *model.Alternative) *[]float64 { return &a.InvestmentByYear }, like(`["60 %", "40 %"]`)),
	key("alternative[].start_up_cost", vnumber, model.Money, "Cost of starting up, an expense that is not depreciated: training, trials, first waste", func(t *target, v value) { t.alt.StartUp = v.dist }),
	spent("alternative[].start_up_by_year", "What starting up costs in year 0, 1, …: amounts in place of start_up_cost, or shares of it; if not given, all in year 0", func(a *model.Alternative) *[]float64 { return &a.StartUpByYear }, like("[20000, 5000]")),
	key("alternative[].installation_time", varying, model.Time, "Planned time in year 0 for which the present line stands for the installation", func(t *target, v value) { t.alt.Installation = v.dist }, like(`"120 h"`)),
	key("alternative[].learning", shares, model.Share, "Share of the saving that is reached in year 1, 2, …, then all; if not given, all from year 1", func(t *target, v value) { t.alt.Learning = v.numbers }, shareKey, like(`["60 %", "90 %"]`)),
	key("alternative[].maintenance", vnumber, model.MoneyPerYear, "Maintenance a year", func(t *target, v value) { t.alt.Maintenance = v.dist }),
	key("alternative[].salvage", vnumber, model.Money, "Value at the end of the life", func(t *target, v value) { t.alt.Salvage = v.dist }),
}
