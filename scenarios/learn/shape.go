package learn

import "rollchange/scenarios/fit"

// Shapes are what pictures show of the laws of a cause: of how long its stops last and
// of the time between them; nil where no law was fitted.
func (l *Line) Shapes(c *Cause) (lasts, between *fit.Shape) {
	if s, ok := fit.ShapeOf(l.durations(c.Text), l.fitting(l.Options.From), c.Lasts); ok {
		lasts = &s
	}
	if s, ok := fit.ShapeOf(gapValues(l.Log.Gaps(c.Text)), l.fitting(0), c.Between); ok && !c.OneRate {
		between = &s
	}
	return lasts, between
}
