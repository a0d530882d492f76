package workbook

import (
	"bytes"
	"encoding/json"
	"io"
	"maps"
	"math"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"github.com/xuri/excelize/v2"

	"rollchange/model"
	"rollchange/out/invented"
	"rollchange/out/machine"
	"rollchange/out/words"
	"rollchange/sim/effort"
	"rollchange/sim/replicate"
	"rollchange/sim/savings"
)

// about belongs to the fixture.
var about = words.About{Version: "0.0.0", Title: "Invented line", File: "invented.toml", SHA256: "00ff"}

func workbookOf(t *testing.T, c *savings.Case, rs *replicate.Results) []byte {
	t.Helper()
	return workbookIn(t, c, rs, model.Metric)
}

func workbookIn(t *testing.T, c *savings.Case, rs *replicate.Results, sys model.System) []byte {
	t.Helper()
	return []byte(invented.Written(t, func(w io.Writer) error {
		return Write(w, Book{About: about, Case: c, Results: rs, At: 1, Sources: map[string]string{"economics": "=invented, @home"}, Units: sys})
	}))
}

func open(t *testing.T, data []byte) *excelize.File {
	t.Helper()
	f, err := excelize.OpenReader(bytes.NewReader(data))
	require.NoError(t, err)
	t.Cleanup(func() { f.Close() })
	return f
}

// cellOf is the sheet and the cell of a name.
func cellOf(t *testing.T, f *excelize.File, name string) (sheet, cell string) {
	t.Helper()
	for _, d := range f.GetDefinedName() {
		if d.Name == name {
			sheet, cell, _ = strings.Cut(strings.ReplaceAll(d.RefersTo, "$", ""), "!")
			return strings.Trim(sheet, "'"), cell
		}
	}
	t.Fatalf("no cell is named %s", name)
	return "", ""
}

// named is the value that the cell of a name holds.
func named(t *testing.T, f *excelize.File, name string) string {
	t.Helper()
	sheet, cell := cellOf(t, f, name)
	v, err := f.GetCellValue(sheet, cell, excelize.Options{RawCellValue: true})
	require.NoError(t, err)
	return v
}

// figures are the figures of the JSON that the workbook calculates, by the name
// of their cell; nil where there is none.
func figures(t *testing.T, c *savings.Case, sys model.System) map[string]*float64 {
	t.Helper()
	type value struct {
		AtMeans *float64 `json:"at_means"`
	}
	type year struct {
		Good          float64 `json:"good_m"`
		Hours         float64 `json:"hours_s"`
		Waste         float64 `json:"waste_m"`
		OperatorHours float64 `json:"operator_hours_s"`
		Tape          float64 `json:"tape_m"`
	}
	var j struct {
		Savings    map[string]value `json:"savings_per_year"`
		Investment value            `json:"investment"`
		NPV        value            `json:"npv"`
		PerYear    value            `json:"npv_per_year"`
		IRR        value            `json:"irr"`
		MIRR       value            `json:"mirr"`
		Simple     value            `json:"simple_payback"`
		Discounted value            `json:"discounted_payback"`
		SIR        value            `json:"savings_to_investment"`
		Lost       value            `json:"lost_production"`
		Year       map[string]year  `json:"year_at_means"`
		Shares     []struct {
			Savings value `json:"savings_per_year"`
			NPV     value `json:"npv"`
			Payback value `json:"simple_payback"`
			IRR     value `json:"irr"`
		} `json:"if_only_a_share_is_saved"`
	}
	require.NoError(t, json.Unmarshal([]byte(invented.Written(t, func(w io.Writer) error { return machine.PaybackJSON(w, about, c) })), &j))
	m := map[string]*float64{"saved_a_year": j.Savings["total"].AtMeans, "investment_extra": j.Investment.AtMeans, "npv": j.NPV.AtMeans, "npv_function": j.NPV.AtMeans, "npv_a_year": j.PerYear.AtMeans,
		"internal_rate": j.IRR.AtMeans, "modified_rate": j.MIRR.AtMeans, "simple_payback": j.Simple.AtMeans, "discounted_payback": j.Discounted.AtMeans, "savings_to_investment": j.SIR.AtMeans}
	if x := j.Lost.AtMeans; x != nil {
		m["lost_production"] = x
	}
	for cause, x := range j.Savings {
		if cause != "total" {
			m["saved_"+cause] = x.AtMeans
		}
	}
	for i, x := range j.Shares {
		m["saved_at"+shareNames[i]] = x.Savings.AtMeans
		if i < 2 {
			m["npv"+shareNames[i]], m["simple_payback"+shareNames[i]], m["internal_rate"+shareNames[i]] = x.NPV.AtMeans, x.Payback.AtMeans, x.IRR.AtMeans
		}
	}
	long, length := words.LongUnit(sys).SI, measuresOf(sys).length
	for side, y := range j.Year {
		in := func(x float64) *float64 { return &x }
		m[side+"_good"], m[side+"_waste"], m[side+"_tape"] = in(y.Good/long), in(y.Waste/long), in(y.Tape/length)
		m[side+"_hours"], m[side+"_operator_hours"] = in(y.Hours/3600), in(y.OperatorHours/3600)
	}
	return m
}

