package orders

import (
	"fmt"
	"math"
	"os"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"rollchange/scenarios/cells"
	"rollchange/scenarios/written"
)

func tableOf(text string) (*cells.Table, error) { return cells.Read("orders.csv", []byte(text)) }

func tryRead(text string, opt Options) ([]Row, []string, error) {
	t, err := tableOf(text)
	if err != nil {
		return nil, nil, err
	}
	return Read(t, opt)
}

func read(t testing.TB, text string, opt Options) ([]Row, []string) {
	t.Helper()
	rows, told, err := tryRead(text, opt)
	require.NoError(t, err)
	return rows, told
}

// at is a moment of a date, after one from the begin.
func at(text string) Moment {
	d, err := time.Parse("2006-01-02 15:04", text)
	if err != nil {
		panic(err)
	}
	return Moment{Given: true, Dated: true, Date: d}
}

func after(hours float64) Moment { return Moment{Given: true, After: 3600 * hours} }

// same compares rows, NaN with NaN.
func same(t testing.TB, want, got []Row) {
	t.Helper()
	require.Len(t, got, len(want))
	for i := range want {
		a, b := want[i], got[i]
		assert.Equal(t, math.IsNaN(a.Length), math.IsNaN(b.Length), "%+v", b)
		assert.Equal(t, math.IsNaN(a.Rolls), math.IsNaN(b.Rolls), "%+v", b)
		if !math.IsNaN(a.Length) {
			assert.InEpsilon(t, a.Length, b.Length, 1e-12)
		}
		if !math.IsNaN(a.Rolls) {
			assert.Equal(t, a.Rolls, b.Rolls)
		}
		a.Length, a.Rolls, b.Length, b.Rolls = 0, 0, 0, 0
		assert.Equal(t, a, b)
	}
}

var none = math.NaN()

