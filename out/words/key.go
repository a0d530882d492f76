package words

import (
	"fmt"
	"strconv"
	"strings"

	"rollchange/model/legible"
)

// keyLabels are the keys of a scenario in words: a manager reads labels, the person
// who writes the scenario reads keys.
var keyLabels = map[string]string{
	"title": "title", "units": "units",
	"web.width": "width of the web", "web.caliper": "caliper of the web", "web.grammage": "grammage of the web", "web.register_repeat": "register repeat",
	"line.speed": "line speed", "line.rated_speed": "rated speed of the line", "line.accel": "acceleration of the line", "line.decel": "deceleration of the line",
	"line.path": "fixed web path", "line.stop_scrap": "scrap at a stop", "line.restart_scrap": "scrap at a restart",
	"run.horizon": "simulated time", "run.replications": "replications", "run.seed": "random seed", "run.confidence": "confidence", "run.warm_up": "warm-up",

	"unwind.change": "roll change at the unwind", "unwind.roll_length": "length of a parent roll", "unwind.roll_diameter": "diameter of a parent roll", "unwind.core_diameter": "core diameter of a parent roll",
	"unwind.residual": "residual on the core", "unwind.residual_least": "least residual on the core", "unwind.residual_error": "error of the residual", "unwind.call_ahead": "early call to the unwind",
	"unwind.change_time": "time of a roll change at the unwind", "unwind.load": "time to load the next roll", "unwind.prepare": "time to prepare the splice", "unwind.dwell": "splice dwell",
	"unwind.decel": "deceleration of the unwind", "unwind.accel": "acceleration of the unwind", "unwind.max_speed": "top speed of the unwind", "unwind.spindle_torque": "spindle torque of the unwind",
	"unwind.splice_success": "splices that hold at the table", "unwind.splice_breaks": "splices that part in the process", "unwind.recover": "time to splice by hand", "unwind.late_change": "time of a late change at the unwind",
	"unwind.splice_scrap": "scrap at a splice", "unwind.tape_per_splice": "tape for a splice",

	"rewind.change": "roll change at the rewind", "rewind.roll_length": "length of a finished roll", "rewind.roll_diameter": "diameter of a finished roll", "rewind.core_diameter": "core diameter of a finished roll",
	"rewind.trigger": "trigger of a transfer", "rewind.overrun": "overrun of a finished roll", "rewind.min_length": "least length of a finished roll", "rewind.max_splices": "most splices in a finished roll",
	"rewind.call_ahead": "early call to the rewind", "rewind.change_time": "time of a roll change at the rewind", "rewind.doff": "time to doff", "rewind.load_core": "time to load a core", "rewind.pack": "time to pack a roll",
	"rewind.dwell": "transfer dwell", "rewind.decel": "deceleration of the rewind", "rewind.accel": "acceleration of the rewind", "rewind.max_speed": "top speed of the rewind",
	"rewind.transfer_success": "transfers that hold", "rewind.recover": "time to transfer by hand", "rewind.late_change": "time of a late change at the rewind", "rewind.transfer_scrap": "scrap at a transfer",

	"crew.operators": "operators", "crew.lines": "lines that share the crew", "crew.reaction": "reaction time of the crew", "crew.shift": "length of a shift",
	"crew.duty[].name": "name", "crew.duty[].every": "time between calls", "crew.duty[].per_roll": "finished rolls a call", "crew.duty[].takes": "time of the work",
	"crew.break[].at": "start in the shift", "crew.break[].for": "length", "crew.break[].cover": "covered by others",
	"web_breaks.mean_length": "web between breaks", "web_breaks.at_speed": "speed of the break rate", "web_breaks.exponent": "growth of web breaks with speed", "web_breaks.repair": "time to mend a web break", "web_breaks.scrap": "scrap at a web break",
	"stop[].name": "name", "stop[].every": "time between stops", "stop[].basis": "counted by", "stop[].repair": "length of the stop", "stop[].needs_operator": "needs an operator", "stop[].scrap": "scrap",
	"jobs.length": "length of an order", "jobs.changeover": "changeover time", "jobs.scrap": "scrap at a changeover", "jobs.new_parent_roll": "new parent roll for each order",
	"sweep[].name": "name", "sweep[].vary": "varied", "sweep[].against": "varied against it", "sweep[].log": "steps of equal ratio",

	"economics.currency": "currency", "economics.hours_per_year": "planned hours a year", "economics.demand": "good web that can be sold a year", "economics.price": "contribution of good web",
	"economics.material_cost": "cost of web", "economics.disposal_cost": "disposal of waste", "economics.crew_cost": "cost of an operator hour", "economics.line_cost": "cost of a line hour", "economics.tape_cost": "cost of splicing tape",
	"economics.discount_rate": "discount rate a year", "economics.life": "life", "economics.tax_rate": "tax on profit", "economics.depreciation_years": "years of depreciation",
	"alternative[].name": "name", "alternative[].investment": "investment", "alternative[].maintenance": "maintenance", "alternative[].salvage": "salvage",
	"alternative.investment": "investment", "alternative.maintenance": "maintenance", "alternative.salvage": "salvage", // as savings call them
}

