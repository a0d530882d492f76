package machine

import (
	"encoding/json"
	"io"
	"os"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"rollchange/out/invented"
	"rollchange/out/words"
)

// Every field and every column of a plan is described in docs/orders.md, and what is
// described there is a field.
func TestPlanFieldsAreDescribed(t *testing.T) {
	a := invented.Plan(4, 2, invented.PlanNames)
	page, err := os.ReadFile("../../docs/orders.md")
	require.NoError(t, err)
	_, part, found := strings.Cut(string(page), "## The plan as data")
	require.True(t, found)
	part, _, _ = strings.Cut(part, "\n## ")
	described := map[string]bool{}
	for _, m := range regexp.MustCompile("`([a-z_0-9]+)(?:\\[\\])?`").FindAllStringSubmatch(part, -1) {
		described[m[1]] = true
	}
	known := map[string]bool{"changeover": true, "unwind_change": true, "no_order": true, "null": true, "_date": true} // causes, and words of the text
	var walk func(v any)
	walk = func(v any) {
		switch x := v.(type) {
		case []any:
			for _, y := range x {
				walk(y)
			}
		case map[string]any:
			for name, y := range x {
				assert.True(t, described[name], "%s is not described", name)
				known[name] = true
				if name != "stopped_s" { // its fields are causes
					walk(y)
				}
			}
		}
	}
	a.Orders[0].Line = 1
	var j any
	require.NoError(t, json.Unmarshal([]byte(invented.Written(t, func(w io.Writer) error {
		return PlanJSON(w, words.About{Title: "Invented line"}, a, invented.Proposals(a))
	})), &j))
	walk(j)
	for _, column := range invented.Rows(t, invented.Written(t, func(w io.Writer) error { return PlanCSV(w, a) }))[0] {
		assert.True(t, described[column], "%s is not described", column)
		known[column] = true
	}
	for name := range described {
		assert.True(t, known[name], "%s is described and not there", name)
	}
}

// The rows of CSV hold the figures of the JSON, whatever the names.
func TestPlanCSVHoldsTheFigures(t *testing.T) {
	a := invented.Plan(4, 2, invented.PlanNames)
	rows := invented.Rows(t, invented.Written(t, func(w io.Writer) error { return PlanCSV(w, a) }))
	require.Len(t, rows, 1+8)
	at := map[string]int{}
	for i, name := range rows[0] {
		at[name] = i
	}
	last := rows[8]
	o := a.Alternatives[1].Orders[3]
	for column, x := range map[string]float64{"begin_s": o.Begin.Mean, "end_s": o.End.Mean, "end_p95_s": o.End.High, "due_s": a.Orders[3].Due, "changeover_s": o.Stopped[1],
		"other_stops_s": o.Stopped[0] + o.Stopped[2] + o.Stopped[3], "good_m": o.Good, "tape_m": o.Tape} {
		assert.Equal(t, full(x), last[at[column]], column)
	}
	assert.Equal(t, "2026-11-30T06:00:00", rows[1][at["begin_date"]])
	assert.Empty(t, rows[3][at["due_s"]], "the third order has no due time")
	assert.Empty(t, rows[3][at["due_date"]])
	assert.Empty(t, rows[3][at["chance_late"]])
	for _, name := range invented.HostileNames {
		a := invented.Plan(3, 2, func(string, int) string { return name })
		for _, row := range invented.Rows(t, invented.Written(t, func(w io.Writer) error { return PlanCSV(w, a) }))[1:] {
			for _, column := range []string{"alternative", "order", "product"} {
				assert.False(t, strings.ContainsAny(row[at[column]][:1], "=+-@\t"), "%q", row[at[column]])
			}
		}
	}
}
