package model

import "fmt"

// orderFacts are what is known of the orders of a line: the rest hangs on the product.
func orderFacts(l *Line, add adder) {
	o, c := l.Orders, &l.Changeover
	add("orders", "products", Number, float64(len(l.Products)), "")
	if len(o.List) == 0 {
		length, seconds := 0.0, 0.0
		for i := range l.Products {
			p := &l.Products[i]
			length += p.Share * p.OrderLength.Mean()
			seconds += p.Share * p.OrderLength.Mean() / p.Line.Process.Speed
		}
		add("orders", "mean order, length", Length, length, "")
		add("orders", "mean order, at line speed", Time, seconds, "without roll changes, stops and ramps")
		if c.Time.Given() {
			add("orders", "changeover", Time, c.Time.Mean(), "mean, pairs and differences apart")
		}
		return
	}
	length := 0.0
	for _, x := range o.List {
		length += x.Length
	}
	add("orders", "orders listed", Number, float64(len(o.List)), "")
	add("orders", "length in all", Length, length, "")
	add("orders", "time at line speed", Time, l.Timely(), "without roll changes, stops and ramps")
	if o.Shuffled {
		return
	}
	change := 0.0
	for i := 1; i < len(o.List); i++ {
		change += c.MeanTime(o.List[i-1].Product, o.List[i].Product)
	}
	lines := ""
	if n := l.Crew.Lines; n > 1 {
		lines = fmt.Sprintf("mean, if one of the %d lines made all of it", n)
	} else {
		lines = "mean, in the sequence of the list"
	}
	add("orders", "changeovers in all", Time, change, lines)
}
