package picture

import (
	"image/color"

	"rollchange/out/words"
	"rollchange/sim/metric"
	"rollchange/sim/replicate"
)

// A fill is a colour and a hatching. It means one thing in every picture, and
// no other thing looks like it: what the hours and the web are lost to is one
// meaning where the cause is one.
type fill struct {
	c color.NRGBA
	h hatching
}

// The colours of causes; neighbours differ in lightness. No line has one of them, and no
// other meaning.
var causeColours = [...]color.NRGBA{
	{0xe3, 0xee, 0xf1, 0xff}, {0x3d, 0x46, 0x8c, 0xff}, {0xf0, 0xb4, 0x6a, 0xff}, {0x6b, 0x2d, 0x4f, 0xff}, {0x9c, 0xc7, 0xd2, 0xff},
	{0x8a, 0x6a, 0x14, 0xff}, {0xf6, 0xdf, 0xc1, 0xff}, {0x5f, 0xb0, 0xc8, 0xff}, {0xa8, 0xa2, 0x9e, 0xff}, {0x42, 0x49, 0x50, 0xff},
}

// causeFills are the causes that every line may have.
var causeFills = map[string]fill{
	"running":                 {causeColours[0], plain},
	"slowed":                  {causeColours[0], level},
	"ramping":                 {causeColours[1], plain},
	metric.HoldUnwindChange:   {causeColours[2], rising},
	metric.HoldUnwindDepleted: {causeColours[2], trellis},
	metric.HoldRewindChange:   {causeColours[3], falling},
	metric.HoldRewindFull:     {causeColours[3], trellis},
	metric.HoldWebBreak:       {causeColours[7], rising},
	metric.HoldChangeover:     {causeColours[6], falling},
	metric.HoldCrewBreak:      {causeColours[8], level},
	metric.HoldNoOrder:        {causeColours[4], falling},
	"residual":                {causeColours[8], plain},
	"stops":                   {causeColours[5], level},
	"rejected":                {causeColours[9], rising},
	"trim":                    {color.NRGBA{0xc4, 0xb4, 0x54, 0xff}, plain},
}

// Fills that mean something else than a cause.
var (
	otherStops   = fill{color.NRGBA{0xc9, 0xb8, 0xd6, 0xff}, plain} // all stops beyond mostStops
	lowEnd       = fill{color.NRGBA{0xea, 0xd3, 0xe8, 0xff}, level} // a metric with an input at its low end
	highEnd      = fill{color.NRGBA{0x76, 0x4a, 0x96, 0xff}, plain} // at its high end
	netOfYear    = fill{color.NRGBA{0x9f, 0xc9, 0x9a, 0xff}, plain} // the cash flow of a year
	sumBand      = fill{color.NRGBA{0xe9, 0xe6, 0xb8, 0xff}, plain} // what holds the sum of the years
	cycleShare   = fill{color.NRGBA{0x7d, 0x93, 0xb2, 0xff}, plain} // the share of the cycles
	runningRoll  = fill{color.NRGBA{0xb7, 0xc9, 0xd6, 0xff}, plain} // a roll that runs, in the drawing of the line
	storageBox   = fill{color.NRGBA{0xd9, 0xe2, 0xd4, 0xff}, plain} // a storage whose strands are not given
	processBox   = fill{color.NRGBA{0xe3, 0xd3, 0xd9, 0xff}, plain} // the process
	lostHours    = fill{color.NRGBA{0x5a, 0x7d, 0x52, 0xff}, plain} // the hours that a cause of a log took
	recordBand   = fill{color.NRGBA{0xcf, 0xe3, 0xb9, 0xff}, plain} // where records of a law lie
	elsewhereUse = []fill{lostHours, recordBand, otherStops, lowEnd, highEnd, netOfYear, sumBand, cycleShare, runningRoll, storageBox, processBox}
)

// mostStops is how many named stops have a fill of their own; the rest, those
// that take least, are drawn together.
const mostStops = 40

// stopColours is the order in which named stops take colours: first those that
// the causes of every line leave free, neighbours far apart.
var stopColours = [...]int{5, 4, 9, 8, 2, 7, 3, 6, 1, 0}

// stopFills are the fills of named stops: every colour with every hatching,
// neighbours unlike in both, less what means something already.
var stopFills = func() []fill {
	used := map[fill]bool{}
	for _, f := range causeFills {
		used[f] = true
	}
	for _, f := range elsewhereUse {
		used[f] = true
	}
	var out []fill
	for round := range hatchings {
		for _, c := range stopColours {
			f := fill{causeColours[c], hatchings[(round+c)%len(hatchings)]}
			if !used[f] {
				used[f] = true
				out = append(out, f)
			}
		}
	}
	return out[:mostStops]
}()

// fillsOf gives each cause in results its fill; named stops in the order of the
// scenario, those beyond mostStops, the least of them, that of otherStops.
func fillsOf(rs *replicate.Results) func(cause string) fill {
	stops := stopsIn(rs)
	return func(cause string) fill {
		if f, ok := causeFills[cause]; ok {
			return f
		}
		if k, ok := stops[cause]; ok {
			return stopFills[k]
		}
		return otherStops
	}
}

// stopsIn numbers the named stops of results that have a fill of their own.
func stopsIn(rs *replicate.Results) map[string]int {
	var order []string
	most := map[string]float64{}
	for _, r := range rs.Alternatives {
		for _, name := range r.Names {
			cause := words.CauseOf(name)
			if _, named := metric.StopOf(cause); named && metric.IsStoppedBy(name) {
				if _, ok := most[cause]; !ok {
					order = append(order, cause)
				}
				most[cause] = max(most[cause], r.Metrics[name].Mean)
			}
		}
	}
	at := map[string]int{}
	for _, cause := range order {
		larger := 0
		for _, other := range order {
			if most[other] > most[cause] {
				larger++
			}
		}
		if larger < mostStops && len(at) < mostStops {
			at[cause] = len(at)
		}
	}
	return at
}