// agree says that the named cells hold the figures, to 1e-9.
func agree(t *testing.T, what string, f *excelize.File, want map[string]*float64) {
	t.Helper()
	for name, x := range want {
		got := named(t, f, name)
		v, err := strconv.ParseFloat(got, 64)
		switch {
		case x == nil:
			assert.Contains(t, []string{"never", "none", "not unique", "nothing invested"}, got, "%s: %s", what, name)
		case !assert.NoError(t, err, "%s: %s is %q, not %g", what, name, got, *x):
		case math.Abs(v-*x) > 1e-9*math.Max(1e-3, math.Abs(*x)):
			t.Errorf("%s: %s is %.15g, the JSON has %.15g", what, name, v, *x)
		}
	}
}

// booked is a case with its workbook and what that has to hold.
type booked struct {
	data []byte
	want map[string]*float64
}

var made = map[string]booked{}

// cases are the workbooks of invented.Cases, each made once; the long form has all.
func cases(t *testing.T) map[string]booked {
	t.Helper()
	all := invented.Cases()
	some := map[string]booked{}
	names := slices.Sorted(maps.Keys(all))
	for i := 0; i < len(names); i += effort.Of(14, 5, 1) { // the usual form has every fifth
		what := names[i]
		if _, has := made[what]; !has {
			c, rs := invented.Case(t, all[what])
			sys := model.Metric
			if len(made)%3 == 2 { // some in feet and pounds
				sys = model.Imperial
			}
			made[what] = booked{workbookIn(t, c, rs, sys), figures(t, c, sys)}
		}
		some[what] = made[what]
	}
	return some
}

// What a reader that does not calculate sees is what the JSON says.
func TestWorkbookHoldsItsValues(t *testing.T) {
	effort.NotInRace(t)
	for what, c := range cases(t) {
		agree(t, what, open(t, c.data), c.want)
	}
}

// The formulas as another engine calculates them; it finds rates to 1e-8 only.
func TestWorkbookFormulasCalculateTheSame(t *testing.T) {
	if testing.Short() {
		t.Skip("long")
	}
	effort.NotInRace(t)
	for what, c := range cases(t) {
		f := open(t, c.data)
		want := maps.Clone(c.want)
		delete(want, "npv_function") // it takes the first of a range only
		for name, x := range want {
			sheet, cell := cellOf(t, f, name)
			got, err := f.CalcCellValue(sheet, cell, excelize.Options{RawCellValue: true, MaxCalcIterations: 1000})
			require.NoError(t, err, "%s: %s", what, name)
			v, err := strconv.ParseFloat(got, 64)
			if x == nil {
				assert.Error(t, err, "%s: %s is %q", what, name, got)
				continue
			}
			tol := 1e-9
			if strings.HasPrefix(name, "internal_rate") {
				tol = 1e-6
			}
			if err != nil || math.Abs(v-*x) > tol*math.Max(1e-3, math.Abs(*x)) {
				t.Errorf("%s: %s is %q, the JSON has %.15g", what, name, got, *x)
			}
		}
	}
}

func TestWorkbookIsTheSameEachTime(t *testing.T) {
	if testing.Short() {
		t.Skip("long")
	}
	c, rs := invented.Case(t, nil)
	first := workbookOf(t, c, rs)
	for range effort.Of(1, 2, 3) {
		assert.True(t, bytes.Equal(first, workbookOf(t, c, rs)))
	}
}

