package invented

import (
	"fmt"
	"slices"
	"strings"
	"time"
)

// Dialect is a way in which a log is written down.
type Dialect struct {
	Name    string
	Comma   string
	Decimal string
	Mark    bool   // a byte order mark stands before it
	Quotes  bool   // around every cell
	Title   string // above the head
	Newest  bool   // the newest row stands first
	Break   string // of lines; empty: \n
	Heads   []string
	Cells   []func(Stop) string
	Round   time.Duration // of the times
	Length  time.Duration // of the durations; 0: none is written
	Derived bool          // durations are the difference of the rounded times
}

// at is a column that shows the start in a layout.
func at(layout string) func(Stop) string {
	return func(s Stop) string { return s.Start.Format(layout) }
}

// end is a column that shows the end.
func end(layout string) func(Stop) string {
	return func(s Stop) string {
		if s.Open {
			return ""
		}
		return s.End.Format(layout)
	}
}

func cause(s Stop) string { return s.Cause }
func note(s Stop) string  { return s.Note }

// lasts is a column that shows the duration.
func lasts(show func(d time.Duration) string) func(Stop) string {
	return func(s Stop) string {
		if s.Open {
			return ""
		}
		return show(s.End.Sub(s.Start))
	}
}

func minutes(d time.Duration) string { return fmt.Sprintf("%.0f", d.Minutes()) }

func clock(d time.Duration) string {
	return fmt.Sprintf("%d:%02d", int(d.Hours()), int(d.Minutes())%60)
}

func clockSeconds(d time.Duration) string {
	return fmt.Sprintf("%d:%02d:%02d", int(d.Hours()), int(d.Minutes())%60, int(d.Seconds())%60)
}

// serial is a moment as a spreadsheet counts days.
func serial(t time.Time) string {
	return fmt.Sprintf("%.6f", float64(t.Unix())/86400+25569)
}

