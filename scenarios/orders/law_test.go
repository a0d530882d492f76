package orders

import (
	"fmt"
	"math"
	"math/rand/v2"
	"runtime"
	"strconv"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"rollchange/scenarios/cells"
	"rollchange/scenarios/written"
	"rollchange/sim/effort"
)

// dialect is a way in which a list is written down.
type dialect struct {
	comma    string
	decimal  string
	thousand string
	heads    map[Role]string // without the unit
	unit     string
	inCell   bool
	date     string // layout; "hours": from the begin
	order    []Role // of the columns; NoRole: one of something else
	title    bool
}

var languages = []map[Role]string{
	{Order: "Order no.", Product: "Product", Length: "Length", Rolls: "Finished rolls", Due: "Due date", Earliest: "Earliest start", OnLine: "Line"},
	{Order: "Auftragsnummer", Product: "ARTIKEL", Length: "Länge", Rolls: "Anzahl Rollen", Due: "Liefertermin", Earliest: "Frühester Start", OnLine: "Anlage"},
	{Order: "N° de commande", Product: "Désignation", Length: "Longueur", Rolls: "Nombre de bobines", Due: "Échéance", Earliest: "Début", OnLine: "Ligne"},
	{Order: "Pedido", Product: "Artículo", Length: "Longitud", Rolls: "Bobinas", Due: "Fecha de entrega", Earliest: "Inicio", OnLine: "Máquina"},
	{Order: "Commessa", Product: "Prodotto", Length: "Lunghezza", Rolls: "Rotoli", Due: "Consegna", Earliest: "Inizio", OnLine: "Linea"},
	{Order: "Ordernummer", Product: "Artikel", Length: "Lengte", Rolls: "Aantal rollen", Due: "Leverdatum", Earliest: "Vroegste start", OnLine: "Lijn"},
	{Order: "Beställning", Product: "Produkt", Length: "Längd", Rolls: "Antal rullar", Due: "Leveransdatum", Earliest: "Tidigaste start", OnLine: "Linje"},
	{Order: "Nr zamówienia", Product: "Wyrób", Length: "Długość", Rolls: "Liczba rolek", Due: "Termin realizacji", Earliest: "Najwcześniejszy start", OnLine: "Maszyna"},
}

func drawDialect(t *rapid.T) dialect {
	d := dialect{heads: rapid.SampledFrom(languages).Draw(t, "heads"), unit: rapid.SampledFrom([]string{"m", "km", "ft"}).Draw(t, "unit"),
		comma: rapid.SampledFrom([]string{",", ";", "\t", "|"}).Draw(t, "comma"), inCell: rapid.Bool().Draw(t, "unit in the cell"), title: rapid.Bool().Draw(t, "title"),
		date: rapid.SampledFrom([]string{"2006-01-02", "02.01.2006", "2.1.06", "01/02/2006", "02/01/2006", "2 Jan 2006", "hours", "days"}).Draw(t, "date")}
	d.decimal = rapid.SampledFrom([]string{",", "."}).Draw(t, "decimal")
	d.thousand = rapid.SampledFrom([]string{"", " ", map[string]string{",": ".", ".": ","}[d.decimal]}).Draw(t, "thousands")
	d.order = rapid.Permutation([]Role{NoRole, Order, Product, Length, Rolls, Due, Earliest, OnLine}).Draw(t, "columns")
	return d
}

// number is a number in the dialect, with one decimal so that its mark is sure.
func (d dialect) number(x float64) string {
	whole, part, _ := strings.Cut(strconv.FormatFloat(x, 'f', 1, 64), ".")
	for i := len(whole) - 3; i > 0; i -= 3 {
		whole = whole[:i] + d.thousand + whole[i:]
	}
	return whole + d.decimal + part
}

func (d dialect) moment(m Moment, day bool) string {
	switch {
	case !m.Given:
		return ""
	case !m.Dated && d.date == "days":
		return fmt.Sprintf("%d d %d h", int(m.After/86400), int(m.After)%86400/3600)
	case !m.Dated:
		return strings.TrimSuffix(d.number(m.After/3600), d.decimal+"0")
	case day: // the end of the day
		return m.Date.AddDate(0, 0, -1).Format(d.date)
	}
	return m.Date.Format(d.date + " 15:04")
}

