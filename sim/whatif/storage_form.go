package whatif

import (
	"math"

	"rollchange/model"
)

// storageForm is the capacity that the closed form of one splice gives, under
// the dwell's law and under others with the same mean and sd.
func storageForm(c model.Cycle, usable, risk float64) *ClosedForm {
	room := func(d model.Dist) float64 { return c.LeastRoom(model.UpperQuantile(d, risk)) / usable }
	f := &ClosedForm{Value: room(c.Dwell), Formula: StorageOfASplice, Share: risk}
	if c.Dwell.SD() > 0 {
		for _, law := range model.TailLaws {
			f.Other = append(f.Other, Other{Dwell: law, Value: room(c.Dwell.Like(law))})
		}
	}
	return f
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
