package records

import (
	"strings"

	"rollchange/scenarios/written"
)

// tag is what a word of a head speaks of.
type tag = uint16

const (
	tagStart tag = 1 << iota
	tagEnd
	tagDay
	tagClock
	tagLength
	tagCause
	tagCode // of a cause, or of something else
	tagText // a description: a cause, or a note
	tagNote
	tagLine
	tagStop // a stop, whatever of it
	tagUnit
)

// headWords are the words of heads without accents: English, German, French,
// Spanish, Italian, Portuguese, Dutch, Swedish, Danish, Polish, Czech.
var headWords = func() map[string]tag {
	m := map[string]tag{}
	for _, row := range []struct {
		t     tag
		words string
	}{
		{tagStart, `start started starts begin began beginning begins from since onset
			beginn anfang startete von ab seit debut du depuis commencement inicio comienzo desde inizio dalle dal
			comeco van begonnen aanvang borjan fran fra poczatek od rozpoczecie zacatek zahajeni`},
		{tagEnd, `end ended ends finish finished to until till restart restarted resumed
			ende bis schluss fin jusqu jusque au hasta final termino fine alle fim ate einde tot eind slut till til
			koniec do zakonczenie konec ukonceni`},
		{tagDay, `date day datum tag jour fecha dia data giorno dag dato dzien`},
		{tagClock, `time clock uhrzeit zeit zeitpunkt heure hora ora orario horario tijd tijdstip klockslag tid klokkeslet godzina czas cas`},
		{tagLength, `duration minutes downtime length lasted lost dauer ausfallzeit stillstandszeit stillstandzeit standzeit stehzeit duree duracion durata duracao duur
			varaktighet varighed trwania trvani doba elapsed`},
		{tagCause, `cause reason fault failure why category grund ursache storgrund storung stoerung fehler motif raison motivo causa razon averia falla guasto falha oorzaak reden storing
			orsak arsag przyczyna powod pricina duvod kategorie categorie categoria`},
		{tagCode, `code type art kode codigo codice kod typ`},
		{tagText, `description event text beschreibung ereignis bezeichnung libelle descripcion descrizione descricao omschrijving beskrivning beskrivelse opis popis evenement evento`},
		{tagNote, `note notes comment comments remark remarks bemerkung bemerkungen kommentar anmerkung notiz hinweis remarque remarques commentaire commentaires
			observation observations observacion observaciones nota notas comentario comentarios osservazioni commento observacao observacoes opmerking opmerkingen
			anmarkning bemaerkning uwagi uwaga poznamka poznamky`},
		{tagLine, `line machine press equipment asset linie maschine anlage ligne linea maquina macchina linha lijn linje maskin linia maszyna linka stroj presse prensa pressa station`},
		{tagStop, `stop stopped stoppage down stillstand stopp halt arret arrets parada paro paradas fermata fermo stilstand przestoj postoj prostoj ausfall`},
	} {
		for w := range strings.FieldsSeq(row.words) {
			m[w] |= row.t
		}
	}
	m["fin"], m["fine"], m["final"] = tagEnd, tagEnd, tagEnd
	m["till"], m["stopptid"], m["stoptid"] = tagEnd, tagLength, tagLength
	m["timestamp"], m["datetime"], m["zeitstempel"] = tagDay|tagClock, tagDay|tagClock, tagDay|tagClock
	return m
}()

// tagsOf are what the words of a head speak of, and how many of them say
// nothing. A word that is put together of two is taken apart.
func tagsOf(head string) (all tag, unit float64, other int) {
	for w := range strings.FieldsSeq(written.Fold(head)) {
		if t := headWords[w]; t != 0 {
			all |= t
			if w == "minutes" {
				unit = minute
			}
			continue
		}
		if u := written.UnitOf(w); u != 0 {
			all, unit = all|tagUnit, u
			continue
		}
		if t := written.Compound(w, headWords); t != 0 {
			all |= t
			continue
		}
		other++
	}
	return all, unit, other
}

// meaning is what a head may say that its column is, how sure it is of that,
// and the unit that it names, ms. A stop's time alone may be its start or its
// end: either.
type meaning struct {
	role   Role
	either bool
	weight int // 0: it says nothing
	unit   float64
}

// meaningOf reads a head.
func meaningOf(head string) meaning {
	t, unit, other := tagsOf(head)
	m := meaning{unit: unit}
	is := func(r Role, weight int) meaning {
		m.role, m.weight = r, max(1, 10*weight-other)
		return m
	}
	has := func(any tag) bool { return t&any != 0 }
	switch {
	case t == 0:
		return m
	case has(tagNote):
		return is(Note, 3)
	case has(tagCause):
		if has(tagStart|tagEnd) && (has(tagClock|tagDay) || !strings.Contains(written.Fold(head), " ")) {
			break // the start of a fault
		}
		if has(tagCode) {
			return is(Cause, 2)
		}
		return is(Cause, 3)
	}
	switch {
	case has(tagLength) && !has(tagStart|tagEnd):
		return is(Length, 3)
	case has(tagStart) && has(tagDay) && !has(tagClock):
		return is(Date, 3)
	case has(tagStart):
		return is(Start, 3)
	case has(tagEnd) && has(tagDay) && !has(tagClock):
		return is(EndDate, 3)
	case has(tagEnd):
		return is(End, 3)
	case has(tagUnit) && !has(tagDay|tagLine|tagCode|tagText):
		return is(Length, 2)
	case has(tagDay) && has(tagClock):
		return is(Start, 2)
	case has(tagDay):
		return is(Date, 2)
	case has(tagStop) && (has(tagClock) || t == tagStop):
		m.either = true
		return is(Start, 1)
	case has(tagClock):
		return is(Start, 1)
	case has(tagText):
		return is(Cause, 1)
	case has(tagCode) && (has(tagStop) || t == tagCode):
		return is(Cause, 1)
	case has(tagLine):
		return is(LineName, 2)
	}
	return m
}
