package scenarios

import (
	"strings"

	"rollchange/model"
	"rollchange/scenarios/orders"
	"rollchange/scenarios/written"
)

// orderKeys are the orders that a line runs, its products, and what lies between two
// orders.
var orderKeys = []*Key{
	key("product[].name", text, "", "Name of a product; below it any key of web, line, unwind, rewind and web_breaks but kinds of change and storages, in place of the line's", func(t *target, v value) { t.product.Name = v.text }, needed("always")),
	key("product[].share", fraction, model.Share, "Share of the orders in a mix", func(t *target, v value) { t.product.Share = v.num() }, within(0, 1, "0 % to 100 %"), needed("for a mix of several products"), like(`"40 %"`)),
	key("product[].order_length", varying, model.Length, "Length of an order in a mix", func(t *target, v value) { t.product.OrderLength = v.dist }, above0, needed("for a mix"), like(`"3000 m"`)),

	key("orders.file", text, "", "List of orders (CSV or XLSX): order, product, length or rolls, due, earliest, line; if not given, orders are a mix of the products", func(t *target, v value) { t.orders().file = v.text }),
	key("orders.list", text, "", "The list itself, as CSV in a text of several lines, in place of a file", func(t *target, v value) { t.orders().text = v.text }, long),
	key("orders.sheet", text, "", "Sheet of a workbook; if not given, the first", func(t *target, v value) { t.orders().sheet = v.text }),
	key("orders.columns", text, "", "Columns that their heads do not explain: order, product, length, rolls, due, earliest, line, each with its head or number", func(t *target, v value) { t.orders().columns = v.text }, like(`"product=Artikel,length=3"`)),
	key("orders.dates", choice, "", "Whether dates of the list begin with the day or the month; if not given, the list shows it", func(t *target, v value) {
		t.orders().read.Dates = map[string]written.DateOrder{"day-first": written.DayFirst, "month-first": written.MonthFirst}[v.text]
	}, oneOf("day-first", "month-first")),
	key("orders.decimal", choice, "", "Decimal mark of the list; if not given, the list shows it", func(t *target, v value) {
		t.orders().read.Decimal = map[string]byte{"comma": ',', "point": '.'}[v.text]
	}, oneOf("comma", "point")),
	key("orders.begin", text, "", "Date and time at which the list begins, for lists with dates", func(t *target, v value) { t.orders().begin = v.text }, needed("with dates in the list"), like(`"2026-11-30 06:00"`)),
	key("orders.counts", choice, "", "What the length of an order counts: web processed, or good web", func(t *target, v value) { t.orders().Good = v.text == "good" }, oneOf("processed", "good"), def(`"processed"`)),
	key("orders.sequence", choice, "", "Sequence of a list: as listed, or another in each replication", func(t *target, v value) { t.orders().Shuffled = v.text == "random" }, oneOf("as listed", "random"), def(`"as listed"`)),
	key("orders.repeat", flag, "", "Whether a list begins again after its last order; else the simulation ends with it", func(t *target, v value) { t.orders().Repeat = v.flag }, def("false")),

	key("changeover.time", varying, model.Time, "Changeover from one order to the next", func(t *target, v value) { t.line().Changeover.Time = v.dist }, like(`"20 min"`)),
	key("changeover.scrap", varying, model.Length, "Scrap of a changeover", func(t *target, v value) { t.line().Changeover.Scrap = v.dist }, def(`"0 m"`)),
	key("changeover.operators", integer, model.Number, "Operators that a changeover takes", func(t *target, v value) { t.line().Changeover.Operators = int(v.integer) }, within(1, 1000, "1 to 1000"), def("1")),
	key("changeover.between[].from", text, "", "Product of the order that ends", func(t *target, v value) { t.pair.from = v.text }, needed("always")),
	key("changeover.between[].to", text, "", "Product of the order that follows", func(t *target, v value) { t.pair.to = v.text }, needed("always")),
	key("changeover.between[].time", varying, model.Time, "Changeover between these two; if not given, changeover.time", func(t *target, v value) { t.pair.Time = v.dist }, like(`"45 min"`)),
	key("changeover.between[].scrap", varying, model.Length, "Scrap of that changeover; if not given, changeover.scrap", func(t *target, v value) { t.pair.Scrap = v.dist }, like(`"50 m"`)),
	key("changeover.when[].changes", text, "", "A key of the products, such as web.width: where it differs from one order to the next, the changeover takes longer", func(t *target, v value) { t.when.Changes = v.text }, needed("always"), like(`"web.width"`)),
	key("changeover.when[].adds", varying, model.Time, "How much longer it takes", func(t *target, v value) { t.when.Adds = v.dist }, needed("always"), like(`"12 min"`)),
}

// ordersRead is what is read of [orders] before its list is.
type ordersRead struct {
	model.Orders
	file, sheet, begin string
	text               string // of the list, in place of a file
	columns            string
	read               orders.Options
}

// pairRead is a pair of products by their names.
type pairRead struct {
	model.Between
	from, to string
}

func (t *target) orders() *ordersRead {
	if t.list == nil {
		t.list = &ordersRead{}
	}
	return t.list
}

// productTables are what a product may say anew.
var productTables = []string{"web.", "line.", "unwind.", "rewind.", "web_breaks."}

// OfProduct says whether a product may have the key of its own: kinds of change and
// storages are the line's.
func OfProduct(path string) bool {
	if strings.HasSuffix(path, ".change") || strings.Contains(path, ".storage.") || path == "unwind.reuse" || path == "unwind.splice_in" || path == "rewind.end_with_order" {
		return false
	}
	for _, t := range productTables {
		if strings.HasPrefix(path, t) {
			return true
		}
	}
	return false
}

// productRows are the rows of those keys, "product[].line.speed".
var productRows = func() []Key {
	var rows []Key
	for _, k := range table {
		if OfProduct(k.Path) {
			k.Path, k.Default, k.Needed = "product[]."+k.Path, "", ""
			rows = append(rows, k)
		}
	}
	return rows
}()

// bare is a key without the product that it is of.
func bare(path string) string {
	if rest, ok := strings.CutPrefix(path, "product["); ok {
		if _, key, ok := strings.Cut(rest, "]."); ok {
			return key
		}
	}
	return path
}
