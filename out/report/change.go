package report

import (
	"fmt"

	"rollchange/sim/whatif"
)

// change tells how the answer changes with its inputs, with speed and with storage.
func (b *builder) change() {
	c, g := b.c, b.w.Change
	b.section("change", g["head"])
	b.add(block{Text: g["intro"]})
	if !b.picture("worth") {
		why := g["no_money"]
		if c.chosen() != nil {
			why = g["unmoved"]
		}
		b.add(block{Text: why})
	}
	if c.Stakes != nil {
		stakes := b.picture("stakes")
		if b.picture("sensitivity") || stakes {
			b.add(block{Text: fmt.Sprintf(g["swung"], c.SwungHow)})
		}
	}
	if c.Speed != nil {
		b.picture("speed")
	}
	if c.Storage == nil || !b.picture("storage") {
		why := g["no_storage"]
		if c.storages() {
			why = g["unvaried"]
		}
		b.add(block{Text: why})
	}
	if c.Speed != nil || c.Storage != nil {
		how := fmt.Sprintf(g["swept"], c.SweptHow)
		if ownPoint(c.Speed) || ownPoint(c.Storage) {
			how += " " + g["own_point"]
		}
		b.add(block{Text: how})
	}
	if all, reckoned := c.reckoned(); reckoned > 0 {
		b.add(block{Text: fmt.Sprintf(g["reckoned"], all, all-reckoned)})
	}
	if t := c.chanceTable(b.w); t != nil {
		b.add(block{Sub: g["chance"]})
		b.add(block{Text: g["chance_intro"]})
		b.add(block{Table: t})
	}
}

// ownPoint says whether every line has what it has now at a point of a sweep.
func ownPoint(w *whatif.Sweep) bool {
	if w == nil {
		return false
	}
	for i := range w.Points {
		if w.Own(i) {
			return true
		}
	}
	return false
}

// reckoned is how many points the picture over storage has, and how many of them were
// not simulated.
func (c *Content) reckoned() (all, reckoned int) {
	if c.Storage == nil {
		return 0, 0
	}
	for i := range c.Storage.Points {
		if p := &c.Storage.Points[i]; p.Results != nil {
			all++
			if p.Reckoned {
				reckoned++
			}
		}
	}
	return all, reckoned
}

// storages says whether any alternative works out of a storage.
func (c *Content) storages() bool {
	for i := range c.Scenario.Study.Alternatives {
		if l := &c.Scenario.Study.Alternatives[i].Line; l.Unwind.Change.Stores() || l.Rewind.Change.Stores() {
			return true
		}
	}
	return false
}
