package sim

// setFinished calls for what follows each finished roll of a set, one a lane:
// packing and duties.
func (c *crew) setFinished(l *line) {
	for range l.spec.Rewind.LaneCount() {
		c.rollFinished(l)
	}
}
