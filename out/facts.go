package out

import (
	"fmt"
	"io"
	"strings"

	"rollchange/model"
)

// FactsTable writes what is known of an alternative before any simulation.
func FactsTable(w io.Writer, name string, facts []model.Fact, sys model.System, color bool) error {
	var b strings.Builder
	fmt.Fprintln(&b, bold(shorten(safe(name), 100), color))
	last := ""
	for _, f := range facts {
		group := f.Group
		if group == last {
			group = ""
		}
		last = f.Group
		value := factValue(f, sys)
		line := fmt.Sprintf("  %-7s %s %16s   %s", group, pad(f.Label, 44), value, f.Note)
		fmt.Fprintln(&b, strings.TrimRight(line, " "))
	}
	_, err := io.WriteString(w, b.String())
	return err
}

func factValue(f model.Fact, sys model.System) string {
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
