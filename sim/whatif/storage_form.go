package whatif

import (
	"fmt"
	"math"

	"rollchange/model"
)

// storageForm is the capacity that the closed form of one splice gives, under
// the dwell's law and under others with the same mean and sd.
func storageForm(c model.Cycle, usable, risk float64) *ClosedForm {
	f := &ClosedForm{
		Formula:     "v²/(2 d) + v q + v²/(2 a) + reserve + v²/(2 D), over the share of the capacity that the run level leaves; v line speed, q the dwell exceeded with that risk, d and a ramps of the station, D ramp of the line",
		Assumptions: "every change begins at the run level with its roll armed, none fails, and the process runs at line speed throughout",
	}
	room := func(d model.Dist) float64 { return c.LeastRoom(model.UpperQuantile(d, risk)) / usable }
	f.Value = room(c.Dwell)
	if c.Dwell.SD() > 0 {
		for _, law := range model.TailLaws {
			f.Other = append(f.Other, Other{"dwell " + string(law), room(c.Dwell.Like(law))})
		}
	}
	return f
}

// riskWords is the target in words.
func riskWords(end string, q StorageQuestion, fails bool) string {
	what := "unwind storage depleted"
	if end == "rewind" {
		what = "rewind storage full"
	}
	changes := changesOf(end)
	if q.Risk.Rate > 0 {
		what += " no more than " + q.Risk.Text
	} else {
		what += fmt.Sprintf(" by no more than %s of the %s", shareWords(q.Risk.Share), changes)
	}
	switch {
	case !fails:
		return what
	case q.CountFailed:
		return what + " (" + changes + " that fail and are made by hand counted)"
	}
	return what + " (" + changes + " that fail and are made by hand not counted)"
}

// layOut says what a capacity is in strands, carriage travel and speed, and the
// tension that the rollers add.
func layOut(line *model.Line, store *model.Storage, capacity float64, q StorageQuestion) []Strands {
	few, many := q.FewStrands, q.ManyStrands
	if few == 0 {
		few, many = store.Strands, store.Strands
	}
	fastest := max(line.Process.Speed, line.Unwind.MaxSpeed-line.Process.Speed)
	if q.Rewind {
		fastest = max(line.Process.Speed, line.Rewind.MaxSpeed-line.Process.Speed)
	}
	var list []Strands
	for n := few; n > 0 && n <= many; n++ {
		x := Strands{Strands: n, Travel: model.CarriageTravel(capacity, n), Speed: math.Abs(model.CarriageSpeed(fastest, 0, n)), Tension: math.NaN()}
		if store.RollerDrag > 0 {
			x.Tension = model.DragTension(n, store.RollerDrag)
		}
		list = append(list, x)
	}
	return list
}
