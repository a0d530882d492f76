package random

import (
	"cmp"
	"encoding/csv"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"rollchange/scenarios"
)

// A quarter of the lines make orders of products, one after another.
//
// Honest exception: a list stands in the scenario, never in a file beside it.

// ofOrders says whether a key of the table is for orders alone.
func ofOrders(row string) bool {
	table, _, _ := strings.Cut(row, ".")
	return table == "product[]" || table == "orders" || table == "changeover" || row == "unwind.reuse" || row == "unwind.splice_in" || row == "rewind.end_with_order"
}

// count is how many products there are.
func (d *drawer) count() int { return d.mood.count(d.chance("product", "count"), "product") }

// notDrawn are the keys of a file.
var notDrawn = []string{"orders.file", "orders.sheet", "orders.columns", "orders.decimal"}

// orders says whether a key that has to do with orders is given; not known for others.
func (d *drawer) orders(k *scenarios.Key, path string, c chance) (given, known bool) {
	table, _, _ := strings.Cut(k.Path, ".")
	switch {
	case !d.mood.orders:
		return false, true
	case strings.HasPrefix(k.Path, "changeover.between[]") && elementOf(path) >= d.count()*d.count():
		return false, true // every pair stands once
	case table == "jobs" || slices.Contains(notDrawn, k.Path):
		return false, true
	case k.Path == "orders.list":
		return d.mood.list, true
	case table == "orders" && k.Path != "orders.counts":
		return d.mood.list && c.is(0.5), true
	case d.mood.list && (k.Path == "product[].share" || k.Path == "product[].order_length"):
		return false, true
	case k.Path == "orders.counts": // one key of the table has to be there
		return true, true
	case strings.HasPrefix(k.Path, "changeover.between[].from"), strings.HasPrefix(k.Path, "changeover.between[].to"), strings.HasPrefix(k.Path, "changeover.when[]."):
		return true, true
	case k.Path == "product[].share":
		return d.count() > 1 || c.is(0.2), true
	case strings.HasPrefix(k.Path, "product[]."):
		return true, true
	case k.Path == "changeover.time":
		return c.is(0.8), true
	case table == "changeover":
		return c.is(0.5), true
	}
	return false, false
}

// products gives products keys of their own.
func (d *drawer) products(keys []scenarios.Key) {
	if !d.mood.orders {
		return
	}
	for i := range d.count() {
		share := pick(d.chance(fmt.Sprint("product ", i), "own"), 0, 0.3, 1)
		for j := range keys {
			k := &keys[j]
			path := fmt.Sprintf("product[%d].%s", i, k.Path)
			if scenarios.OfProduct(k.Path) && (d.uses(k) || d.chance(path, "unused").is(0.1)) && !(isRival(k.Path) && !d.given[k.Path]) &&
				d.chance(path, "given").is(share*max(0.12, 0.3*d.mood.given)) {
				d.given[path] = true
			}
		}
	}
}

// ownOf is the product whose own value of a key a path is; false for any other path.
func ownOf(path string) (key string, own bool) {
	if strings.HasPrefix(path, "product[") && overlaid.MatchString(path) {
		if key = overlaid.ReplaceAllString(path, ""); rows[key] != nil {
			return key, true
		}
	}
	return path, false
}

// elementOf is the number of the element of the array that a path goes through.
func elementOf(path string) int {
	n, _ := strconv.Atoi(strings.Trim(numbered.FindString(path), "[]"))
	return n
}

// weight is a product's part of the orders, which some have none of.
func (d *drawer) weight(i int) float64 {
	if c := d.chance(fmt.Sprintf("product[%d].share", i), "weight"); i == 0 || !c.is(0.1) {
		return c.log(0.05, 1)
	}
	return 0
}

// shareOf writes the share of a product so that all add up to 1.
func shareOf(d *drawer, c chance, path string) string {
	sum := 0.0
	for i := range d.count() {
		sum += d.weight(i)
	}
	x := d.weight(elementOf(path)) / sum
	if c.is(0.5) {
		return strconv.FormatFloat(x, 'g', -1, 64)
	}
	return fmt.Sprintf("\"%v %%\"", 100*x)
}

