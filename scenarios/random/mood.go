package random

import "strings"

// mood is how a scenario is to be on the whole, so that some are bare and some
// have everything at once, some hold no chance and some are full of limits.
type mood struct {
	tables float64 // share of the tables that are there
	given  float64 // share of their keys that are given
	edge   float64 // share of values at a limit, zero, tiny, huge or equal to another
	vary   float64 // share of what may vary that does
	round  bool    // numbers of two digits: many things happen at the same instant
	rolls  float64 // parent rolls that the horizon is about
	heirs  int     // alternatives
	hungry bool    // long stops, short rolls, slow refills: storages that start again nearly empty
	orders bool    // it makes orders of products, a mix
	list   bool    // or a list
}

func moodOf(seed uint64) mood {
	c := stream(seed, "mood")
	m := mood{tables: pick(c, 0.3, 0.6, 0.9, 1), given: pick(c, 0.15, 0.4, 0.7, 1), edge: pick(c, 0.02, 0.02, 0.1, 0.3),
		vary: pick(c, 0, 0.3, 0.3, 0.8), round: c.is(0.4), rolls: c.log(1, 20)}
	if m.hungry = c.is(0.06); m.hungry {
		m.tables, m.given, m.edge = 0.3, 0.4, 0.02
	}
	if c.is(0.1) {
		m.heirs = 1 + c.IntN(2)
		m.rolls /= 2
	}
	m.orders = stream(seed, "mood of orders").is(0.25)
	m.list = m.orders && stream(seed, "mood of a list").is(0.3)
	return m
}

// count is how many elements an array of tables has.
func (m mood) count(c chance, array string) int {
	switch {
	case array == "alternative":
		return m.heirs
	case array == "product" && m.orders:
		return pick(c, 1, 2, 2, 3, 4)
	case array == "product" || strings.HasPrefix(array, "changeover") && !m.orders:
		return 0
	case array == "crew.group" && !c.is(0.4):
		return 0
	case !c.is(m.tables * 0.7):
		return 0
	case c.is(0.02):
		return 4 + c.IntN(12)
	}
	return 1 + c.IntN(3)
}