// Lists as planners of a few countries have them, worked by hand: the rows and
// every sentence.
func TestListsByHand(t *testing.T) {
	for name, x := range map[string]struct {
		text string
		rows []Row
		told []string
	}{
		"english, feet, month first": {
			"Order no.,Customer,Product,Quantity (ft),Due date,Release date,Machine\n" +
				"1001,Somebody,Clear 50,\"12,500.5\",3/14/2026,3/9/2026 6:00 AM,2\n1002,,White 80,900,3/15/2026 2:05 PM,,\n",
			[]Row{{2, "1001", "Clear 50", 12500.5 * 0.3048, none, at("2026-03-15 00:00"), at("2026-03-09 06:00"), 2}, {3, "1002", "White 80", 900 * 0.3048, none, at("2026-03-15 14:05"), Moment{}, 0}},
			[]string{`Order is column 1 "Order no.", product is column 3 "Product", length is column 4 "Quantity (ft)", due is column 5 "Due date", earliest start is column 6 "Release date", line is column 7 "Machine".`,
				`Not read: "Customer".`, "Dates begin with the month, as row 2 shows.", "The decimal mark is a point, as row 2 shows.", "A due date without a time of day means the end of that day."},
		},
		"german, below a title, a mark of order, empty rows": {
			"\xef\xbb\xbfAuftragsliste KW 12\r\n\r\nAuftrags-Nr.;Artikel;Auftragslänge [m];Liefertermin;Frühester Start;Anlage\r\n" +
				"A-1;Etikett rot;12.000;31.03.2026;30.03.2026;1\r\n;;;;;\r\nA-2;Etikett blau;1.200,5;02.04.26 14:00;;2\r\n",
			[]Row{{4, "A-1", "Etikett rot", 12000, none, at("2026-04-01 00:00"), at("2026-03-30 00:00"), 1}, {6, "A-2", "Etikett blau", 1200.5, none, at("2026-04-02 14:00"), Moment{}, 2}},
			[]string{`Order is column 1 "Auftrags-Nr.", product is column 2 "Artikel", length is column 3 "Auftragslänge [m]", due is column 4 "Liefertermin", earliest start is column 5 "Frühester Start", line is column 6 "Anlage".`,
				"Dates begin with the day, as row 4 shows.", "The decimal mark is a comma, as row 6 shows.", "A due date without a time of day means the end of that day.", "An earliest start without a time of day means the beginning of that day."},
		},
		"french, units in the cells, rising dates": {
			"N° commande\tProduit\tQuantité\tDate de livraison\n7\tFilm A\t1,5 km\t12/01/2026\n8\tFilm B\t800 m\t11/02/2026\n9\tFilm A\t2 200 m\t10/03/2026\n10\tFilm A\t900 m\t09/04/2026\n11\tFilm A\t900 m\t08/05/2026\n",
			[]Row{{2, "7", "Film A", 1500, none, at("2026-01-13 00:00"), Moment{}, 0}, {3, "8", "Film B", 800, none, at("2026-02-12 00:00"), Moment{}, 0}, {4, "9", "Film A", 2200, none, at("2026-03-11 00:00"), Moment{}, 0},
				{5, "10", "Film A", 900, none, at("2026-04-10 00:00"), Moment{}, 0}, {6, "11", "Film A", 900, none, at("2026-05-09 00:00"), Moment{}, 0}},
			[]string{`Order is column 1 "N° commande", product is column 2 "Produit", length is column 3 "Quantité", due is column 4 "Date de livraison".`,
				"Dates begin with the day, which puts the list in order.", "The decimal mark is a comma, as row 2 shows.", "A due date without a time of day means the end of that day."},
		},
		"spanish, rolls, dots": {
			"Pedido;Artículo;Nº de bobinas;Fecha de entrega;Línea\nX;Papel;1.200;02.03.2026;1\nY;Papel;12;01.04.2026 06:30;\n",
			[]Row{{2, "X", "Papel", none, 1200, at("2026-03-03 00:00"), Moment{}, 1}, {3, "Y", "Papel", none, 12, at("2026-04-01 06:30"), Moment{}, 0}},
			[]string{`Order is column 1 "Pedido", product is column 2 "Artículo", rolls is column 3 "Nº de bobinas", due is column 4 "Fecha de entrega", line is column 5 "Línea".`,
				"Dates begin with the day, as dots between them say.", "A due date without a time of day means the end of that day."},
		},
		"italian, hours": {
			"Prodotto;Lunghezza (km);Consegna [h];Inizio [h]\nA;1,25;52;\nB;0,8;2 d 4 h;3,5\nC;2;90 min;-1\n",
			[]Row{{2, "order 1", "A", 1250, none, after(52), Moment{}, 0}, {3, "order 2", "B", 800, none, after(52), after(3.5), 0}, {4, "order 3", "C", 2000, none, after(1.5), after(-1), 0}},
			[]string{`Product is column 1 "Prodotto", length is column 2 "Lunghezza (km)", due is column 3 "Consegna [h]", earliest start is column 4 "Inizio [h]".`,
				"The decimal mark is a comma, as row 2 shows.", "The orders have no names: they are called order 1 to order 3 by their place."},
		},
		"dutch, swedish and polish heads": {
			"Ordernummer;Artikel;Lengte (m);Aantal rollen;Leverdatum\n1;A;500;;2026-03-02\n2;A;;3;2026-03-02 12:00\n3;A;700;4;\n",
			[]Row{{2, "1", "A", 500, none, at("2026-03-03 00:00"), Moment{}, 0}, {3, "2", "A", none, 3, at("2026-03-02 12:00"), Moment{}, 0}, {4, "3", "A", 700, none, Moment{}, Moment{}, 0}},
			[]string{`Order is column 1 "Ordernummer", product is column 2 "Artikel", length is column 3 "Lengte (m)", rolls is column 4 "Aantal rollen", due is column 5 "Leverdatum".`,
				"A due date without a time of day means the end of that day.", "Where a row has a length and a number of rolls, as row 4 has, the length counts."},
		},
		"serial numbers, a row of something else, some without a name": {
			"Order|Product|Metres|Due|Remark\n1|A|500|46083|\n|A|600|46083.5|\n||||week 11\n||||and 12\n",
			[]Row{{2, "1", "A", 500, none, at("2026-03-03 00:00"), Moment{}, 0}, {3, "order 2", "A", 600, none, at("2026-03-02 12:00"), Moment{}, 0}},
			[]string{`Order is column 1 "Order", product is column 2 "Product", length is column 3 "Metres", due is column 4 "Due".`, `Not read: "Remark".`,
				"The decimal mark is a point, as row 3 shows.", "A due date without a time of day means the end of that day.", "Orders without a name are called by their place, as order 2.", "2 rows have nothing in these columns and are left out: row 4 is the first."},
		},
	} {
		t.Run(name, func(t *testing.T) {
			rows, told := read(t, x.text, Options{})
			same(t, x.rows, rows)
			assert.Equal(t, x.told, told)
		})
	}
}

