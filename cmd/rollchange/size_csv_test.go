package main

import (
	"encoding/csv"
	"encoding/json"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// Every sizing question has an answer as CSV, its first row the value that JSON has;
// of two storages the second follows.
func TestSizesAsCSV(t *testing.T) {
	line := strings.Replace(sized, "DWELL", `{ dist = "lognormal", mean = "8 s", sd = "2 s" }`, 1)
	uncertain := strings.Replace(line, `residual = "6 m"`, "residual = \"6 m\"\nresidual_error = { dist = \"normal\", mean = \"0 m\", sd = \"1 m\" }\nresidual_least = \"1 m\"\nrecover = \"90 s\"", 1)
	for _, x := range []struct {
		text string
		args []string
	}{
		{line, []string{"storage", "--risk", "1 %"}},
		{line, []string{"speed"}},
		{uncertain, []string{"residual", "--web-cost", "0.1", "--run-out-cost", "50"}},
		{line, []string{"crew"}},
	} {
		args := with([]string{"size", x.args[0], "-"}, x.args[1:]...)
		_, out, errs := callIn(together, x.text, with(args, "--csv")...)
		rows, err := csv.NewReader(strings.NewReader(out)).ReadAll()
		require.NoError(t, err)
		require.Greater(t, len(rows), 3, "%v: %s", args, errs)
		assert.Equal(t, "question,of,alternative,met,figure,name,at,unit,value,low,high", strings.Join(rows[0], ","))
		_, text, _ := callIn(together, x.text, with(args, "--json")...)
		var a sizeAnswer
		require.NoError(t, json.Unmarshal([]byte(text), &a))
		number := func(x float64) string { return strconv.FormatFloat(x, 'g', -1, 64) }
		first := rows[1]
		assert.Equal(t, []string{x.args[0], strconv.FormatBool(a.Met), "answer"}, []string{first[0], first[3], first[4]})
		assert.Equal(t, []string{a.Answer.Unit, number(a.Answer.Value), number(a.Answer.Low), number(a.Answer.High)}, first[7:11], "%v", args)
	}
	code, _, errs := call(t, line, "size", "crew", "-", "--csv", "--json")
	assert.Equal(t, exitBad, code)
	assert.Contains(t, errs, "none of the others")
}
