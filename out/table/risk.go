package table

import (
	"fmt"
	"math"
	"strings"

	"rollchange/model"
	"rollchange/out/words"
	"rollchange/sim/metric"
)

// risk is what the table says of a chance that the storage is used up. The
// parts of it stand in one row, after the whole.
func (f *sections) risk(name string) []row {
	e := f.Metrics[name]
	open := ""
	if f.withRecords {
		open = words.OpenChance(e)
	}
	switch m, _ := metric.Of(name); m.Shown {
	case metric.ShareOfChanges:
		if e.Mean == 0 {
			value, bound := words.NoneSeen(name, f.Result, f.run)
			return []row{{words.LabelOf(name).Text, value, bound}}
		}
		return []row{{words.LabelOf(name).Text, words.ChanceFigure(e), open}}
	case metric.Every:
		least := e.Mean
		if math.IsInf(least, 1) { // "more than"
			least = e.Low
		}
		rows := []row{{words.LabelOf(name).Text, words.IntervalFigure(e), words.InYears(least, f.about.Year)}}
		if f.withRecords && !math.IsInf(e.Mean, 1) {
			rows = append(rows, row{"  " + words.OpenHead, words.IntervalFigure(e.WithRecords()), ""})
		}
		return rows
	}
	rows := []row{{words.LabelOf(name).Text, words.ChanceFigure(e), open}}
	if parts := words.MadeOf(name, f.Result); parts != "" {
		rows = append(rows, row{fmt.Sprintf(words.HeadCauses, parts), "", ""})
	}
	var tails []string
	differ := false
	for _, law := range model.TailLaws {
		if x, ok := f.Metrics[name+".if_"+string(law)]; ok {
			tails = append(tails, words.LawName(law)+" "+words.Chance(x.Mean))
			differ = differ || math.Abs(x.Mean-e.Mean) > 0.1*e.Mean
		}
	}
	if differ {
		rows = append(rows, row{fmt.Sprintf(words.HeadOtherLaws, strings.Join(tails, ", ")), "", ""})
	}
	return rows
}
