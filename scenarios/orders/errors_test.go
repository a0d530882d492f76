package orders

import (
	"errors"
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"rollchange/scenarios/written"
)

// wrongs are the lines of an error without the rows that it shows.
func wrongs(err error) string {
	var all []string
	for line := range strings.SplitSeq(err.Error(), "\n") {
		if !strings.Contains(line, " | ") {
			all = append(all, strings.TrimPrefix(strings.TrimSpace(line), "orders.csv:"))
		}
	}
	return strings.Join(all, "\n")
}

// Each thing that can be wrong, what it is called and what would be right.
func TestErrors(t *testing.T) {
	const head = "Order;Product;Length (m);Due;Line\n"
	for text, want := range map[string]string{
		"":                                      " is empty",
		"\n \n":                                 " is empty",
		head:                                    "1: there is no row below the head",
		head + ";;;;\n":                         "1: there is no row below the head",
		"name;colour\nhorse;brown\n":            " no row says what the columns are: a product, and a length or a number of finished rolls at least\nwrite: a head as in Order, Product, Length (m), Due",
		"2026-03-02;7;12\n3;4;5\n":              " no row says what the columns are: a product, and a length or a number of finished rolls at least\nwrite: a head as in Order, Product, Length (m), Due",
		"Order;Length (m)\n1;2\n":               "1: product: no column says what is made; there are \"Order\", \"Length (m)\"\nwrite: columns = \"product=Article\"",
		"Order;Product\n1;A\n":                  "1: length: no column says how much is ordered, a length of web or a number of finished rolls; there are \"Order\", \"Product\"\nwrite: columns = \"length=Metres\" or columns = \"rolls=Rolls\"",
		"Order;Product;Qty\n1;A;10\n":           "1: Qty: does not say its unit: an order is a length of web or a number of finished rolls\nwrite: Qty (m), (km) or (ft), or Rolls",
		"Order;Product;Length\n1;A;10\n2;A;7\n": "1: Length: nothing says the unit of the lengths\nwrite: (m), (km) or (ft) in the head, or 1200 m in each row",
		"Order;Product;Length\n1;A;10\n2;A;7 m\n":                                         "2: Length: \"10\" has no unit, nor has the head\nwrite: 1234.5 m, or (m) in the head",
		"Order;Product;Length (m);Due date;Delivery date\n1;A;10;2026-01-01;2026-01-02\n": "1: due: column 4 \"Due date\" and column 5 \"Delivery date\" both fit\nwrite: columns = \"due=4\"",
		"Product;Item;Material;Length (m)\n;A;B;10\n":                                     "1: product: column 2 \"Item\" and column 3 \"Material\" both fit\nwrite: columns = \"product=2\"",
		"Product;Material;Length (m)\nA;B;10\n":                                           "1: product: column 1 \"Product\" and column 2 \"Material\" both fit\nwrite: columns = \"product=1\"",
		head + "1;;5;;\n":                                                                 "2: Product: nothing says what is made\nwrite: a product, and no sums below the orders",
		head + "1;A;;;\n":                                                                 "2: Length (m): nothing says how much is ordered\nwrite: 1234.5 m",
		"Product;Rolls\nA;\n":                                                             "2: Rolls: nothing says how much is ordered\nwrite: 12",
		head + "1;A;-5;;\n":                                                               "2: Length (m): \"-5\" must be above 0\nwrite: 1234.5 m",
		head + "1;A;0 km;;\n":                                                             "2: Length (m): \"0 km\" must be above 0\nwrite: 1234.5 m",
		head + "1;A;12 kg;;\n":                                                            "2: Length (m): \"12 kg\" is not a length\nwrite: 1234.5 m",
		head + "1;A;12 m²;;\n":                                                            "2: Length (m): \"12 m²\" is not a length\nwrite: 1234.5 m",
		head + "1;A;many;;\n":                                                             "2: Length (m): \"many\" is not a length\nwrite: 1234.5 m",
		head + "1;A;NaN;;\n":                                                              "2: Length (m): \"NaN\" is not a length\nwrite: 1234.5 m",
		head + "1;A;1e9;;\n":                                                              "2: Length (m): \"1e9\" is not a length\nwrite: 1234.5 m",
		head + "1;A;200000 km;;\n":                                                        "2: Length (m): \"200000 km\" is more than 100000 km\nwrite: another unit in the head",
		head + "1;A;1,5;x;\n":                                                             "2: Due: \"x\" is neither a date nor a time from the start\nwrite: 2026-12-31, 2026-12-31 14:05 or 52 h",
		head + "1;A;5;30.02.2026;\n":                                                      "2: Due: \"30.02.2026\": the calendar has no such day\nwrite: 31.12.2026",
		head + "1;A;5;14:05;\n":                                                           "2: Due: \"14:05\" is a time of day without a day\nwrite: 2026-12-31 14:05, or 14 h 5 min from the start",
		head + "1;A;5;52;\n":                                                              "2: Due: \"52\" has no unit, nor has the head\nwrite: 2026-12-31, 52 h, or [h] in the head",
		head + "1;A;5;03/04/2026;\n":                                                      "2: Due: day and month can be read both ways, and no row decides\nwrite: 2026-12-31, or dates = \"day-first\" or dates = \"month-first\"",
		head + "1;A;5;13/04/2026;\n2;A;5;04/13/2026;\n":                                   "3: the dates begin with the day in row 2 and with the month in row 3\nwrite: 2026-12-31 in all rows",
		head + "1;A;1.234;;\n":                                                            "2: Length (m): a mark before three digits may separate thousands or decimals, 1234 or 1.234, and no row decides\nwrite: decimal = \"comma\" or decimal = \"point\"",
		head + "1;A;5;01.02.2026;\n2;A;5;01/02/2026;\n":                                   "2: Due: day and month can be read both ways, and no row decides\nwrite: 2026-12-31, or dates = \"day-first\" or dates = \"month-first\"",
		head + "1;A;1.5;;\n2;A;2,5;;\n":                                                   "3: writes its decimals with a comma, and row 2 with a point\nwrite: one decimal mark in all rows",
		"x;y\n4711 order;9 product\n":                                                     " no row says what the columns are: a product, and a length or a number of finished rolls at least\nwrite: a head as in Order, Product, Length (m), Due",
		head + "1;A;1,5;;\n2;A;x;;\n3;A;2.5;;\n":                                          "3: Length (m): \"x\" is not a length\nwrite: 1234.5 m\n4: writes its decimals with a point, and row 2 with a comma\nwrite: one decimal mark in all rows",
		head + "1;A;5;;1.5\n":                                                             "2: Line: \"1.5\" is not a line number, a whole number from 1\nwrite: 1",
		head + "1;A;5;;0\n":                                                               "2: Line: \"0\" is not a line number, a whole number from 1\nwrite: 1",
		head + "1;A;5;;left\n":                                                            "2: Line: \"left\" is not a line number, a whole number from 1\nwrite: 1",
		"Product;Rolls\nA;2.5\n":                                                          "2: Rolls: \"2.5\" is not a number of finished rolls, 1 to 1000000\nwrite: 12",
		"Product;Rolls\nA;0\n":                                                            "2: Rolls: \"0\" is not a number of finished rolls, 1 to 1000000\nwrite: 12",
		"Product;Rolls\nA;12 kg\n":                                                        "2: Rolls: \"12 kg\" is not a number of finished rolls, 1 to 1000000\nwrite: 12",
		head + "a 1;A;5;;\nb;A;5;;\nA  1;A;5;;\n":                                         "4: Order: \"A  1\" is also the order of row 2\nwrite: a name of its own for each order",
		head + ";A;5;;\norder 1;A;5;;\n":                                                  "3: Order: \"order 1\" is also the order of row 2\nwrite: a name of its own for each order",
		head + "1;A;5;;;9\n":                                                              "2: has more cells than the head\nwrite: quotes around a text with a comma and around a number with a decimal comma",
		head + "1;=B7;5;;\n":                                                              "2: Product: \"=B7\" is a formula without its value\nwrite: the list saved with its values",
		head + "1;#N/A;5;;\n":                                                             "2: Product: \"#N/A\" is an error of the spreadsheet\nwrite: the list without it",
		head + "\"1\n2\";A;5;;\n":                                                         "2: Order: \"1\\n2\" holds what cannot be shown, such as a line break\nwrite: letters, digits and signs alone",
		head + "1;A\u202eB;5;;\n":                                                         "2: Product: \"A\\u202eB\" holds what cannot be shown, such as a line break\nwrite: letters, digits and signs alone",
		head + "1;A;=1+1;;\n":                                                             "2: Length (m): \"=1+1\" is a formula without its value\nwrite: the list saved with its values",
	} {
		rows, told, err := tryRead(text, Options{})
		if assert.Error(t, err, text) {
			assert.Equal(t, strings.TrimSpace(want), strings.TrimSpace(wrongs(err)), text)
		}
		assert.Nil(t, rows)
		assert.Nil(t, told)
	}
	for columns, want := range map[string]string{
		"product=Colour":        "1: product: there is no column \"Colour\"; there are \"Order\", \"Product\", \"Length (m)\", \"Due\", \"Line\"",
		"product=9":             "1: product: there is no column \"9\"; there are \"Order\", \"Product\", \"Length (m)\", \"Due\", \"Line\"",
		"product=1,order=Order": "1: product: column 1 is order already\nwrite: a column for each",
	} {
		roles, err := ParseColumns(columns)
		require.NoError(t, err)
		_, _, err = tryRead(head+"1;A;5;;\n", Options{Columns: roles})
		require.Error(t, err)
		assert.Equal(t, want, wrongs(err))
	}
	_, _, err := tryRead("A;A;Product;Rolls\n1;2;x;3\n", Options{Columns: map[Role]string{Order: "a"}})
	require.Error(t, err)
	assert.Equal(t, "1: order: two columns are called \"a\", column 1 and column 2\nwrite: columns = \"order=1\"", wrongs(err))
}

