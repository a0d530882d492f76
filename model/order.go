package model

import (
	"math"
	"time"
)

// Product is one kind of web that a line makes, and how the line runs it.
type Product struct {
	Name        string
	Line        *Line   // as the line runs it: kinds of change, storages, crew and stops are those of the line
	Share       float64 // of the orders of a mix, by number
	OrderLength Dist    // m, of an order of a mix
}

// Orders is what the line makes one after another: a list, or a mix of products.
type Orders struct {
	List     []Order   // as listed; empty: a mix by the shares of the products
	Shuffled bool      // the sequence is drawn anew in each replication
	Repeat   bool      // from the first again after the last
	Begin    time.Time // of the list, on the clock of the plant; zero when not given
	Good     bool      // the length of an order is good web; else web processed
}

// Changeover is what it takes to go over to the next order.
type Changeover struct {
	Time, Scrap Dist
	Operators   int       // at least 1
	Between     []Between // pairs of products that take another
	When        []When    // what a difference of two products adds
}

// Order is one of a list. Times count from the begin of the simulation.
type Order struct {
	Name     string
	Product  int     // index in Line.Products
	Length   float64 // m
	Due      float64 // s; +Inf: none
	Earliest float64 // s, not begun before
	Line     int     // from 1; 0: the first that is free
}

// Between is the changeover from one product to another.
type Between struct {
	From, To    int
	Time, Scrap Dist // s, m; not given: as of every changeover
}

// When is what a changeover takes more where a value of the two products differs.
type When struct {
	Changes string   // a key of the products, "web.width"
	Adds    Dist     // s
	Differs [][]bool // by product and product
}

// Pair is the place in Between of two products, -1 when they have none.
func (c *Changeover) Pair(from, to int) int {
	for i := range c.Between {
		if b := &c.Between[i]; b.From == from && b.To == to {
			return i
		}
	}
	return -1
}

// Given says whether a changeover takes any time.
func (c *Changeover) Given() bool {
	if c.Time.Given() || len(c.When) > 0 {
		return true
	}
	for _, b := range c.Between {
		if b.Time.Given() {
			return true
		}
	}
	return false
}

// MeanTime is the mean time of a changeover from one product to another, s.
func (c *Changeover) MeanTime(from, to int) float64 {
	mean := c.Time.Mean()
	if k := c.Pair(from, to); k >= 0 && c.Between[k].Time.Given() {
		mean = c.Between[k].Time.Mean()
	}
	for i := range c.When {
		if w := &c.When[i]; w.Differs[from][to] {
			mean += w.Adds.Mean()
		}
	}
	return mean
}

// SameStock says whether a roll of the one product can run on for the other: the
// web and the rolls that it comes on are the same.
func (p *Product) SameStock(q *Product) bool {
	a, b := p.Line, q.Line
	if a.Web.Stock != "" || b.Web.Stock != "" {
		return a.Web.Stock == b.Web.Stock
	}
	x, y := a.Unwind.Roll, b.Unwind.Roll
	return a.Web == b.Web && x.Core == y.Core && x.ByDiameter == y.ByDiameter && x.Length.Equal(y.Length) && x.Diameter.Equal(y.Diameter)
}

// Equal says whether two laws are the same.
func (d Dist) Equal(e Dist) bool {
	if len(d.Values) != len(e.Values) {
		return false
	}
	for i := range d.Values {
		if d.Values[i] != e.Values[i] {
			return false
		}
	}
	return d.Law == e.Law && d.A == e.A && d.B == e.B && d.C == e.C && d.Least == e.Least && d.Signed == e.Signed
}

// Timely is the time that a list takes at least on one line, s: every order at its
// speed, without changeovers, roll changes or stops.
func (l *Line) Timely() float64 {
	sum := 0.0
	for _, o := range l.Orders.List {
		sum += o.Length / l.Products[o.Product].Line.Process.Speed
	}
	return sum
}

// NotDue is the due time of an order that has none.
var NotDue = math.Inf(1)
