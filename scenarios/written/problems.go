package written

import (
	"sort"
	"strings"

	"rollchange/model/legible"
	"rollchange/scenarios"
	"rollchange/scenarios/cells"
)

// Problems collects what is wrong with a table.
type Problems struct {
	Table *cells.Table
	Most  int // how many are listed; the others are counted
	all   []scenarios.Problem
	more  int
}

// Add adds what is wrong with a row, or with the table where it is 0, and what
// would be right: key names the column, write may be empty.
func (p *Problems) Add(row int, key, what, write string) {
	if len(p.all) == p.Most {
		p.more++
		return
	}
	p.all = append(p.all, scenarios.Problem{Line: row, Key: key, What: what, Write: write})
}

// Any says whether there is anything wrong.
func (p *Problems) Any() bool { return len(p.all) > 0 }

// AsError is nil when nothing is wrong, else a *scenarios.Errors. It shows the
// rows that it is about.
func (p *Problems) AsError() error {
	if len(p.all) == 0 {
		return nil
	}
	sort.SliceStable(p.all, func(i, j int) bool { return p.all[i].Line < p.all[j].Line })
	last := p.all[len(p.all)-1].Line
	wanted := map[int]bool{}
	for _, x := range p.all {
		wanted[x.Line] = true
	}
	text := make([]string, last)
	for _, row := range p.Table.Rows {
		if wanted[row.Line] && row.Line <= last {
			var shown []string
			for _, v := range row.Cells {
				if shown = append(shown, legible.Short(v.Text)); len(shown) == 20 {
					break
				}
			}
			text[row.Line-1] = strings.Join(shown, " | ")
		}
	}
	return &scenarios.Errors{Name: p.Table.Name, Text: text, Problems: p.all, More: p.more}
}
