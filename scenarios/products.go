package scenarios

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"rollchange/model"
)

// products reads the products of an alternative: each is a line of its own, with what
// it says laid over the alternative.
func (b *builder) products(t *target, v leaves, c *checker) {
	n, _ := v["product"].raw.(int)
	base := leaves{}
	own := make([]leaves, n)
	for i := range own {
		own[i] = leaves{}
	}
	for path, l := range v {
		rest, ok := strings.CutPrefix(path, "product[")
		if !ok {
			base[path] = l
			continue
		}
		number, _, _ := strings.Cut(rest, "]")
		if i, err := strconv.Atoi(number); err == nil && i < n {
			own[i][bare(path)] = l
		}
	}
	delete(base, "product")
	sound := len(b.r.errs.Problems) == 0
	for i := range own {
		p := &model.Product{}
		t.product = p
		for _, k := range orderKeys {
			if rest, ok := strings.CutPrefix(k.Path, "product[]."); ok {
				b.read(k, fmt.Sprintf("product[%d].%s", i, rest), v, t)
			}
		}
		for _, name := range []string{"name", "share", "order_length"} {
			delete(own[i], name)
		}
		alt := &model.Alternative{Name: t.alt.Name}
		on := &target{study: t.study, alt: alt, given: make(map[string]bool, len(table)), share: map[string]float64{}}
		laid := lay(base, own[i])
		check := &checker{t: on, v: laid, at: c.at, errs: c.errs, name: c.name, several: c.several, product: p.Name}
		b.line(laid, on, check)
		on.line().Orders, on.line().Jobs, on.line().Changeover = nil, nil, model.Changeover{}
		if w := on.line().WebBreaks; w != nil && own[i]["web_breaks.mean_length"].raw == nil && !on.given["web_breaks.at_speed"] {
			w.AtSpeed, on.given["web_breaks.at_speed"] = t.line().Process.Speed, true
		}
		if sound { // what is wrong with the line would be said again for each
			check.rules()
		}
		p.Line = on.line()
		t.line().Products = append(t.line().Products, *p)
	}
}

// orders checks products, orders and changeovers, and reads the list.
func (b *builder) orders(t *target, v leaves, c *checker) {
	l := t.line()
	first := func(table string) (path string, given bool) {
		line := math.MaxInt
		for p, x := range v {
			if (p == table || strings.HasPrefix(p, table+".") || strings.HasPrefix(p, table+"[")) && (x.line < line || x.line == line && p < path) {
				path, line, given = p, x.line, true
			}
		}
		return path, given
	}
	at, asked := first("orders")
	if !asked {
		t.list = nil
		if p, given := first("product"); given {
			c.bad(p, "products are for [orders], which is not there", "[orders], with its file or as a mix by share and order_length")
		}
		if p, given := first("changeover"); given {
			c.bad(p, "is for [orders], which is not there; [jobs] has a changeover of its own", "[orders]")
		}
		for _, p := range []string{"unwind.splice_in", "unwind.reuse", "rewind.end_with_order"} {
			if t.given[p] {
				c.bad(p, "is for [orders], which is not there", "[orders]")
			}
		}
		l.Changeover = model.Changeover{}
		return
	}
	l.Orders = &t.list.Orders
	if !t.given["unwind.reuse"] {
		l.Unwind.Reuse = true
	}
	if !t.given["rewind.end_with_order"] {
		l.Rewind.EndWithOrder = true
	}
	if l.Jobs != nil {
		c.bad(at, "contradicts [jobs]: a line has the one or the other", "either [orders] or [jobs]")
	}
	if len(l.Products) == 0 {
		c.bad(at, "needs products", `[[product]] with name = "wide film"`)
		return
	}
	names := map[string]int{}
	for i := range l.Products {
		p := fmt.Sprintf("product[%d].", i)
		c.need("for each product", p+"name")
		c.named(p+"name", l.Products[i].Name)
		if _, twice := names[l.Products[i].Name]; twice && l.Products[i].Name != "" {
			c.bad(p+"name", fmt.Sprintf("%q is the name of another product", l.Products[i].Name), "another name")
		}
		names[l.Products[i].Name] = i
		l.Products[i].Line.Unwind.Reuse, l.Products[i].Line.Rewind.EndWithOrder = l.Unwind.Reuse, l.Rewind.EndWithOrder
	}
	if t.list.file == "" && !t.given["orders.list"] {
		c.mix(l)
	} else {
		b.list(c)
		if r := &t.study.Run; !l.Orders.Repeat && (r.WarmUp > 0 || r.WarmUpAuto) {
			c.bad("run.warm_up", "is not for a list that ends: it counts from its first order on", "repeat = true under [orders], or no warm_up")
		}
	}
	c.changeovers(l, names)
	c.groups(l) // somebody has to make the changeovers too
	if n := l.Changeover.Operators; n > l.Crew.Operators && l.Crew.Operators > 0 && !c.unreadOperators(&l.Crew) {
		c.bad("changeover.operators", fmt.Sprintf("a changeover takes %d operators, the crew has %d", n, l.Crew.Operators), "")
	}
}