// All that is wrong is one error, by row, with each row; of more than 20 the rest
// is counted.
func TestErrorsAreSaidAtOnce(t *testing.T) {
	_, _, err := tryRead("Order;Product;Length (m);Due;Line\n1;;x;y;z\n2;A;5;;\n2;A;0;;\n", Options{})
	assert.EqualError(t, err, `orders.csv:2: Product: nothing says what is made
  2 | 1 |  | x | y | z
  write: a product, and no sums below the orders
orders.csv:2: Length (m): "x" is not a length
  2 | 1 |  | x | y | z
  write: 1234.5 m
orders.csv:2: Due: "y" is neither a date nor a time from the start
  2 | 1 |  | x | y | z
  write: 2026-12-31, 2026-12-31 14:05 or 52 h
orders.csv:2: Line: "z" is not a line number, a whole number from 1
  2 | 1 |  | x | y | z
  write: 1
orders.csv:4: Length (m): "0" must be above 0
  4 | 2 | A | 0
  write: 1234.5 m
orders.csv:4: Order: "2" is also the order of row 3
  4 | 2 | A | 0
  write: a name of its own for each order`)
	var b strings.Builder
	b.WriteString("Product;Length (m)\n")
	for i := range 33 {
		fmt.Fprintf(&b, "A;-%d\n", i)
	}
	_, _, err = tryRead(b.String(), Options{})
	var all *written.Errors
	require.True(t, errors.As(err, &all))
	assert.Len(t, all.Problems, 20)
	assert.True(t, strings.HasSuffix(err.Error(), "\norders.csv: and 13 more"), err)
}
