package words

import "rollchange/model"

func FactText(f model.Fact, sys model.System) string {
	u := model.Display(f.Dim, sys)
	switch f.Dim {
	case model.Time:
		u = model.DisplayTime(f.Value)
	case model.Power:
		u = model.Unit{Name: "W", SI: 1}
		if f.Value >= 2000 {
			u = model.Unit{Name: "kW", SI: 1000}
		}
	case model.Number:
		return Short(f.Value, 4)
	case model.Share:
		if f.Value > 0 && f.Value < 1e-4 {
			return Short(f.Value, 2)
		}
	}
	return Short(u.From(f.Value), 4) + " " + u.Name
}
