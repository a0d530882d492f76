package scenarios

import "rollchange/model"

func build(t *target) *model.Build { return &t.line().Rewind.Build }

// buildKeys are what limits the length of a finished roll: the ridge of its seam.
var buildKeys = []Key{
	key("rewind.build.seam_width", quantity, model.Length, "Width of the seam that runs along the web", func(t *target, v value) { build(t).SeamWidth = v.num() }, above0, needed("with oscillation"), usedBy("manual, zero-speed, flying"), like(`"8 mm"`)),
	key("rewind.build.seam_thickness", quantity, model.Length, "By how much the web is thicker at its seam", func(t *target, v value) { build(t).SeamThickness = v.num() }, above0, needed("with any key of rewind.build"), usedBy("manual, zero-speed, flying"), like(`"0.02 mm"`)),
	key("rewind.build.ridge", quantity, model.Length, "Highest ridge of the seam that a finished roll may have", func(t *target, v value) { build(t).Ridge = v.num() }, above0, needed("with any key of rewind.build"), usedBy("manual, zero-speed, flying"), like(`"5 mm"`)),
	key("rewind.build.oscillation", quantity, model.Length, "How far the web is moved to each side while it is wound, evenly from end to end", func(t *target, v value) { build(t).Oscillation = v.num() }, def(`"0 mm"`), usedBy("manual, zero-speed, flying"), like(`"10 mm"`)),
}
