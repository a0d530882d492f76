package workbook

import (
	"bytes"
	"encoding/json"
	"io"
	"math"
	"strconv"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"github.com/xuri/excelize/v2"

	"rollchange/model"
	"rollchange/out/invented"
	"rollchange/out/machine"
	"rollchange/out/words"
	"rollchange/sim/effort"
	"rollchange/sim/plan"
)

func planBook(t *testing.T, a *plan.Answer, proposals []*plan.Proposal, sys model.System) []byte {
	t.Helper()
	return []byte(invented.Written(t, func(w io.Writer) error {
		return WritePlan(w, PlanBook{About: about, Answer: a, Proposals: proposals, Units: sys})
	}))
}

// rowsBelow are the rows of a sheet below the heads in the given row, by head; the raw
// values, as a program reads them.
func rowsBelow(t *testing.T, f *excelize.File, sheet string, heads int) []map[string]string {
	t.Helper()
	all, err := f.GetRows(sheet, excelize.Options{RawCellValue: true})
	require.NoError(t, err)
	var list []map[string]string
	for _, cells := range all[heads:] {
		row := map[string]string{}
		for i, v := range cells {
			if i < len(all[heads-1]) {
				row[all[heads-1][i]] = v
			}
		}
		list = append(list, row)
	}
	return list
}

// is says that a cell holds a figure; nil: that it is empty.
func is(t *testing.T, want *float64, cell, what string) {
	t.Helper()
	if want == nil {
		assert.Empty(t, cell, what)
		return
	}
	got, err := strconv.ParseFloat(cell, 64)
	if assert.NoError(t, err, "%s: %q", what, cell) {
		assert.InDelta(t, *want, got, 1e-9*math.Max(1, math.Abs(*want)), what)
	}
}

type figuresOfPlan struct {
	Begin        string
	Orders       []struct{ Order, Product string }
	Alternatives []struct {
		Alternative string
		Done        map[string]any
		OnTime      map[string]*float64 `json:"orders_on_time"`
		Late        map[string]*float64 `json:"late_s"`
		Sooner      map[string]*float64 `json:"sooner_than_first_s"`
		Orders      []struct {
			Order      string
			Line       float64
			Begin, End map[string]any
			Late       map[string]*float64 `json:"chance_late"`
			LateBy     *float64            `json:"late_by_s"`
			Running    float64             `json:"running_s"`
			Stopped    map[string]float64  `json:"stopped_s"`
			Good       float64             `json:"good_m"`
			Scrap      float64             `json:"scrap_m"`
			Residual   float64             `json:"residual_m"`
			Finished   float64             `json:"finished_rolls"`
			Changes    float64             `json:"roll_changes"`
			Tape       float64             `json:"tape_m"`
		}
	}
}

func planJSON(t *testing.T, a *plan.Answer, proposals []*plan.Proposal) figuresOfPlan {
	t.Helper()
	var j figuresOfPlan
	require.NoError(t, json.Unmarshal([]byte(invented.Written(t, func(w io.Writer) error { return machine.PlanJSON(w, about, a, proposals) })), &j))
	return j
}

// scaled is a figure of JSON in another unit.
func scaled(v any, by float64) *float64 {
	switch x := v.(type) {
	case float64:
		x *= by
		return &x
	case *float64:
		if x != nil {
			return scaled(*x, by)
		}
	}
	return nil
}

