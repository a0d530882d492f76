package records

import (
	"fmt"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// Each way of writing a date and a time.
func TestStamps(t *testing.T) {
	const want = "2026-03-14 14:05:00.000"
	for _, text := range []string{
		"2026-03-14 14:05", "2026-03-14T14:05", "2026-03-14T14:05:00", "2026/03/14 14:05", "2026.03.14 14:05", "20260314 14:05", "20260314T1405", "20260314T140500",
		"14.03.2026 14:05", "14.3.26 14:05", "14.03.2026, 14:05 Uhr", "14/03/2026 14:05", "14-03-2026 14:05", "14/03/26 2:05 PM", "14/03/2026 02:05:00 p.m.", "14.03.2026 14h05", "14.03.2026 14.05",
		"14 Mar 2026 14:05", "14-Mar-26 14:05", "Mar 14, 2026 2:05pm", "March 14th, 2026 at 14:05", "14. März 2026 14:05", "14 mars 2026 à 14:05", "14 de marzo de 2026 14:05", "14 mrt 2026 14:05",
		"Sat 14 Mar 2026 14:05", "Sa, 14.03.2026 14:05", "Samstag, 14. März 2026, 14:05", "14:05 14.03.2026", "14.03.2026  14:05:00,000", "2026-03-14 14:05:00.000",
	} {
		s, ok := parseStamp(text)
		require.True(t, ok, text)
		d, ok := s.days(DayFirst)
		require.True(t, ok, text)
		assert.Equal(t, want, time.UnixMilli(d*day+s.clock).UTC().Format("2006-01-02 15:04:05.000"), text)
	}
	s, _ := parseStamp("3/14/2026")
	d, ok := s.days(MonthFirst)
	assert.True(t, ok)
	assert.Equal(t, "2026-03-14", time.UnixMilli(d*day).UTC().Format("2006-01-02"))
	for text, clock := range map[string]int64{"12:00 am": 0, "12:05 PM": 12*hour + 5*minute, "0:00": 0, "24:00": day, "11:59:59 pm": day - second, "1:02:03.456": hour + 2*minute + 3456, "2 pm": 14 * hour} {
		s, ok := parseStamp(text)
		require.True(t, ok, text)
		assert.Equal(t, clock, s.clock, text)
	}
	for text, offset := range map[string]int64{"2026-03-14T14:05:00Z": 0, "2026-03-14T14:05+01:00": hour, "2026-03-14 14:05:00 -0530": -(5*hour + 30*minute), "2026-03-14T14:05:00+02": 2 * hour} {
		s, ok := parseStamp(text)
		require.True(t, ok, text)
		assert.True(t, s.zoned)
		assert.Equal(t, offset, s.offset, text)
	}
	for _, text := range []string{"", "x", "14.03.", "03/14", "25:00", "12:60", "13:00 pm", "0:30 am", "2026-03-14-15", "14.03.2026.1", "1:2", "Web break", "12", "12.5", "Mar", "99/99", "a 14:05", "2026-03-14 14:05 x", "1/2/3/4", "14:05:61"} {
		s, ok := parseStamp(text)
		assert.False(t, ok, "%q %+v", text, s)
	}
}

// The days of the calendar agree with the library's, from 1900 to 2199.
func TestDaysOfTheCalendar(t *testing.T) {
	for x := time.Date(1900, 1, 1, 0, 0, 0, 0, time.UTC); x.Year() < 2200; x = x.AddDate(0, 0, 1) {
		s := stamp{date: ofYear, year: x.Year(), a: int(x.Month()), b: x.Day()}
		d, ok := s.days(Undecided)
		if !ok || d*86400 != x.Unix() {
			t.Fatal(x, d, ok)
		}
	}
	for _, s := range []string{"30.02.2026", "29.02.2025", "29.02.2100", "31.04.2026", "00.01.2026", "2026-13-01", "2026-00-01", "1899-12-31"} {
		x, ok := parseStamp(s)
		require.True(t, ok, s)
		_, ok = x.days(DayFirst)
		assert.False(t, ok, s)
	}
}

// Each way of writing a duration.
func TestSpans(t *testing.T) {
	for text, want := range map[string]float64{
		"12 min": 720, "12min": 720, "12'": 720, "0:12:30": 750, "1:02:03": 3723, "45 s": 45, "45 sec": 45, "1 h 5 min": 3900, "1h05": 3900, "1h": 3600, "1,5 h": 5400, "0,2 Std": 720,
		"2 Stunden": 7200, "PT1H5M": 3900, "12:30 min": 750, "1:30 h": 5400, "1 d 2 h": 93600, "1 234 s": 1234, "1.234 s": 1234, "-5 min": -300, "5 minutes 30 seconds": 330, "0:0:7,5": 7.5,
	} {
		ms, ok := parseSpan(text, ',').ms(minute, hour)
		require.True(t, ok, text)
		assert.Equal(t, int64(want*1000), ms, text)
	}
	for text, want := range map[string]float64{"12": 720, "12.5": 750, "0:12": 720, "1:30": 5400, "-3": -180, "1,234.5": 74070} {
		ms, ok := parseSpan(text, '.').ms(minute, hour)
		require.True(t, ok, text)
		assert.Equal(t, int64(want*1000), ms, text)
	}
	for _, text := range []string{"", "x", "12 kg", "1:2:3:4", "1:60", ":5", "5:", "12 min x", "1,2345,6", "12 min 5", "1e3", "NaN", "Inf", "--5", "1.5:30"} {
		_, ok := parseSpan(text, '.').ms(minute, hour)
		assert.False(t, ok, text)
	}
}

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
