package scenarios

import (
	"fmt"

	"rollchange/model"
)

// slit checks what is slit and trimmed. A line without a rewind makes no rolls of it.
func (c *checker) slit(l *model.Line) {
	w := &l.Rewind
	if w.Change == model.None {
		w.Lanes, w.Trim = 1, 0
		return
	}
	if w.Trim > 0 {
		c.needFor("rewind.trim", "with rewind.trim", "web.width")
	}
	if l.Web.Width > 0 && w.Trim >= l.Web.Width {
		c.bad("rewind.trim", fmt.Sprintf("must be below web.width, %.4g mm: nothing would be left to wind", 1000*l.Web.Width), "")
	}
}

// late checks what a turret does while the next core is not ready.
func (c *checker) late(l *model.Line) {
	w := &l.Rewind
	if !w.Change.Ahead() {
		w.LateSlow = false
	}
	if !w.LateSlow {
		return
	}
	c.need(`with on_late = "slow"`, "rewind.late_speed")
	if l.Process.Speed > 0 && w.LateSpeed >= l.Process.Speed {
		c.bad("rewind.late_speed", "must be below line.speed", "")
	}
	if w.Change == model.Flying && w.Overrun <= 0 {
		c.bad("rewind.overrun", `must be above 0 with on_late = "slow" of a flying rewind: without it the line stops before the roll is late`, `overrun = "30 m"`)
	}
}
