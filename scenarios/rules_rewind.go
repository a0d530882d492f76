package scenarios

import "rollchange/model"

// slit checks what is slit and trimmed. A line without a rewind makes no rolls of it.
func (c *checker) slit(l *model.Line) {
	w := &l.Rewind
	if w.Change == model.None {
		w.Lanes, w.Trim = 1, 0
		return
	}
	if w.Trim > 0 && w.Change.Given() {
		c.needFor("rewind.trim", "with rewind.trim", "web.width")
	}
	if l.Web.Width > 0 && w.Trim >= l.Web.Width {
		c.bad("rewind.trim", "must be below web.width", "")
	}
}

// late checks what a turret does while the next core is not ready.
func (c *checker) late(l *model.Line) {
	w := &l.Rewind
	if !c.t.lateSlow || !w.Change.Ahead() {
		w.LateSpeed = 0
		return
	}
	c.need(`with on_late = "slow"`, "rewind.late_speed")
	if l.Process.Speed > 0 && w.LateSpeed >= l.Process.Speed {
		c.bad("rewind.late_speed", "must be below line.speed", "")
	}
	if w.Change == model.Flying && w.Overrun <= 0 {
		c.bad("rewind.overrun", `must be above 0 for a flying rewind with on_late = "slow", or the line stops first`, `overrun = "30 m"`)
	}
}
