package words

import (
	"strconv"
	"strings"

	"rollchange/model/legible"
)

// keyWords are the keys of a scenario in the words of the trade.
var keyWords = map[string]string{
	"report.customer": "customer", "report.author": "author of the report", "report.date": "date of the report", "report.question": "question",
	"title": "title", "units": "units", "economics.currency": "currency", "crew.duty[].name": "name of the work", "stop[].name": "name of the stop", "alternative[].name": "name of the alternative",

	"web.width": "web width", "web.caliper": "caliper", "web.grammage": "grammage", "web.register_repeat": "register repeat", "web.stock": "name of the web in stock",

	"line.speed": "line speed", "line.rated_speed": "rated line speed", "line.accel": "ramp up of the line", "line.decel": "ramp down of the line",
	"line.path": "fixed web path", "line.stop_scrap": "scrap of a stop of the web", "line.restart_scrap": "scrap of a restart",

	"run.horizon": "simulated time", "run.replications": "replications", "run.seed": "seed", "run.confidence": "confidence", "run.warm_up": "warm-up", "run.controls": "known means of the draws", "run.records": "what the records leave open",

	"unwind.change": "change of parent rolls", "unwind.roll_length": "parent roll length", "unwind.roll_diameter": "parent roll diameter",
	"unwind.core_diameter": "core diameter of the parent roll", "unwind.residual": "residual on the core", "unwind.residual_least": "least residual on the core",
	"unwind.residual_error": "error of the residual", "unwind.call_ahead": "call-ahead of a parent roll change", "unwind.change_time": "parent roll change",
	"unwind.load": "loading a parent roll", "unwind.prepare": "preparing a splice", "unwind.dwell": "splice dwell",
	"unwind.decel": "ramp down of the unwind", "unwind.accel": "ramp up of the unwind", "unwind.max_speed": "top speed of the unwind",
	"unwind.spindle_torque": "spindle torque of the unwind", "unwind.splice_success": "splices that hold at the table",
	"unwind.splice_success_observed": "splices observed for those that hold", "unwind.splice_breaks_observed": "splices observed for those that part",
	"rewind.transfer_success_observed": "transfers observed for those that hold", "web_breaks.observed": "web breaks observed",
	"unwind.splice_breaks": "splices that part in the process", "unwind.recover": "splice by hand", "unwind.late_change": "change of a late parent roll",
	"unwind.splice_scrap": "scrap of a splice", "unwind.tape_per_splice": "splicing tape of a splice", "unwind.splice_in": "early splice of another web", "unwind.reuse": "use of part rolls",

	"unwind.splice.method": "kind of splice", "unwind.splice.tapes": "strips of tape of a splice", "unwind.splice.in_register": "splices in register",
	"unwind.splice.lock": "web until print is in register again", "unwind.splice.tape_thickness": "thickness of splicing tape",
	"unwind.splice.trim_time": "squaring the leading edge of a roll", "unwind.splice.tape_time": "applying a strip of tape",
	"rewind.build.seam_width": "seam width", "rewind.build.seam_thickness": "extra thickness of the seam", "rewind.build.ridge": "allowed ridge of the seam", "rewind.build.oscillation": "oscillation of the rewind",
	"unwind.splice.press_time": "cutting and pressing a splice", "unwind.splice.align_time": "bringing print marks together",

	"rewind.change": "change of finished rolls", "rewind.roll_length": "finished roll length", "rewind.roll_diameter": "finished roll diameter",
	"rewind.core_diameter": "core diameter of the finished roll", "rewind.trigger": "what ends a finished roll", "rewind.overrun": "overrun of a finished roll",
	"rewind.min_length": "shortest good finished roll", "rewind.max_splices": "most splices in a finished roll", "rewind.call_ahead": "call-ahead of a finished roll change",
	"rewind.change_time": "finished roll change", "rewind.doff": "doffing", "rewind.load_core": "loading a core", "rewind.pack": "packing a finished roll",
	"rewind.dwell": "transfer dwell", "rewind.decel": "ramp down of the rewind", "rewind.accel": "ramp up of the rewind", "rewind.max_speed": "top speed of the rewind",
	"rewind.spindle_torque": "spindle torque of the rewind", "rewind.transfer_success": "transfers that hold", "rewind.recover": "transfer by hand",
	"rewind.lanes": "lanes", "rewind.trim": "edge trim", "rewind.splice_at": "splice that ends a finished roll", "rewind.on_late": "action on a late core", "rewind.late_speed": "line speed for a late core", "rewind.late_change": "change of a late finished roll", "rewind.transfer_scrap": "scrap of a transfer", "rewind.end_with_order": "end of a finished roll with its order",

	"storage.capacity": "storage", "storage.strands": "storage strands", "storage.travel": "carriage travel of the storage", "storage.run_level": "storage run level",
	"storage.restart_level": "storage restart level", "storage.reserve": "storage reserve", "storage.on_low": "storage on low", "storage.slow_level": "storage slow level",
	"storage.slow_speed": "storage slow speed", "storage.roller_drag": "idler drag of the storage",

	"crew.operators": "operators", "crew.lines": "lines that share the crew", "crew.reaction": "reaction of the operators", "crew.shift": "shift",
	"crew.duty[].every": "time from call to call", "crew.duty[].per_roll": "calls for a finished roll", "crew.duty[].takes": "time of the work",
	"crew.first_day": "day of the week at the start", "crew.group[].name": "name of the group", "crew.group[].operators": "operators", "crew.group[].tasks": "tasks of the group",
	"crew.group[].shifts": "shifts of the group", "crew.group[].days": "days of the group",
	"crew.break[].at": "start, after the start of the shift", "crew.break[].for": "length of the break", "crew.break[].cover": "cover of the break",

	"web_breaks.mean_length": "web between breaks", "web_breaks.at_speed": "speed at which web breaks were counted", "web_breaks.exponent": "speed exponent of web breaks",
	"web_breaks.repair": "repair of a web break", "web_breaks.scrap": "scrap of a web break",
	"stop[].every": "time between stops", "stop[].basis": "time basis", "stop[].repair": "repair", "stop[].scrap": "scrap of a stop", "stop[].needs_operator": "needs an operator",
	"jobs.length": "order length", "jobs.changeover": "changeover", "jobs.scrap": "scrap of a changeover", "jobs.new_parent_roll": "new parent roll for an order",
	"product[].name": "name of the product", "product[].share": "share of the orders", "product[].order_length": "order length",
	"orders.file": "list of orders", "orders.list": "orders of the list", "orders.sheet": "sheet of the list of orders", "orders.begin": "start of the list of orders", "orders.columns": "columns of the list of orders", "orders.dates": "dates of the list of orders", "orders.decimal": "decimal mark of the list of orders", "orders.counts": "what the length of an order counts",
	"orders.sequence": "sequence of the orders", "orders.repeat": "repeat of the list of orders",
	"changeover.time": "changeover between orders", "changeover.scrap": "scrap between orders", "changeover.operators": "operators of a changeover",
	"changeover.between[].from": "product before", "changeover.between[].to": "product after", "changeover.between[].time": "changeover of the pair", "changeover.between[].scrap": "scrap of that changeover",
	"changeover.when[].changes": "what differs", "changeover.when[].adds": "time that the difference adds",

	// As the savings case calls them.
	"economics.hours_per_year": "planned hours a year", "economics.demand": "good web that can be sold a year", "economics.price": "contribution of good web",
	"economics.material_cost": "cost of web", "economics.disposal_cost": "disposal of waste", "economics.crew_cost": "cost of an operator hour",
	"economics.line_cost": "cost of a line hour", "economics.tape_cost": "splicing tape", "economics.discount_rate": "discount rate a year", "economics.life": "life",
	"economics.tax_rate": "tax on profit", "economics.depreciation_years": "years of depreciation",
	"economics.waste_income": "income from waste", "economics.crew_hours_saved": "freed operator hours that leave", "first.crew_hours_saved": "freed operator hours that leave with the first",
	"economics.price_change": "change of prices a year", "economics.output_price_change": "change of the contribution a year", "economics.material_price_change": "change of web and tape prices a year", "economics.wage_change": "change of wages a year",
	"first.start_up_cost": "start-up cost of the first", "first.installation_time": "installation of the first", "alternative.start_up_cost": "start-up cost", "alternative.installation_time": "installation",
	"alternative[].start_up_cost": "start-up cost", "alternative[].installation_time": "installation", "alternative[].investment_by_year": "investment by year", "alternative[].start_up_by_year": "start-up cost by year", "alternative[].learning": "learning by year",
	"first.hours_per_year": "planned hours a year of the first", "first.investment": "investment of the first", "first.maintenance": "maintenance of the first", "first.salvage": "salvage of the first",
	"alternative.investment": "investment", "alternative.maintenance": "maintenance", "alternative.salvage": "salvage",
	"alternative[].investment": "investment", "alternative[].maintenance": "maintenance", "alternative[].salvage": "salvage",
}

