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
