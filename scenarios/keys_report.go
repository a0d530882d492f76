package scenarios

import (
	"fmt"
	"time"

	"rollchange/model/legible"
)

// dayForm is how a day is written: ISO 8601, the extended form of a calendar date.
const dayForm = "2006-01-02"

// dayPattern is dayForm for the schema, which does not count the days of a month.
const dayPattern = `^[0-9]{4}-(0[1-9]|1[0-2])-(0[1-9]|[12][0-9]|3[01])$`

// dated is the option of a text that is a day.
func dated(k *Key) { k.dated, k.Range = true, "a day, YYYY-MM-DD" }

// CheckDay says what is wrong with a day as a person wrote it; nil: nothing.
func CheckDay(s string) error {
	if _, err := time.Parse(dayForm, s); err != nil || len(s) != len(dayForm) {
		return fmt.Errorf("must be a day written YYYY-MM-DD, such as \"2026-03-31\", not %s", legible.Quote(s))
	}
	return nil
}

// reportKeys are what stands at the head of a report: nothing of it is simulated.
var reportKeys = []*Key{
	key("report.customer", text, "", "For whom a report is written; if not given, a line to fill in by hand", func(t *target, v value) { t.study.Cover.Customer = v.text }, like(`"Example Films, plant 2"`)),
	key("report.author", text, "", "Who wrote the report; if not given, a line to fill in by hand", func(t *target, v value) { t.study.Cover.Author = v.text }, like(`"A. Planner"`)),
	key("report.date", text, "", "Day of the report; if not given, a line to fill in by hand: no clock is read", func(t *target, v value) { t.study.Cover.Date = v.text }, dated, like(`"2026-03-31"`)),
	key("report.question", text, "", "What the customer asked; if not given, what the alternatives ask", func(t *target, v value) { t.study.Cover.Question = v.text }, like(`"Do automatic splices pay at 180 m/min?"`)),
}
