package words

import (
	"fmt"

	"rollchange/model"
)

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
		return fmt.Sprintf("%.4g", f.Value)
	case model.Share:
		if f.Value > 0 && f.Value < 1e-4 {
			return fmt.Sprintf("%.2g", f.Value)
		}
	}
	x := u.From(f.Value)
	switch {
	case x >= 1000 || x <= -1000:
		return fmt.Sprintf("%.0f %s", x, u.Name)
	case x == 0:
		return "0 " + u.Name
	}
	return fmt.Sprintf("%.4g %s", x, u.Name)
}
