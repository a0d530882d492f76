package main

import (
	"bytes"
	"encoding/csv"
	"encoding/json"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"github.com/xuri/excelize/v2"
)

// The week of the shipped press in every form: each order of each alternative is there,
// the figures are the same, and the picture is drawn.
func TestPlan(t *testing.T) {
	t.Chdir(t.TempDir())
	require.NoError(t, os.WriteFile("week.toml", []byte(template(t, "label_week")), 0o600))
	code, text, errs := call(t, "", "plan", "week.toml", "--replications", "3", "--plots", "p", "--xlsx", "week.xlsx", "--no-cache")
	require.Equal(t, exitAnswered, code, errs)
	for _, want := range []string{"3 replications of the list of 24 orders, seed 1", "list done", "orders on time, of 24", "4901 wine, front", "4924 cheese, film", "Mon 06:00"} {
		assert.Contains(t, text, want)
	}
	for _, line := range strings.Split(text, "\n") {
		assert.LessOrEqual(t, len([]rune(line)), 80, line)
	}
	assert.FileExists(t, "p/plan.svg")
	assert.FileExists(t, "p/plan.png")
	book, err := excelize.OpenFile("week.xlsx")
	require.NoError(t, err)
	defer book.Close()
	listed, err := book.GetRows("Orders")
	require.NoError(t, err)
	assert.Len(t, listed, 4+2*24)

	if testing.Short() {
		return // the search is tried in its own package
	}
	type planned struct {
		Begin        string `json:"begin"`
		Orders       []struct{ Order, Product string }
		Alternatives []struct {
			Alternative string
			Orders      []struct {
				Order string
				End   struct {
					Mean float64 `json:"mean_s"`
					Date string  `json:"mean_date"`
				}
			}
		}
		Proposals []struct {
			Sequence []string
			Exact    bool
			Gain     struct{ Mean float64 } `json:"gain_s"`
		}
	}
	plan := func(args ...string) (j planned) {
		require.NoError(t, json.Unmarshal([]byte(must(t, with([]string{"plan", "--replications", "3", "--json"}, args...)...)), &j))
		assert.Equal(t, "2026-11-30T06:00:00", j.Begin)
		return j
	}
	j := plan("week.toml")
	require.Len(t, j.Alternatives, 2)
	assert.Empty(t, j.Proposals)

	// Each alternative is searched for itself, so one shows how it is told.
	one, _, found := strings.Cut(template(t, "label_week"), "[[alternative]]\nname = \"automatic\"")
	require.True(t, found)
	require.NoError(t, os.WriteFile("one.toml", []byte(one), 0o600))
	proposed := plan("one.toml", "--improve", "changeover", "--keep", "4901").Proposals
	require.Len(t, proposed, 1)
	assert.Len(t, proposed[0].Sequence, 24)
	assert.Equal(t, "4901", proposed[0].Sequence[0])
	assert.False(t, proposed[0].Exact, "of 24 orders no search is")
	assert.Greater(t, proposed[0].Gain.Mean, 0.)

	code, text, errs = call(t, "", "plan", "week.toml", "--replications", "3", "--csv")
	require.Equal(t, exitAnswered, code, errs)
	rows, err := csv.NewReader(strings.NewReader(text)).ReadAll()
	require.NoError(t, err)
	require.Len(t, rows, 1+2*24)
	at := map[string]int{}
	for i, name := range rows[0] {
		at[name] = i
	}
	assert.Equal(t, j.Alternatives[1].Orders[23].Order, rows[48][at["order"]])
	assert.Equal(t, j.Alternatives[1].Orders[23].End.Date, rows[48][at["end_date"]], "as in JSON")
}

// What cannot be planned is said before anything is simulated.
func TestPlanSaysWhatIsWrong(t *testing.T) {
	t.Chdir(t.TempDir())
	require.NoError(t, os.WriteFile("line.toml", []byte(template(t, "label_press")), 0o600))
	week := template(t, "label_week")
	require.NoError(t, os.WriteFile("week.toml", []byte(week), 0o600))
	require.NoError(t, os.WriteFile("bad.toml", []byte(strings.Replace(week, "4902;  wine, back; ", "4902;  wine, bock; ", 1)), 0o600))
	for _, x := range []struct {
		args []string
		says string
	}{
		{[]string{"line.toml"}, "no list of orders"},
		{[]string{"week.toml", "--improve", "speed"}, `no target "speed"; choose late, changeover, done`},
		{[]string{"week.toml", "--xlsx", "plan.ods"}, "--xlsx: the name of the workbook must end in .xlsx"},
		{[]string{"week.toml", "--keep", "4901"}, "--keep: is for --improve"},
		{[]string{"week.toml", "--improve", "late", "--keep", "1", "--replications", "2"}, `no order "1" in the list`},
		{[]string{"week.toml", "--set", "orders.repeat=true"}, "a plan needs repeat = false"},
		{[]string{"bad.toml"}, `there is no product "wine, bock"; did you mean "wine, back"?`},
	} {
		code, stdout, errs := call(t, "", append([]string{"plan"}, x.args...)...)
		assert.Equal(t, exitBad, code, "%v", x.args)
		assert.Empty(t, stdout)
		assert.Contains(t, errs, x.says, "%v", x.args)
	}
}

// The picture of docs/orders.md is what the shipped week gives, alone and beside the plan.
func TestPictureOfTheWeek(t *testing.T) {
	const shown = "../../docs/week.svg"
	path, err := filepath.Abs(shown)
	require.NoError(t, err)
	t.Chdir(t.TempDir())
	require.NoError(t, os.WriteFile("week.toml", []byte(template(t, "label_week")), 0o600))
	must(t, "plot", "plan", "week.toml", "-o", "alone.svg")
	alone, err := os.ReadFile("alone.svg")
	require.NoError(t, err)
	if !testing.Short() {
		must(t, "plan", "week.toml", "--plots", "p")
		beside, err := os.ReadFile("p/plan.svg")
		require.NoError(t, err)
		assert.Equal(t, string(beside), string(alone))
	}
	if *update {
		require.NoError(t, os.WriteFile(path, alone, 0o644))
	}
	want, err := os.ReadFile(path)
	require.NoError(t, err)
	assert.True(t, bytes.Equal(want, alone), "docs/week.svg is another picture; -update writes it")
}