// pairOf is a product of a pair: every pair of products stands once.
func pairOf(d *drawer, _ chance, path string) string {
	n := d.count()
	k := d.chance("changeover.between", "pairs").Perm(n * n)[elementOf(path)]
	if strings.HasSuffix(path, ".to") {
		k /= n
	}
	return d.value(fmt.Sprintf("product[%d].name", k%n)).Word
}

// changing is a key that some product has of its own, as long as there are such, else any
// that one may have; each once.
func changing(d *drawer, _ chance, path string) string {
	var own, others []string
	for _, k := range scenarios.Keys() {
		if !scenarios.OfProduct(k.Path) {
			continue
		}
		given := false
		for i := range d.count() {
			given = given || d.given[fmt.Sprintf("product[%d].%s", i, k.Path)]
		}
		if given {
			own = append(own, k.Path)
		} else {
			others = append(others, k.Path)
		}
	}
	for _, list := range [][]string{own, others} {
		slices.SortFunc(list, func(a, b string) int { return cmp.Compare(rank(d.seed, a), rank(d.seed, b)) })
	}
	return strconv.Quote(append(own, others...)[elementOf(path)])
}

// list is a list of orders of the products, some not before a time or due by one, some
// for one line.
func list(d *drawer, c chance, _ string) string {
	var b strings.Builder
	w := csv.NewWriter(&b)
	b.WriteString("\n") // so that a row is a line
	rows := [][]string{{"order", "product", "length", "due", "earliest", "line"}}
	time := func(p float64, most float64) string {
		if !c.is(p) {
			return ""
		}
		return fmt.Sprintf("%.2f h", c.in(0, most)/3600)
	}
	early := pick(c, 0, 0.3)
	length := d.si("product[0].order_length")
	all := 0.0 // s, of the list so far
	for i := range 1 + c.IntN(12) {
		k := c.IntN(d.count())
		name, _ := strconv.Unquote(d.value(fmt.Sprintf("product[%d].name", k)).Word)
		x := math.Max(0.01, length*c.log(0.1, 3))
		if c.is(0.05) {
			x = 0.01
		}
		all += x / d.si("line.speed")
		line := ""
		if c.is(0.2) {
			line = strconv.Itoa(1 + c.IntN(int(max(1, d.si("crew.lines")))))
		}
		rows = append(rows, []string{fmt.Sprint("A", i), name, fmt.Sprintf("%.2f m", x), time(0.3, 3*all), time(early, 2*all), line})
	}
	_ = w.WriteAll(rows) // to memory
	return strconv.Quote(b.String())
}

// stock is one of few names, so that some products run from the same.
func stock(_ *drawer, c chance, _ string) string { return strconv.Quote(pick(c, "film", "paper 80 g")) }

// changeoverTime is a time by how long an order runs.
func changeoverTime(d *drawer, c chance, _ string) float64 {
	return d.si("product[0].order_length") / d.si("line.speed") * c.log(1e-3, 0.5)
}

func init() {
	for row, h := range map[string]hook{
		"orders.list":               {word: list},
		"orders.begin":              {word: func(*drawer, chance, string) string { return `"2026-11-30 06:00"` }},
		"product[].share":           {word: shareOf},
		"product[].order_length":    {steady: true, number: func(d *drawer, c chance, _ string) float64 { return d.si("unwind.roll_length") * c.log(0.1, 10) }},
		"changeover.time":           {number: changeoverTime},
		"changeover.between[].time": {number: changeoverTime},
		"changeover.when[].adds":    {number: changeoverTime},
		"changeover.between[].from": {word: pairOf},
		"changeover.between[].to":   {word: pairOf},
		"changeover.when[].changes": {word: changing},
		"changeover.operators":      {number: func(d *drawer, c chance, _ string) float64 { return float64(1 + c.IntN(int(d.si("crew.operators")))) }},
		"web.stock":                 {word: stock},
	} {
		hooks[row] = h
	}
}
