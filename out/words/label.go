package words

import (
	"strings"

	"rollchange/model/legible"
)

// Group is what a metric tells of.
type Group int

// What metrics tell of, in the order of a table; Groups is how many there are.
const (
	Makes Group = iota
	Hours
	WebGoes
	RollChanges
	Risk
	People
	Groups
)

// GroupHeads stand above the rows of a group.
var GroupHeads = [Groups]string{"What the line makes", "Where the hours go", "Where the web goes",
	"What the roll changes do", "How rarely the storage is used up", "What the crew does"}

// Label is how a metric is called for people.
type Label struct {
	Text  string
	Group Group
}

// labels of the metrics whose name is fixed.
var labels = map[string]Label{
	"good_rate":          {"good web", Makes},
	"processed_rate":     {"web processed", Makes},
	"good_area_rate":     {"good area", Makes},
	"good_mass_rate":     {"good mass", Makes},
	"finished_roll_rate": {"finished rolls", Makes},
	"availability":       {"availability", Makes},
	"performance":        {"performance", Makes},
	"quality":            {"quality", Makes},
	"oee":                {"OEE", Makes},

	"time.running":              {"running at line speed", Hours},
	"time.slowed":               {"running slowed", Hours},
	"time.ramping":              {"ramping up and down", Hours},
	"time.stopped":              {"stopped", Hours},
	"time.waiting_for_operator": {"stopped, no operator there yet", People},
	"crew.utilisation":          {"crew busy", People},
	"stop_rate":                 {"web comes to rest", Hours},

	"waste.total":      {"waste in all", WebGoes},
	"waste.residual":   {"rests left on cores", WebGoes},
	"waste.splice":     {"scrap: splices", WebGoes},
	"waste.restart":    {"scrap: restarts", WebGoes},
	"waste.web_break":  {"scrap: web breaks", WebGoes},
	"waste.stop":       {"scrap: stops", WebGoes},
	"waste.transfer":   {"scrap: transfers", WebGoes},
	"waste.changeover": {"scrap: changeovers", WebGoes},
	"waste.rejected":   {"rejected rolls", WebGoes},

	"splice_rate":            {"splices", RollChanges},
	"splice.not_ready":       {"next roll not armed in time", RollChanges},
	"splice.failed":          {"splice failed at the table", RollChanges},
	"splice.run_out":         {"roll ran out", RollChanges},
	"splice.not_refilled":    {"began before the storage was full", RollChanges},
	"unwind_storage.lowest":  {"lowest unwind storage, mean", RollChanges},
	"unwind_storage.empty":   {"storage empty, web broke", RollChanges},
	"transfer_rate":          {"transfers", RollChanges},
	"transfer.not_ready":     {"next core not ready in time", RollChanges},
	"transfer.failed":        {"transfer failed", RollChanges},
	"transfer.not_refilled":  {"began before it was drawn down", RollChanges},
	"rewind_storage.highest": {"highest rewind storage, mean", RollChanges},
	"rewind_storage.full":    {"storage overfull, web broke", RollChanges},

	"splice.depletion":           {"splice depletes the storage", Risk},
	"splice.depletion_counted":   {"  counted", Risk},
	"splice.depletion_interval":  {"  once in", Risk},
	"transfer.overfill":          {"transfer overfills the storage", Risk},
	"transfer.overfill_counted":  {"  counted", Risk},
	"transfer.overfill_interval": {"  once in", Risk},
}

// holdLabels are the reasons for which a line stands.
var holdLabels = map[string]string{
	"unwind_change": "unwind roll change", "unwind_depleted": "unwind storage depleted",
	"rewind_change": "rewind roll change", "rewind_full": "rewind storage full",
	"web_break": "web break", "changeover": "changeover", "crew_break": "crew break",
}

// OtherStops is what named stops are called that are drawn together.
const OtherStops = "stopped: other causes"

// HoldLabel is how a hold is called; a named stop by its own name.
func HoldLabel(hold string) string {
	if s, ok := holdLabels[hold]; ok {
		return s
	}
	return legible.Line(strings.TrimPrefix(hold, "stop."))
}

// LabelOf is how a metric is called, and where it belongs.
func LabelOf(name string) Label {
	if l, ok := labels[name]; ok {
		return l
	}
	if hold, ok := strings.CutPrefix(name, "time.stopped."); ok {
		return Label{"stopped: " + HoldLabel(hold), Hours}
	}
	if hold, ok := strings.CutPrefix(name, "stop_rate."); ok {
		return Label{"begins: " + HoldLabel(hold), Hours}
	}
	for whole, at := range map[string]string{"splice.depletion.": "depletion: ", "transfer.overfill.": "overfill: "} {
		if part, ok := strings.CutPrefix(name, whole); ok {
			return Label{at + riskParts[part], Risk}
		}
	}
	return Label{name, Makes}
}

// riskParts are the words for the parts of a chance of depletion or overfill,
// and for it under another law of the dwell.
var riskParts = map[string]string{"dwell": "by the dwell alone", "not_ready": "by the next one late", "failed": "by a failed change", "refill": "by a start before the refill",
	"if_lognormal": "were the dwell lognormal", "if_gamma": "were the dwell gamma", "if_weibull": "were the dwell Weibull"}

// MetricLabel is how a metric is called for people.
func MetricLabel(metric string) string { return strings.TrimSpace(LabelOf(metric).Text) }