// storageLabels are the keys of a storage; "unwind" or "rewind" stands before them.
var storageLabels = map[string]string{
	"capacity": "storage", "strands": "storage strands", "travel": "carriage travel", "run_level": "storage run level", "restart_level": "storage restart level", "reserve": "storage reserve",
	"on_low": "reaction to a low storage", "slow_level": "storage slow level", "slow_speed": "speed at a low storage", "roller_drag": "idler drag in the storage",
}

// listWords are the tables that stand in a scenario more than once; their entries are
// counted from 1 where they have no name.
var listWords = map[string]string{"crew.duty[]": "duty", "crew.break[]": "break", "stop[]": "stop", "sweep[]": "sweep", "alternative[]": "alternative"}

// KeyLabel is a key in words: "line speed"; of an entry of a list with its name, or its
// number where none is known: "plate cleaning: time between stops", "stop 1: scrap". A
// key that is not one of a scenario stays as it is.
func KeyLabel(key, of string) string {
	for _, part := range []string{"mean", "sd"} {
		if whole, ok := strings.CutSuffix(key, "."+part); ok {
			if label := KeyLabel(whole, of); label != whole {
				return map[string]string{"mean": "mean ", "sd": "sd of "}[part] + label
			}
		}
	}
	plain, number := key, ""
	if open := strings.IndexByte(key, '['); open >= 0 {
		if end := strings.IndexByte(key, ']'); end > open {
			plain, number = key[:open]+"[]"+key[end+1:], key[open+1:end]
		}
	}
	label, ok := keyLabels[plain]
	if station, inside, is := strings.Cut(plain, ".storage."); is && storageLabels[inside] != "" && (station == "unwind" || station == "rewind") {
		label, ok = station+" "+storageLabels[inside], true
	}
	if !ok {
		return legible.Line(key)
	}
	list, within, _ := strings.Cut(plain, "[].")
	switch n, err := strconv.Atoi(number); {
	case within == "":
	case of != "":
		label = legible.Line(of) + ": " + label
	case err == nil:
		label = fmt.Sprintf("%s %d: %s", listWords[list+"[]"], n+1, label)
	}
	return label
}

// TableLabel is a table of a scenario in words: "unwind storage", "stop 1".
func TableLabel(table string) string {
	if name, rest, ok := strings.Cut(table, "["); ok {
		number, _, _ := strings.Cut(rest, "]")
		if n, err := strconv.Atoi(number); err == nil && listWords[name+"[]"] != "" {
			return fmt.Sprintf("%s %d", listWords[name+"[]"], n+1)
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
			b.WriteString(KeyLabel(word, ""))
		} else {
			b.WriteString(word)
		}
		for i += len(word); i < len(text) && (i < j || !inKey(text[i])); i++ {
			b.WriteByte(text[i])
		}
	}
	return b.String()
}