func (d dialect) quoted(s string) string {
	if strings.Contains(s, d.comma) {
		return `"` + s + `"`
	}
	return s
}

func (d dialect) hourly() bool { return d.date == "hours" || d.date == "days" }

// write writes a list; days says which due dates are days alone.
func (d dialect) write(rows []Row, days []bool) string {
	var b strings.Builder
	if d.title {
		b.WriteString("Plan of the week\n\n")
	}
	line := func(cell func(r Role) string) {
		for i, r := range d.order {
			if i > 0 {
				b.WriteString(d.comma)
			}
			b.WriteString(d.quoted(cell(r)))
		}
		b.WriteByte('\n')
	}
	line(func(r Role) string {
		switch {
		case r == NoRole:
			return "Remark"
		case r == Length && !d.inCell:
			return d.heads[r] + " (" + d.unit + ")"
		case (r == Due || r == Earliest) && d.date == "hours":
			return d.heads[r] + " [h]"
		}
		return d.heads[r]
	})
	for i, o := range rows {
		line(func(r Role) string {
			switch r {
			case Order:
				return o.Order
			case Product:
				return o.Product
			case Length:
				if math.IsNaN(o.Length) {
					return ""
				}
				s := d.number(o.Length / written.LengthUnit(d.unit))
				if d.inCell {
					s += " " + d.unit
				}
				return s
			case Rolls:
				if math.IsNaN(o.Rolls) {
					return ""
				}
				return strconv.Itoa(int(o.Rolls))
			case Due:
				return d.moment(o.Due, days[i])
			case Earliest:
				return d.moment(o.Earliest, false)
			case OnLine:
				if o.OnLine == 0 {
					return ""
				}
				return strconv.Itoa(o.OnLine)
			}
			return "x"
		})
	}
	return b.String()
}

// Whatever the list and the way in which it is written down, it is read back the
// same: order of columns, language, unit, marks, dates.
func TestEveryListIsReadBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := drawDialect(t)
		begin := time.Date(2026, 3, 2, 0, 0, 0, 0, time.UTC)
		var rows []Row
		var days []bool
		at := 2
		if d.title {
			at = 4
		}
		for i := range rapid.IntRange(1, 30).Draw(t, "orders") {
			o := Row{Line: at + i, Order: fmt.Sprintf("A-%d", i*7), Product: rapid.StringMatching(`[A-Z][a-zé]{0,9} [0-9]{2}`).Draw(t, "product"), Length: none, Rolls: none, OnLine: rapid.IntRange(0, 3).Draw(t, "line")}
			if rapid.Bool().Draw(t, "by rolls") && i > 0 {
				o.Rolls = float64(rapid.IntRange(1, 999).Draw(t, "rolls"))
			} else {
				o.Length = float64(rapid.IntRange(1, 99_999_999).Draw(t, "tenths")) / 10 * written.LengthUnit(d.unit)
				o.Length = min(o.Length, 1e6)
				o.Length = math.Round(o.Length/written.LengthUnit(d.unit)*10) / 10 * written.LengthUnit(d.unit)
				if o.Length == 0 {
					o.Length = written.LengthUnit(d.unit)
				}
			}
			day := false
			draw := func(what string) Moment {
				hours := rapid.IntRange(-1, 500).Draw(t, what)
				switch {
				case hours < 0:
					return Moment{}
				case d.hourly():
					return after(float64(hours))
				}
				return Moment{Given: true, Dated: true, Date: begin.Add(time.Duration(hours)*time.Hour + 7*time.Minute)}
			}
			o.Due, o.Earliest = draw("due"), draw("earliest")
			if o.Due.Dated && rapid.Bool().Draw(t, "a day alone") {
				day, o.Due.Date = true, o.Due.Date.Truncate(24*time.Hour).AddDate(0, 0, 1)
			}
			if i == 0 && !d.hourly() { // a day above 12 decides
				o.Due, day = Moment{Given: true, Dated: true, Date: begin.AddDate(0, 0, 25)}, true
			}
			rows, days = append(rows, o), append(days, day)
		}
		text := d.write(rows, days)
		got, told, err := tryRead(text, Options{})
		if err != nil {
			t.Fatalf("%v\n%s", err, text)
		}
		require.Len(t, got, len(rows), text)
		for i := range rows {
			a, b := rows[i], got[i]
			require.Equal(t, math.IsNaN(a.Length), math.IsNaN(b.Length), text)
			if !math.IsNaN(a.Length) {
				require.InEpsilon(t, a.Length, b.Length, 1e-9, text)
			}
			require.Equal(t, fmt.Sprint(a.Rolls), fmt.Sprint(b.Rolls), text)
			a.Length, a.Rolls, b.Length, b.Rolls = 0, 0, 0, 0
			require.Equal(t, a, b, text)
		}
		ends := false
		for _, day := range days {
			ends = ends || day
		}
		require.Equal(t, ends, strings.Contains(strings.Join(told, " "), "means the end of that day"), text)
		require.Contains(t, told, `Not read: "Remark".`)
	})
}