// The list that docs/orders.md shows is read as it says.
func TestTheListOfTheManual(t *testing.T) {
	text, err := os.ReadFile("../../docs/orders.md")
	require.NoError(t, err)
	_, list, found := strings.Cut(string(text), "```\nOrder;")
	require.True(t, found)
	list, _, _ = strings.Cut(list, "```")
	rows, _ := read(t, "Order;"+list, Options{})
	same(t, []Row{{2, "4711", "Clear 50", 12500.5, none, at("2026-03-13 14:00"), Moment{}, 1}, {3, "4712", "White 80", 900, none, at("2026-03-15 00:00"), at("2026-03-12 00:00"), 0}}, rows)
}

// A length that is a date of a workbook, a number that is shown with its unit, a
// serial number since 1904.
func TestCellsOfAWorkbook(t *testing.T) {
	words := func(s ...string) (c []cells.Value) {
		for _, x := range s {
			c = append(c, cells.Value{Text: x})
		}
		return c
	}
	list := &cells.Table{Name: "orders.xlsx", Sheet: "Week", Date1904: true, Rows: []cells.Row{
		{Line: 3, Cells: words("Order", "Product", "Length", "Due", "Line")},
		{Line: 4, Cells: []cells.Value{{Text: "17", Number: 17, Is: cells.Number}, {Text: "A"}, {Text: "1,200 m", Number: 1200, Is: cells.Number}, {Text: "02/03/26", Number: 44621, Is: cells.Moment}, {Text: "2", Number: 2, Is: cells.Number}}},
		{Line: 5, Cells: []cells.Value{{Text: "1.23457E+11", Number: 123456789012, Is: cells.Number}, {Text: "A"}, {Text: "1.5 km", Number: 1.5, Is: cells.Number}, {Text: "52:30:00", Number: 2.1875, Is: cells.Moment}}},
	}}
	rows, told, err := Read(list, Options{})
	require.NoError(t, err)
	same(t, []Row{{4, "17", "A", 1200, none, at("2026-03-03 00:00"), Moment{}, 2}, {5, "123456789012", "A", 1500, none, after(52.5), Moment{}, 0}}, rows)
	assert.Contains(t, told, "Days that are numbers count from 1904.")
	list.Rows[0].Cells[3].Text = "Due [h]"
	list.Rows[1].Cells[3] = cells.Value{Text: "14:00", Number: 14. / 24, Is: cells.Moment}
	list.Rows[2].Cells[3] = cells.Value{Text: "19/02/1986", Number: 30000, Is: cells.Moment}
	rows, _, err = Read(list, Options{})
	require.NoError(t, err)
	assert.Equal(t, after(14), rows[0].Due)
	assert.Equal(t, at("1986-02-20 00:00"), rows[1].Due)
	list.Rows[0].Cells[3].Text = "Due"
	list.Rows[2].Cells[2] = cells.Value{Text: "01/05/26", Number: 44621, Is: cells.Moment}
	list.Rows[2].Cells[3] = cells.Value{Text: "14:00", Number: 14. / 24, Is: cells.Moment}
	_, _, err = Read(list, Options{})
	assert.ErrorContains(t, err, `orders.xlsx:5: Length: "01/05/26" is not a length`)
	assert.ErrorContains(t, err, `orders.xlsx:5: Due: "14:00" is a time of day without a day`)
}