// Every figure of the orders is that of the JSON: hours for s, and times are days of a
// spreadsheet, to the minute, where the list has a begin, else hours.
func TestPlanWorkbookHoldsWhatTheJSONHas(t *testing.T) {
	for _, dated := range []bool{true, false} {
		a := invented.Plan(7, 3, invented.PlanNames)
		days := time.Date(2026, 11, 30, 6, 0, 0, 0, time.UTC).Sub(time.Date(1899, 12, 30, 0, 0, 0, 0, time.UTC)).Hours() / 24
		if !dated {
			a.Begin = time.Time{}
		}
		nan := math.NaN()
		a.Alternatives[1].Orders[6] = plan.Order{Begin: plan.Times{Mean: nan, Low: nan, High: nan}, End: plan.Times{Mean: nan, Low: nan, High: nan}, Stopped: make([]float64, 4)} // that no replication ended
		j := planJSON(t, a, nil)
		f := open(t, planBook(t, a, nil, model.Metric))
		assert.Equal(t, []string{words.SheetPlan, words.SheetOrders, words.SheetNotes}, f.GetSheetList())
		rows := rowsBelow(t, f, words.SheetOrders, 4)
		require.Len(t, rows, 21)
		when := func(v any) *float64 {
			x := scaled(v, 1./3600)
			if x != nil && dated { // to the minute
				*x = (24*60*days + math.Round(60**x)) / (24 * 60)
			}
			return x
		}
		for i, alt := range j.Alternatives {
			for k, o := range alt.Orders {
				r := rows[7*i+k]
				assert.Equal(t, []string{alt.Alternative, o.Order, j.Orders[k].Product}, []string{r["alternative"], r["order"], r["product"]})
				is(t, when(o.Begin["mean_s"]), r["begins"], "begins")
				is(t, when(o.End["mean_s"]), r["ends"], "ends")
				is(t, when(o.End["p5_s"]), r["ends, 5 %"], "5 %")
				is(t, when(o.End["p95_s"]), r["ends, 95 %"], "95 %")
				is(t, o.Late["mean"], r["chance late"], "late")
				if o.End["mean_s"] == nil {
					assert.Empty(t, r["good, m"])
					assert.Empty(t, r["hours and waits, h"])
					is(t, scaled(0., 1), r["replications in which it ended"], "ended")
					continue
				}
				is(t, scaled(o.LateBy, 1./3600), r["late by, h"], "late by")
				is(t, scaled(o.Running, 1./3600), r["running at line speed, h"], "running")
				is(t, scaled(o.Stopped["changeover"], 1./3600), r["changeover, h"], "changeover")
				is(t, scaled(o.Stopped["unwind_change"], 1./3600), r["unwind roll change, h"], "roll changes")
				is(t, scaled(o.Stopped["stop.plate cleaning"], 1./3600), r["plate cleaning, h"], "stops")
				is(t, &o.Good, r["good, m"], "good")
				is(t, scaled(o.Scrap+o.Residual, 1), r["waste, m"], "waste")
				is(t, &o.Residual, r["of which left on cores, m"], "residual")
				is(t, &o.Finished, r["finished rolls"], "rolls")
				is(t, &o.Changes, r["splices"], "splices")
				is(t, &o.Tape, r["tape, m"], "tape")
			}
			assert.NotContains(t, rows[0], "no order to run, h", "nothing waits")
		}
		whole := rowsBelow(t, f, words.SheetPlan, 4)
		said := map[string]map[string]string{}
		for _, r := range whole {
			said[r["The whole list"]] = r
		}
		for i, alt := range j.Alternatives {
			is(t, when(alt.Done["mean_s"]), said["list done"][alt.Alternative], "done")
			is(t, alt.OnTime["mean"], said["orders on time, of 5"][alt.Alternative], "on time")
			is(t, scaled(alt.Late["mean"], 1./3600), said["hours late, all orders"][alt.Alternative], "late")
			if sooner := said[`done sooner than with "by hand"`][alt.Alternative]; i > 0 {
				is(t, scaled(alt.Sooner["mean"], 1./3600), sooner, "sooner")
			} else {
				assert.Empty(t, sooner)
			}
		}
		style, err := f.GetCellStyle(words.SheetOrders, "F5")
		require.NoError(t, err)
		look, err := f.GetStyle(style)
		require.NoError(t, err)
		assert.Equal(t, map[bool]string{true: "yyyy-mm-dd hh:mm", false: "0.00"}[dated], *look.CustomNumFmt)
		shown, err := f.GetCellValue(words.SheetOrders, "F5")
		require.NoError(t, err)
		assert.Equal(t, map[bool]string{true: "2026-11-30 06:00", false: "0.00"}[dated], shown, "the first order begins with the list")
		for k, o := range a.Orders { // a whole hour is shown as one, not as the minute before
			shown, err := f.GetCellValue(words.SheetOrders, at(10, 5+k))
			require.NoError(t, err)
			if dated && !math.IsInf(o.Due, 1) {
				raw, err := f.GetCellValue(words.SheetOrders, at(10, 5+k), excelize.Options{RawCellValue: true})
				require.NoError(t, err)
				got, err := strconv.ParseFloat(raw, 64)
				require.NoError(t, err)
				assert.GreaterOrEqual(t, got, math.Round(got*1440)/1440-2e-11, "not cut off, which a spreadsheet would show as the minute before")
				assert.Equal(t, a.Begin.Add(time.Duration(o.Due)*time.Second).Format("2006-01-02 15:04"), shown)
			}
		}
	}
}

