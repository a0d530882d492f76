package sim_test

import (
	"regexp"
	"slices"
	"sync"

	"rollchange/model"
	"rollchange/sim/replicate"
)

// figures remembers which figures were ever above 0 on the lines that were
// tried, so that a law which is never tried where it counts is found out.
type figures struct {
	sync.Mutex
	seen map[string]bool // false: it applied, but was 0
}

var (
	ofAStop = regexp.MustCompile(`\.stop\..*`)
	ofAName = regexp.MustCompile(`^(crew\.utilisation|product\.[a-z_]+)\..*`) // of a group or a product
)

// note takes over the results of one line.
func (f *figures) note(study *model.Study, r *replicate.Results) {
	f.Lock()
	defer f.Unlock()
	if f.seen == nil {
		f.seen = map[string]bool{}
	}
	for i, o := range replicate.OutlinesOf(study) {
		for _, m := range o.Metrics {
			name := ofAName.ReplaceAllString(ofAStop.ReplaceAllString(m.Name, ".stop.NAME"), "$1.NAME")
			f.seen[name] = f.seen[name] || r.Alternatives[i].Metrics[m.Name].Mean > 0
		}
	}
}

// never lists the figures that were 0 on every line.
func (f *figures) never() []string {
	var list []string
	for name, positive := range f.seen {
		if !positive {
			list = append(list, name)
		}
	}
	slices.Sort(list)
	return list
}
