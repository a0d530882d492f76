package scenarios

import "rollchange/model"

// seam is a quantity of the build of a finished roll.
func seam(name, usual, meaning string, field func(*model.Build) *float64, options ...func(*Key)) *Key {
	return key("rewind.build."+name, quantity, model.Length, meaning, func(t *target, v value) { *field(&t.line().Rewind.Build) = v.num() }, append(options, usedBy("manual, zero-speed, flying"), like(usual))...)
}

// buildKeys are what limits the length of a finished roll: the ridge of its seam.
var buildKeys = []*Key{
	seam("seam_width", `"8 mm"`, "Width of the seam that runs along the web", func(b *model.Build) *float64 { return &b.SeamWidth }, above0, needed("with oscillation")),
	seam("seam_thickness", `"0.02 mm"`, "How much thicker the web is at its seam", func(b *model.Build) *float64 { return &b.SeamThickness }, above0, needed("with any key of rewind.build")),
	seam("ridge", `"5 mm"`, "Highest ridge of the seam that a finished roll may have", func(b *model.Build) *float64 { return &b.Ridge }, above0, needed("with any key of rewind.build")),
	seam("oscillation", `"10 mm"`, "How far the web is moved to each side while it is wound, evenly from end to end", func(b *model.Build) *float64 { return &b.Oscillation }, def(`"0 mm"`)),
}
