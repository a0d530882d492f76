package workbook

import (
	"fmt"
	"strings"

	"rollchange/model/legible"
)

// CheckName says whether a name is that of a workbook.
func CheckName(path string) error {
	if !strings.HasSuffix(strings.ToLower(path), ".xlsx") {
		return fmt.Errorf("the name of the workbook must end in .xlsx: %s", legible.Quote(path))
	}
	return nil
}
