package random

func init() {
	for _, name := range []string{"seam_width", "seam_thickness", "ridge", "oscillation"} {
		hooks["rewind.build."+name] = byExample(5)
	}
}
