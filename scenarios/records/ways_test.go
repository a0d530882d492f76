package records

import (
	"fmt"
	"testing"

	"github.com/stretchr/testify/assert"
)

// The heads of the trade, in their languages.
func TestHeads(t *testing.T) {
	for head, want := range map[string]Role{
		"Start": Start, "Start time": Start, "Begin": Start, "Beginn": Start, "Startzeit": Start, "Störungsbeginn": Start, "Von": Start, "Début": Start, "Heure de début": Start, "Inicio": Start, "Hora de inicio": Start,
		"Inizio": Start, "Ora inizio": Start, "Início": Start, "Początek": Start, "Timestamp": Start, "Date/Time": Start, "Started at": Start, "Stopped": Start, "Fault start time": Start,
		"End": End, "End time": End, "Ende": End, "Endzeit": End, "Bis": End, "Fin": End, "Heure de fin": End, "Hora fin": End, "Fine": End, "Fim": End, "Einde": End, "Slut": End, "Koniec": End, "Restart": End, "Störungsende": End,
		"Date": Date, "Datum": Date, "Fecha": Date, "Data": Date, "Start date": Date, "Startdatum": Date, "End date": EndDate, "Enddatum": EndDate,
		"Minutes": Length, "Duration": Length, "Duration (min)": Length, "Downtime [h]": Length, "Dauer": Length, "Stillstandsdauer": Length, "Stillstand (min)": Length, "Durée": Length, "Duración": Length, "Durata": Length,
		"Duração": Length, "Duur": Length, "Varaktighet": Length, "Czas trwania": Length, "Min": Length, "Hours": Length, "Time (min)": Length,
		"Cause": Cause, "Reason": Cause, "Reason code": Cause, "Grund": Cause, "Stillstandsgrund": Cause, "Störung": Cause, "Motif d'arrêt": Cause, "Motivo": Cause, "Causa": Cause, "Oorzaak": Cause, "Reden": Cause, "Orsak": Cause, "Przyczyna": Cause, "Line stop cause": Cause,
		"Line": LineName, "Machine": LineName, "Anlage": LineName, "Ligne": LineName, "Línea": LineName, "Maszyna": LineName, "Press no.": LineName,
		"Note": Note, "Comments": Note, "Bemerkung": Note, "Remarques": Note, "Observaciones": Note, "Opmerking": Note, "Uwagi": Note,
	} {
		m := meaningOf(head)
		assert.Equal(t, want.String(), m.role.String(), head)
		assert.Positive(t, m.weight, head)
	}
	for _, head := range []string{"", "Shift", "Operator", "Order", "Qrst", "ID"} {
		assert.Zero(t, meaningOf(head).weight, head)
	}
	for head, want := range map[string]float64{"Duration (s)": second, "Dauer [h]": hour, "minutes": minute, "Downtime": 0, "Stillstand (Std.)": hour} {
		assert.Equal(t, want, meaningOf(head).unit, head)
	}
}

// table is a log of ISO starts a day apart, with a duration as given in each.
func table(head string, lengths ...string) string {
	text := "start;" + head + ";cause\n"
	for i, x := range lengths {
		text += fmt.Sprintf("2026-03-%02d 10:00;%s;a\n", i+1, x)
	}
	return text
}

func TestUnitsAndMarks(t *testing.T) {
	for _, c := range []struct {
		head    string
		lengths []string
		want    float64 // of the first, s
		unit    float64
		why     Why
		decimal byte
	}{
		{"minutes", []string{"12", "7"}, 720, 60, ByHead, 0},
		{"hours", []string{"0.25", "7"}, 900, 3600, ByHead, '.'},
		{"Dauer [h]", []string{"0,25", "7"}, 900, 3600, ByHead, ','},
		{"duration (s)", []string{"90", "7"}, 90, 1, ByHead, 0},
		{"duration", []string{"90", "7"}, 5400, 60, Assumed, 0},
		{"minutes", []string{"1,234", "7,5"}, 74.04, 60, ByHead, ','},
		{"minutes", []string{"1,234", "7.5"}, 74040, 60, ByHead, '.'},
		{"minutes", []string{"1.234,5", "7"}, 74070, 60, ByHead, ','},
		{"duration", []string{"0:12", "1:00"}, 720, 0, Unknown, 0},
		{"duration (mm:ss)", []string{"12:30", "1:00"}, 750, 0, Unknown, 0},
	} {
		l := read(t, table(c.head, c.lengths...), Options{})
		assert.InDelta(t, c.want, l.Stops[0].Seconds, 1e-9, "%s %v", c.head, c.lengths)
		u := l.Understood
		assert.Equal(t, c.unit, u.Unit, c.lengths)
		assert.Equal(t, c.why, u.UnitWhy, c.lengths)
		assert.Equal(t, c.decimal, u.Decimal, c.lengths)
	}
	_, err := tryRead(table("minutes", "1,234", "7"), Options{})
	assert.ErrorContains(t, err, "--decimal comma or --decimal point")
	assert.InDelta(t, 74040, read(t, table("minutes", "1,234", "7"), Options{Decimal: '.'}).Stops[0].Seconds, 1e-9)
	l := read(t, table("minutes", "1,5", "7,5", "2.5"), Options{})
	assert.Equal(t, []Finding{{Kind: MixedMark, Row: 4, Column: 2, Text: "2.5"}}, l.Findings)
}

// A unit that no head names is taken from the ends; what one colon parts, too,
// or from the stops that would last beyond the next.
func TestUnitsByOtherColumns(t *testing.T) {
	l := read(t, "start;end;lost;cause\n2026-03-01 10:00:00;2026-03-01 10:01:30;90;a\n2026-03-01 11:00:00;2026-03-01 11:00:20;20;a\n", Options{})
	assert.Equal(t, 1.0, l.Understood.Unit)
	assert.Equal(t, ByEnd, l.Understood.UnitWhy)
	l = read(t, "start;end;lost;cause\n2026-03-01 10:00:00;2026-03-01 10:12:30;12:30;a\n2026-03-01 11:00:00;2026-03-01 11:02:20;2:20;a\n", Options{})
	assert.Equal(t, 60.0, l.Understood.Pair)
	assert.Equal(t, ByEnd, l.Understood.PairWhy)
	l = read(t, "start;lost;cause\n2026-03-01 10:00;12:30;a\n2026-03-01 10:30;2:20;a\n2026-03-01 11:00;3:20;b\n", Options{})
	assert.Equal(t, 60.0, l.Understood.Pair)
	assert.Equal(t, ByOverlap, l.Understood.PairWhy)
	assert.Equal(t, 750.0, l.Stops[0].Seconds)
}
