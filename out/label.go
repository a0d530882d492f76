package out

import "strings"

// group is what a metric tells of.
type group int

const (
	makes group = iota
	hours
	webGoes
	rollChanges
	risk
	people
	groups
)

var groupHeads = [groups]string{"What the line makes", "Where the hours go", "Where the web goes",
	"What the roll changes do", "How rarely the storage is used up", "What the crew does"}

// label is how a metric is called for people.
type label struct {
	text  string
	group group
}

// labels of the metrics whose name is fixed.
var labels = map[string]label{
	"good_rate":          {"good web", makes},
	"processed_rate":     {"web processed", makes},
	"good_area_rate":     {"good area", makes},
	"good_mass_rate":     {"good mass", makes},
	"finished_roll_rate": {"finished rolls", makes},
	"availability":       {"availability", makes},
	"performance":        {"performance", makes},
	"quality":            {"quality", makes},
	"oee":                {"OEE", makes},

	"time.running":              {"running at line speed", hours},
	"time.slowed":               {"running slowed", hours},
	"time.ramping":              {"ramping up and down", hours},
	"time.stopped":              {"stopped", hours},
	"time.waiting_for_operator": {"stopped, no operator there yet", people},
	"crew.utilisation":          {"crew busy", people},
	"stop_rate":                 {"web comes to rest", hours},

	"waste.total":      {"waste in all", webGoes},
	"waste.residual":   {"rests left on cores", webGoes},
	"waste.splice":     {"scrap: splices", webGoes},
	"waste.restart":    {"scrap: restarts", webGoes},
	"waste.web_break":  {"scrap: web breaks", webGoes},
	"waste.stop":       {"scrap: stops", webGoes},
	"waste.transfer":   {"scrap: transfers", webGoes},
	"waste.changeover": {"scrap: changeovers", webGoes},
	"waste.rejected":   {"rejected rolls", webGoes},

	"splice_rate":            {"splices", rollChanges},
	"splice.not_ready":       {"next roll not armed in time", rollChanges},
	"splice.failed":          {"splice failed at the table", rollChanges},
	"splice.run_out":         {"roll ran out", rollChanges},
	"splice.not_refilled":    {"began before the storage was full", rollChanges},
	"unwind_storage.lowest":  {"lowest unwind storage, mean", rollChanges},
	"unwind_storage.empty":   {"storage empty, web broke", rollChanges},
	"transfer_rate":          {"transfers", rollChanges},
	"transfer.not_ready":     {"next core not ready in time", rollChanges},
	"transfer.failed":        {"transfer failed", rollChanges},
	"transfer.not_refilled":  {"began before it was drawn down", rollChanges},
	"rewind_storage.highest": {"highest rewind storage, mean", rollChanges},
	"rewind_storage.full":    {"storage overfull, web broke", rollChanges},

	"splice.depletion":           {"splice depletes the storage", risk},
	"splice.depletion_counted":   {"  counted", risk},
	"splice.depletion_interval":  {"  once in", risk},
	"transfer.overfill":          {"transfer overfills the storage", risk},
	"transfer.overfill_counted":  {"  counted", risk},
	"transfer.overfill_interval": {"  once in", risk},
}

// holdLabels are the reasons for which a line stands.
var holdLabels = map[string]string{
	"unwind_change": "unwind roll change", "unwind_depleted": "unwind storage depleted",
	"rewind_change": "rewind roll change", "rewind_full": "rewind storage full",
	"web_break": "web break", "changeover": "changeover", "crew_break": "crew break",
}

// holdLabel is how a hold is called; a named stop by its own name.
func holdLabel(hold string) string {
	if s, ok := holdLabels[hold]; ok {
		return s
	}
	return safe(strings.TrimPrefix(hold, "stop."))
}

// labelOf is how a metric is called, and where it belongs.
func labelOf(name string) label {
	if l, ok := labels[name]; ok {
		return l
	}
	if hold, ok := strings.CutPrefix(name, "time.stopped."); ok {
		return label{"stopped: " + holdLabel(hold), hours}
	}
	if hold, ok := strings.CutPrefix(name, "stop_rate."); ok {
		return label{"begins: " + holdLabel(hold), hours}
	}
	for whole, at := range map[string]string{"splice.depletion.": "depletion: ", "transfer.overfill.": "overfill: "} {
		if part, ok := strings.CutPrefix(name, whole); ok {
			return label{at + riskParts[part], risk}
		}
	}
	return label{name, makes}
}

// riskParts are the words for the parts of a chance of depletion or overfill,
// and for it under another law of the dwell.
var riskParts = map[string]string{"dwell": "by the dwell alone", "not_ready": "by the next one late", "failed": "by a failed change", "refill": "by a start before the refill",
	"if_lognormal": "were the dwell lognormal", "if_gamma": "were the dwell gamma", "if_weibull": "were the dwell Weibull"}