// ChangedMark is the comment above a value of a scenario that was changed on a page, with
// what was there before; "" where nothing was.
func ChangedMark(path, was string) string {
	if was == "" {
		return "# changed: " + path + " was not given"
	}
	return "# changed: " + path + " was " + was
}

// lawWords are the parts of a law.
var lawWords = map[string]string{"mean": "mean", "sd": "standard deviation", "min": "least", "max": "most", "mode": "most likely", "shape": "shape", "scale": "scale", "least": "least value"}

// KeyOf is KeyWords of a key that belongs to a stop or a duty of a name, with
// the name in the place of its number: of stop[0].repair "plate cleaning: repair".
func KeyOf(key, name string) string {
	from, to := strings.IndexByte(key, '['), strings.IndexByte(key, ']')
	if name == "" || from < 0 || to < from {
		return KeyWords(key)
	}
	return KeyWords(key[:from+1] + name + key[to:])
}

// KeyWords is what a key of a scenario is called for people: "line speed",
// "splice dwell, mean", "plate cleaning: repair". What is not known is the key.
func KeyWords(key string) string {
	if w, ok := keyWords[key]; ok {
		return w
	}
	for _, end := range []string{"unwind", "rewind"} {
		if of, ok := strings.CutPrefix(key, end+".storage."); ok {
			if w, ok := keyWords["storage."+of]; ok {
				return strings.Replace(w, "storage", end+" storage", 1)
			}
		}
	}
	if from, to := strings.IndexByte(key, '['), strings.LastIndex(key, "]."); from > 0 && to > from {
		name := strings.Trim(key[from+1:to], `"`)
		if n, err := strconv.Atoi(name); err == nil { // no name is known: its place in the file
			name = strings.TrimPrefix(key[:from], "crew.") + " " + strconv.Itoa(n+1)
		}
		if w, ok := keyWords[key[:from]+"[]"+key[to+1:]]; ok && name != "" {
			return legible.Line(name) + ": " + w
		} else if whole := KeyWords(key[to+2:]); (key[:from] == "product" || key[:from] == "alternative") && whole != key[to+2:] { // any key of the line
			return legible.Line(name) + ": " + whole
		}
	}
	if i := strings.LastIndexByte(key, '.'); i > 0 {
		if part, ok := lawWords[key[i+1:]]; ok {
			if whole := KeyWords(key[:i]); whole != key[:i] {
				return whole + ", " + part
			}
		}
	}
	return legible.Line(key)
}