// Whatever the text: an error that can be shown, or rows that hold what a row
// promises, each line once.
func FuzzOrders(f *testing.F) {
	for _, text := range []string{"", "a", "\"", "Order;Product;Length (m);Due;Line\n1;A;5;2026-03-02;1\n2;B;1,5;52 h;\n", "Product,Rolls\nA,\"1,200\"\n", "Artikel\tMenge\tTermin [h]\nA\t5 km\t-3\n", "Product;m\n=1;#REF!\n",
		"Product|Rolls|Start|Due\nA|1|3/14/2026 6 am|45000.5\n", "product;length;due\nx;1 m;1:2\nx;.;24:00\n", strings.Repeat(";", 3000)} {
		f.Add(text)
	}
	f.Fuzz(func(t *testing.T, text string) {
		if len(text) > 1<<14 {
			return
		}
		for _, opt := range []Options{{}, {Dates: written.MonthFirst, Decimal: ',', Columns: map[Role]string{Product: "1", Length: "2", Due: "3", Earliest: "4", OnLine: "5"}}} {
			rows, told, err := tryRead(text, opt)
			if err != nil {
				require.NotEmpty(t, err.Error())
				require.Less(t, len(err.Error()), 1<<16)
				continue
			}
			require.NotEmpty(t, told)
			holds(t, rows)
		}
	})
}

// holds are the laws of every list.
func holds(t testing.TB, rows []Row) {
	names, last := map[string]bool{}, 0
	require.NotEmpty(t, rows)
	for _, o := range rows {
		// To assert each of them takes longer than to read the list.
		wrong := ""
		must := func(so bool, what string) {
			if !so {
				wrong += "; " + what
			}
		}
		must(o.Line > last, "lines rise")
		last = o.Line
		must(o.Order != "" && o.Product != "" && !names[o.Order], "an order has a name of its own and a product")
		names[o.Order] = true
		must(math.IsNaN(o.Length) != math.IsNaN(o.Rolls), "length or rolls")
		must(math.IsNaN(o.Length) || o.Length > 0 && o.Length <= mostLength, "a length that can be")
		must(math.IsNaN(o.Rolls) || o.Rolls >= 1 && o.Rolls == math.Trunc(o.Rolls), "whole rolls")
		must(o.OnLine >= 0, "a line")
		for _, m := range []Moment{o.Due, o.Earliest} {
			must((m.Given && m.Dated) == !m.Date.IsZero(), "a date where one is given")
			must(m.Given || m == Moment{}, "nothing where none is given")
			must(math.Abs(m.After) < 101*366*86400., "within a century")
			must(!m.Dated || m.After == 0 && m.Date.Year() >= 1900 && m.Date.Year() <= 2200, "a year that can be")
		}
		require.Empty(t, wrong, "%+v", o)
	}
}

