package out

import (
	"fmt"
	"io"
	"strings"

	"rollchange/model/legible"
)

// Saver writes a file whole or not at all; *files.Run is one.
type Saver interface {
	Save(path string, write func(io.Writer) error) error
}

// CheckWorkbook says whether a name is that of a workbook.
func CheckWorkbook(path string) error {
	if !strings.HasSuffix(strings.ToLower(path), ".xlsx") {
		return fmt.Errorf("the name of the workbook must end in .xlsx: %s", legible.Quote(path))
	}
	return nil
}