// TableWords is a table of a scenario in words: "unwind storage", "stop 1".
func TableWords(table string) string {
	if name, rest, ok := strings.Cut(table, "["); ok {
		number, _, _ := strings.Cut(rest, "]")
		if n, err := strconv.Atoi(number); err == nil {
			return strings.TrimPrefix(name, "crew.") + " " + strconv.Itoa(n+1)
		}
	}
	return strings.NewReplacer(".", " ", "_", " ").Replace(legible.Line(table))
}

// Keyless is a text with every key of a scenario in it put into words.
func Keyless(text string) string {
	inKey := func(c byte) bool {
		return c == '.' || c == '_' || c == '[' || c == ']' || c >= 'a' && c <= 'z' || c >= '0' && c <= '9'
	}
	var b strings.Builder
	for i := 0; i < len(text); {
		j := i
		for j < len(text) && inKey(text[j]) {
			j++
		}
		word := strings.TrimRight(text[i:j], ".") // the end of a sentence is no part of a key
		if strings.ContainsAny(word, "._") {
			b.WriteString(KeyWords(word))
		} else {
			b.WriteString(word)
		}
		for i += len(word); i < len(text) && (i < j || !inKey(text[i])); i++ {
			b.WriteByte(text[i])
		}
	}
	return b.String()
}
