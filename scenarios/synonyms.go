package scenarios

import (
	"slices"
	"strings"
	"unicode"
)

// synonyms are words that people use for what a key has another name for, and
// where it then stands. Common practice, no source.
var synonyms = map[string][]string{
	"festoon accumulator buffer dancer loop web-storage carriage":      {"unwind.storage", "rewind.storage"},
	"strand strands idler idlers rollers":                              {"unwind.storage.strands", "unwind.storage.travel", "unwind.storage.roller_drag", "rewind.storage.strands", "rewind.storage.travel", "rewind.storage.roller_drag"},
	"turret transfer winder winding rewinder cut-over":                 {"rewind"},
	"unwinder reel-stand pay-off payoff parent-roll jumbo mother-roll": {"unwind"},
	"splicer splicing paster butt lap overlap joint join tape":         {"unwind.dwell", "unwind.splice", "unwind.tape", "unwind.prepare", "unwind.recover", "unwind.change"},
	"gauge thickness micron microns":                                   {"web.caliper"},
	"gsm weight basis-weight substance density":                        {"web.grammage"},
	"stub butt-roll tail rest left-over leftover core-waste":           {"unwind.residual"},
	"spindle shaft chuck torque motor drive inertia":                   {"unwind.spindle_torque", "unwind.accel", "unwind.decel", "unwind.max_speed"},
	"ramp ramps acceleration deceleration":                             {"line.accel", "line.decel", "unwind.accel", "unwind.decel", "rewind.accel", "rewind.decel"},
	"mtbf uptime failure failures breakdown jam downtime fault":        {"stop[].every", "stop[].repair", "web_breaks"},
	"mttr repair-time": {"stop[].repair", "web_breaks.repair", "unwind.recover", "rewind.recover"},
	"set-up setup make-ready makeready order orders changeover wash-up": {"jobs"},
	"operator staff people workers labour labor manning man":            {"crew", "economics.crew_cost"},
	"walk walking response":                                      {"crew.reaction"},
	"lunch pause coffee":                                         {"crew.break[]", "crew.shift"},
	"task chore packing":                                         {"crew.duty[]", "rewind.pack"},
	"scrap waste spoilage start-up":                              {"line.stop_scrap", "line.restart_scrap", "unwind.splice_scrap", "rewind.transfer_scrap", "web_breaks.scrap", "stop[].scrap", "jobs.scrap"},
	"capex cost-of-equipment purchase":                           {"alternative[].investment"},
	"interest wacc discount hurdle":                              {"economics.discount_rate"},
	"margin contribution selling-price sales":                    {"economics.price", "economics.demand"},
	"inflation escalation growth":                                {"economics.price_change", "economics.output_price_change", "economics.material_price_change", "economics.wage_change"},
	"recycling recycled resale scrap-value":                      {"economics.waste_income"},
	"commissioning training run-in":                              {"alternative[].start_up_cost", "alternative[].installation_time", "alternative[].learning"},
	"ramp-up learning-curve":                                     {"alternative[].learning"},
	"outage":                                                     {"alternative[].installation_time"},
	"machine-rate hourly-rate":                                   {"economics.line_cost", "economics.crew_cost"},
	"run-out runout":                                             {"unwind.residual_error", "unwind.recover", "unwind.residual"},
	"slit slitting knife knives lane edge selvedge edge-trim":    {"rewind.lanes", "rewind.trim"},
	"seam ridge gauge-band oscillate traverse hard-band":         {"rewind.build"},
	"doffing unload":                                             {"rewind.doff"},
	"register registration repeat insetting pre-printed mark":    {"web.register_repeat", "unwind.splice.in_register", "unwind.splice.lock"},
	"simulation simulated duration repetitions runs random-seed": {"run"},
}

// lawWords lead to all laws.
const lawWords = "dist law distribution random stochastic variance"

// Find returns the keys that a word leads to: those whose path holds it, else
// those that the trade calls so or whose meaning says it. Capitals do not matter.
func Find(word string) []Key {
	word = strings.ToLower(strings.TrimSpace(word))
	path := strings.ReplaceAll(word, " ", "_")
	found := filter(func(k *Key) bool { return strings.Contains(k.Path, path) })
	if len(found) > 0 || word == "" {
		return found
	}
	var places []string
	for words, list := range synonyms {
		if slices.ContainsFunc(strings.Fields(words), func(w string) bool { return alike(w, word) }) {
			places = append(places, list...)
		}
	}
	return filter(func(k *Key) bool {
		if strings.Contains(" "+strings.Map(letters, strings.ToLower(k.Meaning)), " "+word) {
			return true
		}
		return slices.ContainsFunc(places, func(p string) bool {
			return k.Path == p || strings.HasPrefix(k.Path, p+".") || strings.HasPrefix(k.Path, p+"_")
		})
	})
}

// letters leaves nothing but letters and figures between words.
func letters(r rune) rune {
	if unicode.IsLetter(r) || unicode.IsDigit(r) {
		return r
	}
	return ' '
}

// alike says whether two words are one, written with hyphens, spaces or neither,
// in the singular or the plural.
func alike(a, b string) bool {
	bare := func(s string) string {
		return strings.TrimSuffix(strings.NewReplacer("-", "", " ", "", "_", "").Replace(s), "s")
	}
	return bare(a) == bare(b)
}

func filter(keep func(*Key) bool) []Key {
	var list []Key
	for i := range table {
		if keep(&table[i]) {
			list = append(list, table[i])
		}
	}
	return list
}

// FindLaws returns the laws that a word leads to.
func FindLaws(word string) []LawInfo {
	word = strings.ToLower(strings.TrimSpace(word))
	var list []LawInfo
	for _, l := range lawTable {
		all := word == "" || slices.ContainsFunc(strings.Fields(lawWords), func(w string) bool { return alike(w, word) })
		if all || len(word) > 2 && strings.Contains(l.Name, word) || among(slices.Concat(l.Params, l.Or, l.May), word) {
			list = append(list, l)
		}
	}
	return list
}

// NearWord proposes a word that leads to keys, as the end of a message.
func NearWord(word string) string {
	var names []string
	for i := range table {
		names = append(names, strings.FieldsFunc(table[i].Path, func(r rune) bool { return r == '.' || r == '[' || r == ']' })...)
	}
	for words := range synonyms {
		names = append(names, strings.Fields(words)...)
	}
	for _, l := range lawTable {
		names = append(names, l.Name)
	}
	slices.Sort(names)
	return DidYouMean(strings.ToLower(word), slices.Compact(names))
}
