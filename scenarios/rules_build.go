package scenarios

import (
	"fmt"

	"rollchange/model"
)

// build checks what the ridge of a seam is reckoned from.
func (c *checker) build(l *model.Line) {
	if !c.anyOf("rewind.build") {
		return
	}
	b := &l.Rewind.Build
	c.need("with any key of rewind.build", "rewind.build.seam_thickness", "rewind.build.ridge")
	c.needFor("rewind.build.ridge", "for the ridge of a seam", "rewind.core_diameter", "web.caliper")
	if b.Oscillation > 0 {
		c.needFor("rewind.build.oscillation", "with oscillation", "rewind.build.seam_width")
	}
	if w := l.Web.Width; w > 0 && b.SeamWidth > w {
		c.bad("rewind.build.seam_width", fmt.Sprintf("must not be above web.width, %.4g mm", 1000*w), "")
	}
}