// What is told is told where it is so and nowhere else.
func TestWhatIsTold(t *testing.T) {
	const head = "Order;Product;Length (m);Due;Start\n"
	for _, x := range []struct{ sentence, so, not string }{
		{"Dates begin with the day, as row 3 shows.", "1;A;5;01.02.2026;\n2;A;5;13.02.2026;\n", "1;A;5;2026-02-01;\n2;A;5;2026-02-13;\n"},
		{"Dates begin with the month, as row 3 shows.", "1;A;5;1/2/2026;\n2;A;5;;2/13/2026\n", "1;A;5;1/2/2026;\n2;A;5;;13/2/2026\n"},
		{"Dates begin with the day, as dots between them say.", "1;A;5;01.02.2026;\n", "1;A;5;02.02.2026;\n"},
		{"Dates begin with the month, which puts the list in order.", "1;A;5;1/12/2026;\n2;A;5;2/11/2026;\n3;A;5;3/10/2026;\n4;A;5;4/9/2026;\n5;A;5;5/8/2026;\n", "1;A;5;12/1/2026;\n2;A;5;11/2/2026;\n3;A;5;10/3/2026;\n4;A;5;9/4/2026;\n5;A;5;8/5/2026;\n"},
		{"Dates begin with the day, which puts the list in order.", strings.Repeat("_;A;5;05/04/2026;10/03/2026\n", 4), strings.Repeat("_;A;5;05/04/2026;10/03/2026\n", 3) + "_;A;5;13/04/2026;10/03/2026\n"},
		{"The decimal mark is a comma, as row 2 shows.", "1;A;5,5;;\n", "1;A;5.5;;\n"},
		{"A due date without a time of day means the end of that day.", "1;A;5;2026-02-01;2026-01-01 6:00\n", "1;A;5;2026-02-01 6:00;2026-01-01\n"},
		{"An earliest start without a time of day means the beginning of that day.", "1;A;5;2026-02-01 6:00;2026-01-01\n", "1;A;5;2026-02-01;2026-01-01 6:00\n"},
		{"Times are taken as they are written, whatever their UTC offset.", "1;A;5;2026-02-01T06:00+02:00;\n", "1;A;5;2026-02-01T06:00;1767225600\n"},
		{"1 row has nothing in these columns and is left out: row 3.", "1;A;5;;\n;;;;;x\n", "1;A;5;;\n;;;;;\n"},
		{"Orders without a name are called by their place, as order 2.", "1;A;5;;\n;A;6;;\n", "1;A;5;;\n2;A;6;;\n"},
		{`Not read: "column 6".`, "1;A;5;;;x\n", "1;A;5;;\n"},
	} {
		for text, is := range map[string]bool{x.so: true, x.not: false} {
			for i := 1; strings.Contains(text, "_"); i++ {
				text = strings.Replace(text, "_", fmt.Sprint(i), 1)
			}
			list, err := tableOf(head + text)
			require.NoError(t, err)
			list.Comma = 0 // a cell beyond the head is no sign of a comma
			rows, told, err := Read(list, Options{})
			require.NoError(t, err, text)
			assert.Equal(t, is, slices.Contains(told, x.sentence), "%s\n%s%v", x.sentence, text, told)
			holds(t, rows)
		}
	}
	rows, _ := read(t, head+"1;A;5;2026-02-01T06:00+02:00;\n", Options{})
	assert.Equal(t, at("2026-02-01 06:00"), rows[0].Due)
}

// What options say goes before what the list does.
func TestOptions(t *testing.T) {
	const text = "a;b;c;d\n1;X;1,234;3/4/2026\n"
	roles, err := ParseColumns("order=a, product=2, length=C ,due=d")
	require.NoError(t, err)
	rows, told, err := tryRead(strings.Replace(text, "c;", "C [m];", 1), Options{Columns: map[Role]string{Order: "a", Product: "2", Length: "c [M]", Due: "D"}, Dates: written.MonthFirst, Decimal: '.'})
	require.NoError(t, err)
	same(t, []Row{{2, "1", "X", 1234, none, at("2026-03-05 00:00"), Moment{}, 0}}, rows)
	assert.NotContains(t, strings.Join(told, ""), "decimal")
	assert.NotContains(t, strings.Join(told, ""), "Dates")
	rows, _ = read(t, "1;X;1,234 m;3/4/2026\n", Options{Columns: map[Role]string{Order: "1", Product: "2", Length: "3", Due: "4"}, Dates: written.DayFirst, Decimal: ','})
	same(t, []Row{{1, "1", "X", 1.234, none, at("2026-04-04 00:00"), Moment{}, 0}}, rows)
	assert.Equal(t, map[Role]string{Order: "a", Product: "2", Length: "C", Due: "d"}, roles)
	_, err = ParseColumns("weight=3,due")
	assert.EqualError(t, err, "columns: there is no \"weight\"; there are order, product, length, rolls, due, earliest, line\ncolumns: \"due\" names no column; write product=HEAD")
}

