package learn

import (
	"strings"
	"unicode"

	"rollchange/scenarios/records"
)

// Proposal is what a cause may be, by its words: for a person to confirm, nothing is
// done by itself.
type Proposal struct {
	Cause string
	Is    Target // a key of the scenario; empty where it is Same
	Same  string // another cause of the log, written in nearly the same way
}

// mostCompared is how many causes, those of the greatest loss, are looked at.
const mostCompared = 200

// Propose says what causes may be that nobody has said anything of.
func (l *Line) Propose() []Proposal {
	var list []Proposal
	given := map[string]bool{}
	for text := range l.Options.Is {
		given[folded(text)] = true
	}
	causes := l.Causes[:min(len(l.Causes), mostCompared)]
	for i := range causes {
		c := &causes[i]
		if c.Text == "" || given[folded(c.Text)] {
			continue
		}
		if to := meantBy(c.Text); to != "" {
			list = append(list, Proposal{Cause: c.Text, Is: to})
		}
		for k := range i {
			if alike(causes[k].Text, c.Text) {
				list = append(list, Proposal{Cause: c.Text, Same: causes[k].Text})
				break
			}
		}
	}
	return list
}

// trade are words of causes without accents and gaps, in English, German, French,
// Spanish, Italian, Dutch, Swedish, Danish, Polish and Czech: one of each list must be
// in a cause, in any order. Common practice, no source.
var trade = []struct {
	is  Target
	all [][]string
	not []string
}{
	{WebBreak, [][]string{strings.Fields("web paper film strip sheet bahn papier bande banda nastro carta papel baan bana banb tasm wsteg pas papir"),
		strings.Fields("break broke tear tore snap riss reiss casse rupture rotura rottura breuk brott brud zerw pretrz")}, strings.Fields("riemen belt")},
	{Changeover, [][]string{strings.Fields("changeover makeready setup umrust einricht auftragswechsel jobchange orderchange orderwechsel formatwechsel calage changementdeserie changementdeformat cambiodeformato cambioformato cambiodeserie cambiodepedido omstel omstall przezbroj serizen")}, nil},
	{ChangeTime, [][]string{strings.Fields("roll reel bobine bobina rulle zwoj"),
		strings.Fields("change wechsel changement cambio wissel byte skift zmian wymian vymen")}, strings.Fields("rewind finished aufwick fertig enroul riavvolg core sleeve form")},
	{RewindTime, [][]string{strings.Fields("rewind finished aufwick fertig enroul riavvolg"),
		strings.Fields("change wechsel changement cambio wissel byte skift zmian wymian vymen")}, strings.Fields("core sleeve form")},
	{NotAStop, [][]string{strings.Fields("noorder keinauftrag ohneauftrag weekend wochenende holiday feiertag noproduction notplanned ungeplanteproduktion pasdecommande sinpedido")}, nil},
}

// meantBy is what the words of a cause speak of; empty for nothing known.
func meantBy(text string) Target {
	plain := strings.ReplaceAll(records.Fold(text), " ", "")
	holds := func(list []string) bool {
		for _, w := range list {
			if strings.Contains(plain, w) {
				return true
			}
		}
		return false
	}
	for _, t := range trade {
		all := !holds(t.not)
		for _, list := range t.all {
			all = all && holds(list)
		}
		if all {
			return t.is
		}
	}
	return ""
}

// alike says whether two causes may be one: letters alike but for a slip or two,
// and the same numbers.
func alike(a, b string) bool {
	a, b = strings.ReplaceAll(records.Fold(a), " ", ""), strings.ReplaceAll(records.Fold(b), " ", "")
	if a == "" || b == "" || digits(a) != digits(b) {
		return false
	}
	x, y := []rune(a), []rune(b)
	slips := 0
	switch n := min(len(x), len(y)); {
	case n >= 10:
		slips = 2
	case n >= 5:
		slips = 1
	}
	return max(len(x)-len(y), len(y)-len(x)) <= slips && distance(x, y) <= slips
}

func digits(s string) string {
	return strings.Map(func(r rune) rune {
		if unicode.IsDigit(r) {
			return r
		}
		return -1
	}, s)
}

// distance is how many letters must be put in, left out, changed or swapped with the next
// (Damerau, Commun. ACM 7 (1964) 171).
func distance(a, b []rune) int {
	before, last, now := make([]int, len(b)+1), make([]int, len(b)+1), make([]int, len(b)+1)
	for j := range last {
		last[j] = j
	}
	for i := range a {
		now[0] = i + 1
		for j := range b {
			cost := 1
			if a[i] == b[j] {
				cost = 0
			}
			now[j+1] = min(last[j+1]+1, now[j]+1, last[j]+cost)
			if i > 0 && j > 0 && a[i] == b[j-1] && a[i-1] == b[j] {
				now[j+1] = min(now[j+1], before[j-1]+1)
			}
		}
		before, last, now = last, now, before
	}
	return last[len(b)]
}
