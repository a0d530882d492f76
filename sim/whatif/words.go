package whatif

import (
	"fmt"

	"rollchange/model"
)

// inUnits is a quantity in SI as the reader of the study writes it.
func inUnits(x float64, d model.Dimension, sys model.System) string {
	u := model.Display(d, sys)
	return fmt.Sprintf("%.4g %s", u.From(x), u.Name)
}