// The heads of the trade in seven languages; what is of something else is nothing.
func TestHeads(t *testing.T) {
	for want, heads := range map[Role][]string{
		Order: {"Order", "Order No.", "order number", "JOB", "Work order", "Auftrag", "Auftragsnummer", "Auftrags-Nr.", "Auftragsnr", "Fertigungsauftrag", "Bestellnummer", "Commande", "N° de commande", "Numéro de commande",
			"Pedido", "Nº pedido", "Orden", "Ordine", "Commessa", "Bestelling", "Ordernummer", "Beställning", "Zamówienie", "Nr zlecenia", "No."},
		Product: {"Product", "Item", "Article no.", "Material", "SKU", "Artikel", "Artikelnummer", "Artikelbezeichnung", "Produkt", "Produit", "Désignation", "Article", "Référence", "Producto", "Artículo", "Referencia", "Prodotto", "Articolo", "Wyrób", "Artykuł", "Product name", "Nazwa produktu"},
		Length:  {"Length [m]", "Length", "Order length (m)", "Quantity (ft)", "Metres", "Länge (m)", "Menge [m]", "Auftragslänge", "Auftragsmenge (lfm)", "Longueur (m)", "Quantité (ml)", "Longitud", "Metraje", "Lunghezza (m)", "Lengte (m)", "Längd (m)", "Długość (m)", "Ilość [mb]", "km", "Quantity", "Total length (km)"},
		Rolls:   {"Rolls", "Finished rolls", "Number of rolls", "Rollen", "Anzahl Rollen", "Rollenanzahl", "Bobines", "Nombre de bobines", "Bobinas", "Rotoli", "Numero di bobine", "Aantal rollen", "Antal rullar", "Liczba rolek", "Fertige Rollen"},
		Due: {"Due", "Due date", "Deadline", "Delivery", "Delivery date", "Ship date", "Needed by", "Deliver before", "Latest end", "due [h]", "Liefertermin", "Lieferdatum", "Termin", "Fertig bis", "Spätestens", "Livraison", "Date de livraison", "Échéance", "Fecha de entrega", "Entrega",
			"Consegna", "Data di consegna", "Scadenza", "Leverdatum", "Levering", "Leveransdatum", "Termin realizacji", "Data dostawy"},
		Earliest: {"Earliest start", "Earliest", "Start", "Start date", "Release", "Not before", "Starttermin", "Nicht vor", "Available from", "Frühester Start", "Frühestens", "Beginn", "Début au plus tôt", "Inicio más temprano", "Desde", "Inizio", "Non prima", "Vroegste start", "Vanaf", "Tidigaste start", "Najwcześniejszy start"},
		OnLine:   {"Line", "Machine", "Line no.", "Press", "Linie", "Maschine", "Anlage", "Ligne", "Línea", "Máquina", "Macchina", "Linea", "Lijn", "Linje", "Maszyna", "Linia"},
	} {
		for _, head := range heads {
			m := meaningOf(head)
			assert.Equal(t, want, m.role, head)
			assert.Positive(t, m.weight, head)
		}
	}
	for _, head := range []string{"", "Customer", "Kunde", "Latest start", "Order date", "Bestelldatum", "Date", "Roll length (m)", "Rollenlänge", "m/roll", "Width [mm]", "Breite (m)", "Roll width", "Speed [m/min]", "Run time [h]", "Price", "Area [m²]", "Core length (m)", "Delivery address name",
		"Line speed", "Rolls per pallet", strings.Repeat("Order ", 100)} {
		assert.Zero(t, meaningOf(head).weight, head)
	}
	assert.Zero(t, meaningOf("Length (1000 m)").unit.length, "a multiple of a unit is another unit")
	assert.Equal(t, headUnit{time: 86400}, meaningOf("Due [days]").unit)
}

// A product is found by its spelling, else by capitals and space; else the nearest
// is named.
func TestNear(t *testing.T) {
	names := []string{"Clear 50", "White 80", "clear 50 A", "WHITE  80 ", "Étiquette"}
	for product, want := range map[string]string{
		"Clear 50": "0", "clear  50": "0", "White 80": "1", "CLEAR 50 a": "2",
		"white 80": `"white 80" can be "White 80" or "WHITE  80 "`, "Claer 50": `there is no product "Claer 50"; did you mean "Clear 50"?`, "etiquettes": `there is no product "etiquettes"; did you mean "Étiquette"?`,
		"Paper": `there is no product "Paper"; there are "Clear 50", "White 80", "clear 50 A", "WHITE  80 ", "Étiquette"`, "!": `there is no product "!"; there are "Clear 50", "White 80", "clear 50 A", "WHITE  80 ", "Étiquette"`,
	} {
		at, wrong := Near(product, names)
		if wrong == "" {
			wrong = fmt.Sprint(at)
		} else {
			assert.Equal(t, -1, at)
		}
		assert.Equal(t, want, wrong, product)
	}
	_, wrong := Near("!", []string{"?"})
	assert.Equal(t, `there is no product "!"; there are "?"`, wrong)
	_, wrong = Near("x", nil)
	assert.Equal(t, `there is no product "x"`, wrong)
}
