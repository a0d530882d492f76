package written

import (
	"strings"
	"unicode"
)

// Fold writes a text as words of small letters without accents, a space between
// them: the same head is written in many ways.
func Fold(s string) string {
	var b strings.Builder
	gap := false
	for _, r := range s {
		r = unicode.ToLower(r)
		plain := accents[r]
		if plain == "" && (unicode.IsLetter(r) || unicode.IsDigit(r)) {
			plain = string(r)
		}
		switch {
		case plain != "":
			if gap && b.Len() > 0 {
				b.WriteByte(' ')
			}
			b.WriteString(plain)
			gap = false
		case !unicode.Is(unicode.Mn, r):
			gap = true
		}
	}
	return b.String()
}

// accents are letters that are written without their marks, and m² as m2, which
// is no length.
var accents = func() map[rune]string {
	m := map[rune]string{'ß': "ss", 'æ': "ae", 'œ': "oe", 'ø': "o", 'ł': "l", 'đ': "d", 'ı': "i", '\u0307': "", '²': "2", '³': "3"}
	for _, row := range [][2]string{{"a", "àáâãäåāąă"}, {"c", "çćč"}, {"d", "ď"}, {"e", "èéêëēęěė"}, {"g", "ğ"}, {"i", "ìíîïīį"},
		{"l", "ľĺ"}, {"n", "ñńň"}, {"o", "òóôõöōő"}, {"r", "řŕ"}, {"s", "śšşș"}, {"t", "ťţț"}, {"u", "ùúûüūůűų"}, {"y", "ýÿ"}, {"z", "źżž"}} {
		for _, r := range row[1] {
			m[r] = row[0]
		}
	}
	return m
}()

// monthStems are the beginnings of the names of the months, without accents, in
// English, German, French, Spanish, Italian, Portuguese, Dutch, Swedish, Danish,
// Polish and Czech.
var monthStems = [12]string{
	"jan gen ene sty led", "feb fev fevr lut uno", "mar maer mrt mrz bre brez", "apr avr abr kwi dub", "may mai mag maj mei kvet", "jun juin giu cze cer",
	"jul juil lug lip cervenec", "aug aou ago sie srp", "sep set wrz zar", "oct okt ott out paz rij", "nov lis", "dec dez des dic gru pro",
}

// monthOf is a month by its name or a beginning of it, 1 to 12; 0: none.
func monthOf(word string) int {
	if len(word) < 3 || len(word) > 12 {
		return 0
	}
	best, long := 0, 0
	for m, stems := range monthStems {
		for stem := range strings.SplitSeq(stems, " ") {
			if len(stem) > long && strings.HasPrefix(word, stem) {
				best, long = m+1, len(stem)
			}
		}
	}
	return best
}

var weekdayStems = strings.Fields("mon tue wed thu fri sat sun mo di mi do fr sa so mar mer jeu ven sam dim lun mie jue vie sab dom gio ma wo vr za zo man tir ons tor fre lor seg ter qua qui sex pon wto sro czw pia sob nie")

// weekday says whether a word is the name of a day or its beginning.
func weekday(word string) bool {
	for _, stem := range weekdayStems {
		if strings.HasPrefix(word, stem) && len(word) <= 12 {
			return true
		}
	}
	return false
}

// Same writes texts alike that differ by space and capitals alone.
func Same(s string) string { return strings.ToLower(strings.Join(strings.Fields(s), " ")) }

// Compound is what a word speaks of that is put together of two known ones, as in
// "Startzeit" and "Stillstandsgrund"; 0 when it is none.
func Compound[T uint16 | uint32](w string, known map[string]T) T {
	if len(w) > 40 {
		return 0
	}
	for i := len(w) - 3; i >= 3; i-- {
		t := known[w[:i]]
		if t == 0 {
			continue
		}
		rest := w[i:]
		for _, link := range []string{"", "s", "n", "en", "es"} {
			if r, ok := strings.CutPrefix(rest, link); ok && known[r] != 0 {
				return t | known[r]
			}
		}
	}
	return 0
}
