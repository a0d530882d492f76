package machine

import (
	"encoding/csv"
	"io"
	"math"
	"slices"
	"strconv"

	"rollchange/model"
	"rollchange/model/legible"
	"rollchange/out/words"
	"rollchange/sim/replicate"
)

// RunCSV writes one alternative as CSV: one row a metric, SI units, full
// precision, empty where a figure is not known.
func RunCSV(w io.Writer, rs *replicate.Results, alternative int) error {
	return writeCSV(w, rs, []int{alternative})
}

// CompareCSV writes all alternatives, with the paired differences from the first.
func CompareCSV(w io.Writer, rs *replicate.Results) error {
	all := make([]int, len(rs.Alternatives))
	for i := range all {
		all[i] = i
	}
	return writeCSV(w, rs, all)
}

func writeCSV(w io.Writer, rs *replicate.Results, which []int) error {
	c := csv.NewWriter(w)
	head := []string{"alternative", "metric", "unit", "mean", "half_width", "low", "high", "sd", "n", "difference", "difference_half_width", "difference_low", "difference_high"}
	if len(which) == 1 {
		head = head[:9]
	}
	figures := len(head)
	if rs.Open != nil {
		head = append(head, "half_width_records", "low_records", "high_records")
		if len(which) > 1 {
			head = append(head, "difference_half_width_records", "difference_low_records", "difference_high_records")
		}
	}
	_ = c.Write(head)
	rows := words.Compare(rs, model.Metric).ByName()
	for _, i := range which {
		r := rs.Alternatives[i]
		for _, name := range r.Names {
			x := rows[name].Cells[i]
			e := x.Figure
			line := []string{cell(r.Alternative), cell(name), e.Unit, full(e.Mean), full(e.HalfWidth), full(e.Low), full(e.High), full(e.SD), strconv.Itoa(e.N), "", "", "", ""}
			if d := x.Difference; d != nil && !x.Alone {
				line[9], line[10], line[11], line[12] = full(d.Mean), full(d.HalfWidth), full(d.Low), full(d.High)
			}
			line = line[:figures]
			if rs.Open != nil {
				w := e.WithRecords()
				line = append(line, full(w.HalfWidth), full(w.Low), full(w.High))
				if d := x.Difference; d != nil && !x.Alone && len(which) > 1 {
					w := d.WithRecords()
					line = append(line, full(w.HalfWidth), full(w.Low), full(w.High))
				}
				for len(line) < len(head) {
					line = append(line, "")
				}
			}
			_ = c.Write(line)
		}
	}
	c.Flush()
	return c.Error()
}

// full is a figure at full precision, empty when it is not known.
func full(x float64) string {
	if math.IsNaN(x) || math.IsInf(x, 0) {
		return ""
	}
	return strconv.FormatFloat(x, 'g', -1, 64)
}

// cell makes text harmless in a spreadsheet, which would take one that begins
// with = + - or @ for a formula.
func cell(s string) string {
	s = legible.Line(s)
	if s != "" && slices.Contains([]byte("=+-@"), s[0]) {
		return "'" + s
	}
	return s
}
