package scenarios

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"rollchange/model"
	"rollchange/scenarios/cells"
)

const weekText = `
[line]
speed = "100 m/min"
accel = "0.5 m/s2"
decel = "0.5 m/s2"
[unwind]
change = "manual"
roll_length = "2000 m"
change_time = "4 min"
[rewind]
change = "manual"
roll_length = "500 m"
change_time = "1 min"
[crew]
lines = 2
[[product]]
name = "wide film"
line.speed = "80 m/min"
[[product]]
name = "narrow"
rewind.roll_length = "750 m"
[orders]
`

const weekList = `Order;Product;Length [m];Rolls;Due;Earliest;Line
A1;Wide Film;3000;;2026-12-01 10:00;;
A2;narrow;;4;52 h;2026-12-01;2
`

// A list is the same from a file, from a workbook and in the scenario itself: products
// by their names, rolls as so many of the product's, dates from the begin.
func TestListsAreRead(t *testing.T) {
	dir := t.TempDir()
	require.NoError(t, os.WriteFile(filepath.Join(dir, "week.csv"), []byte(weekList), 0o600))
	require.NoError(t, os.WriteFile(filepath.Join(dir, "week.xlsx"), []byte("PK\x03\x04 a workbook"), 0o600))
	asked := ""
	workbook := func(name string, data []byte, sheet string) (*cells.Table, error) {
		asked = name + " " + sheet
		return cells.Read(name, []byte(weekList))
	}
	want := []model.Order{
		{Name: "A1", Product: 0, Length: 3000, Due: 28 * 3600},
		{Name: "A2", Product: 1, Length: 4 * 750, Due: 52 * 3600, Earliest: 18 * 3600, Line: 2},
	}
	for _, keys := range []string{`file = "week.csv"`, "file = \"week.xlsx\"\nsheet = \"Plan\"", "list = \"\"\"\n" + weekList + "\"\"\""} {
		text := weekText + "begin = \"2026-11-30 06:00\"\n" + keys
		path := filepath.Join(dir, "week.toml")
		require.NoError(t, os.WriteFile(path, []byte(text), 0o600))
		s, err := Files{Workbook: workbook}.Load(path, nil)
		require.NoError(t, err, keys)
		l := &s.Study.Alternatives[0].Line
		assert.Equal(t, want, l.Orders.List, keys)
		assert.Equal(t, "2026-11-30 06:00", l.Orders.Begin.Format("2006-01-02 15:04"))
		assert.InDelta(t, 80./60, l.Products[0].Line.Process.Speed, 1e-12)
		assert.InDelta(t, 100./60, l.Products[1].Line.Process.Speed, 1e-12)
		assert.True(t, l.Unwind.Reuse && l.Rewind.EndWithOrder, "with [orders] both are so unless said")
	}
	assert.Equal(t, "week.xlsx Plan", asked)
	_, err := Parse("week.toml", []byte(weekText+`file = "week.xlsx"`), dir)
	assert.ErrorContains(t, err, "save its sheet as CSV", "where nothing reads workbooks")
}

// A row that does not go with the scenario is named with its file and row.
func TestListsAgainstTheScenario(t *testing.T) {
	dir := t.TempDir()
	for _, x := range [][2]string{
		{"order;product;length [m];line\n1;narrow;100;3\n", "week.csv:2: line: there is no line 3: crew.lines is 2"},
		{"order;product;length [m]\n1;narow;100\n", `week.csv:2: product: there is no product "narow"; did you mean "narrow"?`},
		{"order;product;length [m];due\n1;narrow;100;2026-12-01\n", "orders.begin: is needed when the list has dates"},
		{"month;sales\nMay;12\n", "week.csv"},
	} {
		require.NoError(t, os.WriteFile(filepath.Join(dir, "week.csv"), []byte(x[0]), 0o600))
		_, err := Parse("week.toml", []byte(weekText+`file = "week.csv"`), dir)
		require.Error(t, err, x[0])
		assert.Contains(t, err.Error(), x[1])
	}
	_, err := Parse("week.toml", []byte(weekText+`file = "none.csv"`), dir)
	assert.ErrorContains(t, err, "there is no such file")
}

// A product can be changed from outside by its number or its name, as anything else.
func TestProductsAreSet(t *testing.T) {
	text := weekText + "[[alternative]]\nname = \"a\"\n"
	text = text[:len(text)-len("[[alternative]]\nname = \"a\"\n")] + "list = \"\"\"\norder;product;length [m]\n1;narrow;100\n\"\"\"\n"
	for set, speed := range map[string][2]float64{
		"product[wide film].line.speed=60 m/min": {60, 100}, "product[1].line.speed=60 m/min": {80, 60}, "line.speed=90 m/min": {80, 90},
	} {
		s, err := Parse("week.toml", []byte(text), ".", ParseSet(set))
		require.NoError(t, err, set)
		for i, v := range speed {
			assert.InDelta(t, v/60, s.Study.Alternatives[0].Line.Products[i].Line.Process.Speed, 1e-12, set)
		}
	}
	_, err := Parse("week.toml", []byte(text), ".", ParseSet("product[wide flim].line.speed=60 m/min"))
	assert.ErrorContains(t, err, "wide flim")
}

// A name that holds ] or = is found in quotes.
func TestProductsInQuotes(t *testing.T) {
	text := strings.Replace(weekText, `"narrow"`, `"a]b=c"`, 1) + "list = \"\"\"\norder;product;length [m]\n1;a]b=c;100\n\"\"\"\n"
	s, err := Parse("week.toml", []byte(text), ".", ParseSet(`product["a]b=c"].line.speed=60 m/min`))
	require.NoError(t, err)
	assert.InDelta(t, 1, s.Study.Alternatives[0].Line.Products[1].Line.Process.Speed, 1e-12)
}

// What the list alone does not say stands in the scenario.
func TestColumnsAndDatesOfAList(t *testing.T) {
	list := "list = \"\"\"\nNo;Artikelnummer;Was;Qty (m);Due\n1;x;narrow;1.500;03/02/2026\n\"\"\"\n"
	_, err := Parse("week.toml", []byte(weekText+list), ".")
	require.Error(t, err)
	s, err := Parse("week.toml", []byte(weekText+"begin = \"2026-01-30\"\ncolumns = \"product=Was,order=No\"\ndates = \"day-first\"\ndecimal = \"point\"\n"+list), ".")
	require.NoError(t, err)
	o := s.Study.Alternatives[0].Line.Orders.List[0]
	assert.InDelta(t, 1.5, o.Length, 1e-12)
	assert.InDelta(t, 5*86400, o.Due, 1e-9, "the end of the third of February")
	_, err = Parse("week.toml", []byte(weekText+"columns = \"colour=3\"\n"+list), ".")
	assert.ErrorContains(t, err, "columns")
}