// Text that a person typed is text in the workbook, whatever it begins with.
func TestWorkbookTextIsText(t *testing.T) {
	names := []string{"=cmd|' /C calc'!A0", strings.Repeat("long ", 25000), "\u202eאוטומטי\u202c", "@SUM(A1)", "<script>alert(1)</script>", "+1+1", "-2", "e\u0301\u0000\u0007"}
	for _, name := range names[:effort.Of(1, 4, len(names))] {
		c, rs := invented.Case(t, func(s *model.Study, rs *replicate.Results) {
			s.Alternatives[1].Name = name
			rs.Alternatives[1].Names = append(rs.Alternatives[1].Names, "time.stopped.stop."+name)
			rs.Alternatives[1].Metrics["time.stopped.stop."+name] = invented.Share(0.1, 0.01)
		})
		data := workbookOf(t, c, rs)
		f := open(t, data)
		for _, sheet := range f.GetSheetList() {
			rows, err := f.GetRows(sheet)
			require.NoError(t, err)
			for i, row := range rows {
				for j, text := range row {
					assert.NotContains(t, text, "\u202e")
					formula, err := f.GetCellFormula(sheet, at(j+1, i+1))
					require.NoError(t, err)
					assert.NotContains(t, formula, "cmd")
					if text != "" && strings.ContainsAny(text[:1], "=+@") {
						kind, err := f.GetCellType(sheet, at(j+1, i+1))
						require.NoError(t, err)
						assert.Equal(t, excelize.CellTypeSharedString, kind, text)
						assert.Empty(t, formula)
					}
				}
			}
		}
		assert.Less(t, len(data), 200000)
	}
}

func TestWorkbookIsWholeOrNotThere(t *testing.T) {
	c, rs := invented.Case(t, nil)
	path := filepath.Join(t.TempDir(), "a.xlsx")
	err := invented.Saver().Save(path, func(io.Writer) error {
		return Write(&smallDisk{left: 5000}, Book{About: about, Case: c, Results: rs, At: 1})
	})
	assert.Error(t, err)
	assert.NoFileExists(t, path)
}

// smallDisk takes so many bytes and no more.
type smallDisk struct{ left int }

func (d *smallDisk) Write(p []byte) (int, error) {
	if len(p) > d.left {
		return 0, io.ErrShortWrite
	}
	d.left -= len(p)
	return len(p), nil
}

// The answer on the first sheet is the mean of the draws.
func TestWorkbookTellsTheMeanOverTheDraws(t *testing.T) {
	c, rs := invented.Case(t, invented.Prices(func(e *model.Economics) { e.Demand = model.Dist{Law: model.Uniform, A: 21328e3, B: 40328e3} }))
	r := c.Random
	require.Greater(t, math.Abs(c.Total.Value-r.Total.Mean), 20000.)
	f := open(t, workbookOf(t, c, rs))
	for name, x := range map[string]float64{"answer_saved_a_year": r.Total.Mean, "answer_npv": r.NPV.Mean, "answer_payback": r.Simple.Median} {
		sheet, _ := cellOf(t, f, name)
		assert.Equal(t, f.GetSheetList()[0], sheet, "on the first sheet")
		got, err := strconv.ParseFloat(named(t, f, name), 64)
		require.NoError(t, err, name)
		assert.InEpsilon(t, x, got, 1e-12, name)
	}
}

// What the records leave open is not in the half widths of the results, and that is said.
func TestWorkbookSaysWhatItsHalfWidthsHold(t *testing.T) {
	if testing.Short() {
		t.Skip("long")
	}
	c, rs := invented.Case(t, invented.Prices(func(*model.Economics) {}))
	says := func() bool {
		f := open(t, workbookOf(t, c, rs))
		for _, sheet := range f.GetSheetList() {
			rows, err := f.GetRows(sheet)
			require.NoError(t, err)
			for _, row := range rows {
				if slices.Contains(row, words.ResultsAlone) {
					return true
				}
			}
		}
		return false
	}
	assert.False(t, says())
	invented.Recorded(rs, 0.01)
	assert.True(t, says())
}