// Dialects are the ways of writing that tests try.
func Dialects() []Dialect {
	const m, s = time.Minute, time.Second
	return []Dialect{
		{Name: "iso", Comma: ",", Round: s, Heads: []string{"start", "end", "cause", "note"},
			Cells: []func(Stop) string{at("2006-01-02 15:04:05"), end("2006-01-02 15:04:05"), cause, note}},
		{Name: "iso with T and offset", Comma: ",", Round: s, Heads: []string{"Started", "Restarted", "Reason"},
			Cells: []func(Stop) string{at("2006-01-02T15:04:05Z07:00"), end("2006-01-02T15:04:05Z07:00"), cause}},
		{Name: "german", Comma: ";", Decimal: ",", Mark: true, Break: "\r\n", Title: "Stillstandsprotokoll Linie 3", Round: m, Length: m, Derived: true,
			Heads: []string{"Datum", "Beginn", "Ende", "Dauer [min]", "Störungsgrund", "Bemerkung"},
			Cells: []func(Stop) string{at("02.01.2006"), at("15:04"), end("15:04"), lasts(minutes), cause, note}},
		{Name: "german hours", Comma: ";", Decimal: ",", Round: m, Length: 36 * s, Heads: []string{"Startzeit", "Stillstandsdauer (h)", "Ursache"},
			Cells: []func(Stop) string{at("2.1.06 15:04"), lasts(func(d time.Duration) string { return fmt.Sprintf("%.2f", d.Hours()) }), cause}},
		{Name: "american", Comma: ",", Quotes: true, Round: m, Heads: []string{"Stop time", "Restart time", "Reason code", "Comments"},
			Cells: []func(Stop) string{at("1/2/2006 3:04 PM"), end("1/2/2006 3:04 PM"), cause, note}},
		{Name: "british", Comma: "\t", Round: m, Length: m, Heads: []string{"Date", "Time", "Downtime (h:mm)", "Fault"},
			Cells: []func(Stop) string{at("02/01/2006"), at("15:04"), lasts(clock), cause}},
		{Name: "french", Comma: ";", Decimal: ",", Round: m, Newest: true, Heads: []string{"Date", "Heure de début", "Heure de fin", "Motif d'arrêt"},
			Cells: []func(Stop) string{at("02/01/2006"), at("15h04"), end("15h04"), cause}},
		{Name: "spanish", Comma: ";", Round: s, Length: s, Heads: []string{"Inicio", "Duración", "Causa"},
			Cells: []func(Stop) string{at("02-01-2006 15:04:05"), lasts(clockSeconds), cause}},
		{Name: "dutch", Comma: "\t", Round: m, Heads: []string{"Begin", "Einde", "Reden"},
			Cells: []func(Stop) string{at("2-1-2006 15:04"), end("2-1-2006 15:04"), cause}},
		{Name: "serial numbers", Comma: ",", Round: s, Heads: []string{"Start", "End", "Cause"},
			Cells: []func(Stop) string{func(s Stop) string { return serial(s.Start) }, func(s Stop) string { return serial(s.End) }, cause}},
		{Name: "unix", Comma: ",", Round: s, Heads: []string{"begin", "seconds", "category"}, Length: s,
			Cells: []func(Stop) string{func(s Stop) string { return fmt.Sprint(s.Start.Unix()) }, lasts(func(d time.Duration) string { return fmt.Sprint(d.Seconds()) }), cause}},
		{Name: "no head", Comma: ";", Round: m, Length: m,
			Cells: []func(Stop) string{at("2006-01-02 15:04"), lasts(minutes), cause}},
		{Name: "heads of no known language", Comma: ";", Round: m, Heads: []string{"Qrst", "Uvw", "Xyz"},
			Cells: []func(Stop) string{at("2006-01-02 15:04"), end("2006-01-02 15:04"), cause}},
		{Name: "named months", Comma: ";", Round: m, Length: m, Heads: []string{"started at", "minutes", "why"},
			Cells: []func(Stop) string{at("2 Jan 2006, 15:04"), lasts(func(d time.Duration) string { return minutes(d) + " min" }), cause}},
		{Name: "basic iso", Comma: ",", Round: s, Heads: []string{"from", "to", "cause"},
			Cells: []func(Stop) string{at("20060102T150405"), end("20060102T150405"), cause}},
		{Name: "two days", Comma: ",", Round: m, Heads: []string{"Start date", "Start time", "End date", "End time", "Cause"},
			Cells: []func(Stop) string{at("2006-01-02"), at("15:04"), end("2006-01-02"), end("15:04"), cause}},
	}
}

// Rounded is a stop as a dialect writes it.
func (d Dialect) Rounded(s Stop) Stop {
	if length := s.End.Sub(s.Start); d.Length > 0 && !d.Derived {
		s.Start = s.Start.Round(d.Round)
		s.End = s.Start.Add(length.Round(d.Length))
		return s
	}
	s.Start, s.End = s.Start.Round(d.Round), s.End.Round(d.Round)
	return s
}

// Write writes a log.
func (d Dialect) Write(stops []Stop) []byte {
	var b strings.Builder
	nl := d.Break
	if nl == "" {
		nl = "\n"
	}
	if d.Mark {
		b.WriteString("\ufeff")
	}
	if d.Title != "" {
		b.WriteString(d.Title + nl + nl)
	}
	row := func(cells []string) {
		for i, c := range cells {
			if i > 0 {
				b.WriteString(d.Comma)
			}
			if d.Quotes || strings.ContainsAny(c, d.Comma+"\"\n") {
				c = `"` + strings.ReplaceAll(c, `"`, `""`) + `"`
			}
			b.WriteString(c)
		}
		b.WriteString(nl)
	}
	if d.Heads != nil {
		row(d.Heads)
	}
	if d.Newest {
		stops = slices.Clone(stops)
		slices.Reverse(stops)
	}
	for _, s := range stops {
		s = d.Rounded(s)
		cells := make([]string, len(d.Cells))
		for i, c := range d.Cells {
			cells[i] = c(s)
			if d.Decimal == "," && strings.Trim(cells[i], "0123456789.") == "" && strings.Count(cells[i], ".") == 1 {
				cells[i] = strings.Replace(cells[i], ".", ",", 1)
			}
		}
		row(cells)
	}
	return []byte(b.String())
}