// mix checks the products of a mix.
func (c *checker) mix(l *model.Line) {
	for _, name := range []string{"orders.sheet", "orders.columns", "orders.dates", "orders.decimal", "orders.begin", "orders.sequence", "orders.repeat"} {
		if c.t.given[name] {
			c.bad(name, "is for a list of orders", `file = "orders.csv"`)
		}
	}
	sum, read := 0.0, true
	for i := range l.Products {
		p := &l.Products[i]
		path := fmt.Sprintf("product[%d].", i)
		c.need("for a mix (or orders.file, for a list)", path+"order_length")
		if len(l.Products) == 1 && !c.t.given[path+"share"] {
			p.Share = 1
			c.t.given[path+"share"] = true
		}
		c.need("for a mix of several products", path+"share")
		read = read && c.t.given[path+"share"] && !c.unread(path+"share")
		sum += p.Share
	}
	if read && math.Abs(sum-1) > 1e-3 {
		c.bad("product[0].share", fmt.Sprintf("the shares of all products add up to %.4g %%, not 100 %%", 100*sum), "")
		return
	}
	mean := 0.0 // m, of an order
	for i := range l.Products {
		l.Products[i].Share /= sum
		mean += l.Products[i].Share * l.Products[i].OrderLength.Mean()
	}
	r := &c.t.study.Run
	if all := 8 * l.Process.Speed / mean * r.Horizon * float64(r.Replications) * float64(max(1, l.Crew.Lines)); mean > 0 && all > mostEvents {
		c.bad("product[0].order_length", fmt.Sprintf("orders of %.4g m on average make about %s events in all; at most %s are allowed", mean, about(all), about(mostEvents)), "")
	}
}

// changeovers finds the products of pairs, and where the values of two differ.
func (c *checker) changeovers(l *model.Line, names map[string]int) {
	var known []string
	for i := range l.Products {
		known = append(known, l.Products[i].Name)
	}
	for i, x := range c.t.pairs {
		p := fmt.Sprintf("changeover.between[%d].", i)
		c.need("for each pair", p+"from", p+"to")
		pair, found := x.Between, true
		for k, name := range []string{x.from, x.to} {
			at, ok := names[name]
			if found = found && ok; !ok && name != "" && !among(known, "") {
				c.bad(p+[]string{"from", "to"}[k], fmt.Sprintf("there is no product %q%s", name, DidYouMean(name, known)), "")
			}
			*[]*int{&pair.From, &pair.To}[k] = at
		}
		if !x.Time.Given() && !x.Scrap.Given() && !c.unread(p+"scrap") {
			c.need("(or scrap)", p+"time")
		}
		if !found {
			continue
		}
		if l.Changeover.Pair(pair.From, pair.To) >= 0 {
			c.bad(p+"to", "the pair stands twice", "")
		}
		l.Changeover.Between = append(l.Changeover.Between, pair)
	}
	for i, w := range c.t.whens {
		p := fmt.Sprintf("changeover.when[%d].", i)
		c.need("for each", p+"changes", p+"adds")
		if rowOf["product[]."+w.Changes] == nil || !OfProduct(w.Changes) {
			if w.Changes != "" {
				c.bad(p+"changes", "is not a key that a product may have"+didYouMean(w.Changes), `changes = "web.width"`)
			}
			continue
		}
		if slices.ContainsFunc(l.Changeover.When, func(x model.When) bool { return x.Changes == w.Changes }) {
			c.bad(p+"changes", "the key stands twice", "")
		}
		w.Differs = make([][]bool, len(l.Products))
		for a := range l.Products {
			w.Differs[a] = make([]bool, len(l.Products))
			for b := range l.Products {
				w.Differs[a][b] = c.valueOf(a, w.Changes) != c.valueOf(b, w.Changes)
			}
		}
		l.Changeover.When = append(l.Changeover.When, w)
	}
}

// valueOf is the value of a key for a product, so that equal ones are the same text.
func (c *checker) valueOf(product int, path string) string {
	x, given := c.v[fmt.Sprintf("product[%d].%s", product, path)]
	if !given {
		x, given = c.v[path]
	}
	k := rowOf[path]
	if !given {
		x.raw = fromText(k.Default)
	}
	if v, err := k.read(x.raw, &data{dir: "."}, 1); err == nil {
		return fmt.Sprintf("%s %v", v.text, v.dist)
	}
	return fmt.Sprint(x.raw)
}
