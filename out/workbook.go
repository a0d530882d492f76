package out

import (
	"errors"

	"rollchange/model"
	"rollchange/sim/savings"
)

func Workbook(path string, about About, c *savings.Case, sources map[string]string, sys model.System) error {
	return errors.New("soon")
}
