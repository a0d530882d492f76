package picture

import "fmt"

// A Fill is a colour and a hatching, as a page that draws for itself needs them.
type Fill struct {
	Colour string `json:"colour"` // "#0b4f6c"
	Hatch  string `json:"hatch"`  // plain, rising, falling, level, upright, trellis or netted
}

// Fills are the fills of what hours and web are lost to.
type Fills struct {
	Causes map[string]Fill `json:"causes"` // by cause
	Stops  []Fill          `json:"stops"`  // of named stops, in the order of the scenario
	Other  Fill            `json:"other"`  // all stops beyond those
}

// AllFills are the fills of all pictures, so that a page's own have the same meanings.
func AllFills() Fills {
	out := Fills{Causes: map[string]Fill{}, Other: listed(otherStops)}
	for cause, f := range causeFills {
		out.Causes[cause] = listed(f)
	}
	for _, f := range stopFills {
		out.Stops = append(out.Stops, listed(f))
	}
	return out
}

func listed(f fill) Fill {
	names := [...]string{plain: "plain", rising: "rising", falling: "falling", level: "level", upright: "upright", trellis: "trellis", netted: "netted"}
	return Fill{fmt.Sprintf("#%02x%02x%02x", f.c.R, f.c.G, f.c.B), names[f.h]}
}
