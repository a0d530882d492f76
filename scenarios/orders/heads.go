package orders

import (
	"strings"
	"unicode"

	"rollchange/scenarios/written"
)

// tag is what a word of a head speaks of.
type tag = uint16

const (
	tagOrder tag = 1 << iota
	tagProduct
	tagLength
	tagRoll
	tagQuantity
	tagDue
	tagStart
	tagDate
	tagClock
	tagLine
	tagNumber
	tagText
	tagFill // says nothing
)

// headWords are the words of heads without accents: English, German, French,
// Spanish, Italian, Dutch, Swedish, Polish.
var headWords = func() map[string]tag {
	m := map[string]tag{}
	for _, row := range []struct {
		t     tag
		words string
	}{
		{tagOrder, `order orders job jobs auftrag auftrage auftrags fertigungsauftrag kundenauftrag bestellung bestell commande commandes ordre
			pedido pedidos orden ordenes encargo ordine ordini commessa bestelling opdracht bestallning zamowienie zamowienia zlecenie zlecenia`},
		{tagProduct, `product products article item material sku produkt produkte artikel erzeugnis sorte produit articulo producto referencia
			prodotto articolo produkter artykul wyrob produktu artykulu wyrobu`},
		{tagLength, `length lange laenge laengd langd longueur longitud largo lunghezza lengte dlugosc metrage metraje metraggio meterage footage`},
		{tagRoll, `roll rolls reel reels rolle rollen fertigrolle fertigrollen bobine bobines rouleau rouleaux bobina bobinas rollo rollos rotolo rotoli
			rol rullar rulle rola rolki rolek`},
		{tagQuantity, `quantity qty amount menge anzahl quantite nombre cantidad quantita numero hoeveelheid aantal antal kvantitet mangd ilosc liczba zahl`},
		{tagDue, `due deadline delivery deliver delivered needed required wanted latest end finish ship shipment shipping lieferung liefer termin fallig falligkeit
			faellig spatestens ende bis fertig livraison echeance tard fin entrega vencimiento limite consegna scadenza fine levering lever uiterlijk einde
			leverans leveranstid senast slut dostawy dostawa realizacji koniec`},
		{tagStart, `start starts begin beginning earliest release released available fruhestens fruheste frueheste fruhester fruehester beginn ab freigabe verfugbar debut tot disponible
			not non nicht inicio desde antes inizio dal disponibile vroegste vanaf aanvang beschikbaar tidigast tidigaste borjan fran najwczesniej najwczesniejszy od poczatek`},
		{tagDate, `date day datum tag jour fecha dia data giorno dag dzien`},
		{tagClock, `time clock uhrzeit zeit heure hora ora orario tijd tid godzina`},
		{tagLine, `line machine press linie maschine anlage ligne linea maquina macchina lijn linje maskin linia maszyna`},
		{tagNumber, `number no num nr nummer id code ref kod codigo codice numer nº`},
		{tagText, `description name text bezeichnung beschreibung designation libelle reference nom descripcion nombre descrizione nome riferimento omschrijving naam benamning beskrivning opis nazwa`},
		{tagFill, `prima the of to by in at on for per de du des la le les et el y di del della il per e van het voor de und von der des in am zu av och z na do i w na finished finis finies terminadas terminados finiti gereed fardiga gotowych gotowe fertige production produktion work werk ordered plus au al piu mas presto temprano before vor wykonania a after total net good gesamt web bahn lauf soll target`},
	} {
		for w := range strings.FieldsSeq(row.words) {
			m[w] |= row.t
		}
	}
	m["numero"], m["nombre"] = tagNumber|tagQuantity, tagText|tagQuantity // of an order; how many
	m["number"] |= tagQuantity
	m["termin"] |= tagDate // Starttermin
	return m
}()

// headUnit are the units that a head names.
type headUnit struct {
	length float64 // m; 0: none
	time   float64 // s; 0: none
}

// tagsOf are what the words of a head speak of, its units, and how many of its
// words say nothing that is known.
func tagsOf(head string) (all tag, unit headUnit, other int) {
	scaled := false // "1000 m" is no metre
	for w := range strings.FieldsSeq(written.Fold(head)) {
		if t := tagOf(w); t != 0 {
			all |= t
			continue
		}
		if u := written.LengthUnit(w); u > 0 {
			unit.length = u
			continue
		}
		if u := written.UnitOf(w); u > 0 {
			unit.time = u / 1000
			continue
		}
		scaled = scaled || strings.ContainsFunc(w, unicode.IsDigit)
		other++
	}
	if scaled {
		unit.length = 0
	}
	return all, unit, other
}

func tagOf(w string) tag {
	if t := headWords[w]; t != 0 {
		return t
	}
	if t := written.Compound(w, headWords); t != 0 {
		return t
	}
	if first, ok := strings.CutSuffix(w, "nr"); ok { // Auftragsnr.
		if t := headWords[first] | headWords[strings.TrimSuffix(first, "s")]; t != 0 {
			return t | tagNumber
		}
	}
	return 0
}

// meaning is what a head may say that its column is, how sure it is of that, and
// its units.
type meaning struct {
	role   Role
	weight int // 0: it says nothing; below sure: what stands there has to fit
	unit   headUnit
}

// sure is the weight from which a head alone says what its column is.
const sure = 25

// meaningOf reads a head.
func meaningOf(head string) meaning {
	if len(head) > mostName {
		return meaning{}
	}
	t, unit, other := tagsOf(head)
	is := func(r Role, weight int) meaning { return meaning{r, weight, unit} }
	doubtful := func(r Role, weight, less int) meaning { // words that are not known may say another thing
		if other > 0 {
			weight = max(1, less-other)
		}
		return is(r, weight)
	}
	has := func(any tag) bool { return t&any != 0 }
	much := has(tagLength|tagQuantity|tagRoll) || unit.length > 0
	thing := has(tagText | tagNumber | tagProduct)
	switch {
	case much && (other > 0 || unit.time > 0): // a width, a speed
	case has(tagRoll) && (has(tagLength) || unit.length > 0): // of one roll
	case has(tagLength), has(tagQuantity) && unit.length > 0:
		return is(Length, 30)
	case has(tagRoll):
		return is(Rolls, 30)
	case has(tagQuantity) && !has(tagNumber|tagText):
		return is(Length, 10)
	case unit.length > 0 && t&^tagFill == 0:
		return is(Length, 20)
	case has(tagDue) && has(tagStart) && !has(tagDate): // before which it has to begin
	case has(tagDue | tagStart):
		r, weight := Earliest, 30
		if !has(tagStart) {
			r = Due
		}
		switch {
		case thing && !(r == Due && has(tagProduct)): // an address, a note
			return meaning{unit: unit}
		case has(tagClock) && !has(tagDate):
			weight = 10
		}
		return doubtful(r, weight, 18)
	case has(tagDate|tagClock) || unit.time > 0: // when it was ordered, how long something takes
	case has(tagLine) && !has(tagOrder|tagProduct) && other == 0:
		return is(OnLine, 30)
	case has(tagProduct) && (thing && has(tagNumber|tagText) || has(tagOrder)):
		return doubtful(Product, 20, 9)
	case has(tagProduct):
		return doubtful(Product, 30, 9)
	case has(tagOrder) && has(tagText):
		return doubtful(Order, 20, 15)
	case has(tagOrder):
		return doubtful(Order, 30, 18)
	case has(tagText) && other == 0:
		return is(Product, 10)
	case has(tagNumber) && other == 0:
		return is(Order, 10)
	}
	return meaning{unit: unit}
}