// long is a list of so many orders.
func long(n int) string {
	r := rand.New(rand.NewPCG(1, 1))
	var b strings.Builder
	b.WriteString("Order;Product;Length (m);Due;Earliest;Line\n")
	for i := range n {
		at := time.Date(2026, 3, 2, 0, 0, 0, 0, time.UTC).Add(time.Duration(r.IntN(60*24*60)) * time.Minute)
		fmt.Fprintf(&b, "A-%d;Product %d;%d,5;%s;%s;%d\n", i, r.IntN(20), 500+r.IntN(20000), at.Format("02.01.2006 15:04"), at.Add(-48*time.Hour).Format("02.01.2006"), 1+r.IntN(2))
	}
	return b.String()
}

// A list as long as one may be is read in 100 MB; a longer one is refused before
// it is read, and so is what is no list.
func TestLongAndHostileLists(t *testing.T) {
	effort.NotInRace(t)
	if testing.Short() {
		t.Skip("lists of a hundred thousand rows")
	}
	many := effort.Of(0, 2*MostOrders, 1_000_000)
	for name, x := range map[string]struct {
		text string
		want string
	}{
		"long":       {long(MostOrders), ""},
		"too long":   {"Product;Rolls\n" + strings.Repeat("A;1\n", many), fmt.Sprintf("orders.csv: has %d rows below its head; a list is of 100000 orders at most\n  write: the orders of a few weeks", many)},
		"no head":    {strings.Repeat("a;b\n", many), "no row says what the columns are"},
		"all wrong":  {"Product;Length (m);Due\n" + strings.Repeat(";x;y\n", MostOrders), "and 299980 more"},
		"wide":       {strings.Repeat("Product;", 999) + "Rolls\n" + strings.Repeat("A;1\n", 1000), "both fit"},
		"empty wide": {"Product;Rolls" + strings.Repeat(";", 980) + "x\n" + strings.Repeat("A;1\n", MostOrders), ""},
		"long cells": {"Product;Length (m);Due\n" + strings.Repeat("A", 1<<20) + ";" + strings.Repeat("1", 1<<20) + ";" + strings.Repeat("2026-", 1<<18) + "\n", "is too long"},
		"long head":  {strings.Repeat("Order ", 1<<18) + ";Product;Rolls\n1;A;1\n", ""},
		"controls":   {"Product;Length (m)\n\x1b[2J;5\n\u200b;7\n", `orders.csv:2: Product: "\u001b[2J" holds what cannot be shown`},
	} {
		table, err := tableOf(x.text)
		require.NoError(t, err, name)
		var before, then runtime.MemStats
		runtime.GC()
		runtime.ReadMemStats(&before)
		rows, _, err := Read(table, Options{})
		runtime.ReadMemStats(&then)
		assert.Less(t, then.TotalAlloc-before.TotalAlloc, uint64(100<<20), name)
		if x.want == "" {
			require.NoError(t, err, name)
			holds(t, rows)
			continue
		}
		assert.ErrorContains(t, err, x.want, name)
		assert.Less(t, len(err.Error()), 1<<15, name)
	}
}

// A file of a million rows is refused in 200 MB, its text and what is read of it
// together, and the message says how long a list may be. The usual form has fewer rows, of
// which no more is read.
func TestAMillionRowsAreRefused(t *testing.T) {
	effort.NotInRace(t)
	rows := effort.Of(150_000, 300_000, 1_000_000)
	text := []byte(long(rows))
	var before, then runtime.MemStats
	runtime.GC()
	runtime.ReadMemStats(&before)
	_, err := cells.ReadAtMost("orders.csv", text, MostRows)
	runtime.ReadMemStats(&then)
	assert.EqualError(t, err, "has more than 100040 rows")
	million := uint64(len(text)) * 1_000_000 / uint64(rows)
	assert.Less(t, million+then.TotalAlloc-before.TotalAlloc, uint64(200<<20))
}

// 10,000 orders: ms of processor and memory.
func BenchmarkOrders(b *testing.B) {
	table, err := tableOf(long(10_000))
	require.NoError(b, err)
	b.ReportAllocs()
	for b.Loop() {
		rows, _, err := Read(table, Options{})
		require.NoError(b, err)
		require.Len(b, rows, 10_000)
	}
}