// Heads stay in sight, the orders can be filtered, and feet are feet.
func TestPlanWorkbookIsForPeople(t *testing.T) {
	a := invented.Plan(5, 2, invented.PlanNames)
	data := planBook(t, a, invented.Proposals(a), model.Imperial)
	f := open(t, data)
	for _, sheet := range []string{words.SheetPlan, words.SheetOrders, words.SheetProposal} {
		p, err := f.GetPanes(sheet)
		require.NoError(t, err)
		assert.True(t, p.Freeze && p.YSplit == 4, sheet)
	}
	filters := ""
	for _, n := range f.GetDefinedName() {
		if n.Name == "_xlnm._FilterDatabase" {
			filters = n.RefersTo
		}
	}
	assert.Contains(t, filters, "$A$4:$")
	assert.Contains(t, filters, "$14", "ten orders below the heads")
	rows := rowsBelow(t, f, words.SheetOrders, 4)
	is(t, scaled(4000/0.3048, 1), rows[0]["length, ft"], "length")

	said := rowsBelow(t, f, words.SheetProposal, 4)
	assert.Equal(t, "by hand", said[0]["alternative"])
	assert.Equal(t, "hours late", said[0]["less of"])
	is(t, scaled(20., 1), said[0]["the list, h"], "listed")
	is(t, scaled(10., 1), said[0]["gain, h"], "gain")
	sequence := rowsBelow(t, f, words.SheetProposal, 7)
	require.Len(t, sequence, 5)
	assert.Equal(t, []string{"1", "4905", "wine, back", "5"}, []string{sequence[0]["place"], sequence[0]["order"], sequence[0]["product"], sequence[0]["place in the list"]})
	assert.True(t, bytes.Equal(data, planBook(t, a, invented.Proposals(a), model.Imperial)), "the same each time")
}

// Names of orders, products, alternatives and stops are text, whatever they begin with.
func TestPlanWorkbookTextIsText(t *testing.T) {
	for _, name := range effort.Some(invented.HostileNames, 3) {
		a := invented.Plan(3, 2, func(string, int) string { return name })
		f := open(t, planBook(t, a, invented.Proposals(a), model.Metric))
		for _, sheet := range f.GetSheetList() {
			rows, err := f.GetRows(sheet)
			require.NoError(t, err)
			for i, row := range rows {
				for j, text := range row {
					formula, err := f.GetCellFormula(sheet, at(j+1, i+1))
					require.NoError(t, err)
					assert.Empty(t, formula)
					assert.False(t, strings.ContainsAny(text, "\x00\x1b\u202e\t"), "%q", text)
				}
			}
		}
	}
}

// A list that no sheet holds is an error, before anything is simulated.
func TestPlanWorkbookHasRowsForSoMany(t *testing.T) {
	assert.NoError(t, CheckPlan(100_000, 10))
	assert.NoError(t, CheckPlan(1<<20-4, 1))
	assert.ErrorContains(t, CheckPlan(1<<20-3, 1), "use --csv")
}
