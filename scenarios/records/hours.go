package records

import (
	"cmp"
	"fmt"
	"maps"
	"math"
	"slices"
	"sort"
	"strings"
	"time"

	"rollchange/model/legible"

	"rollchange/scenarios/written"
)

// plan is the planned time of the period.
type plan struct {
	spans []stretch
}

// stretch is a stretch of time; before is what lies in the stretches before it.
type stretch struct{ from, to, before int64 }

// until is how much of the stretches lies before t, ms.
func until(all []stretch, t int64) int64 {
	i := sort.Search(len(all), func(i int) bool { return all[i].from >= t })
	if i == 0 {
		return 0
	}
	s := all[i-1]
	return s.before + min(t, s.to) - s.from
}

func (p *plan) until(t int64) int64 { return until(p.spans, t) }

// longestPeriod is what a period may last: beyond it a date is wrong.
const longestPeriod = 100 * 366 * day

// period finds the period and its planned hours. Stops outside it are left out.
func (r *reader) period() {
	l := r.log
	l.from, l.to = math.MaxInt64, math.MinInt64
	for i := range l.Stops {
		l.from, l.to = min(l.from, l.Stops[i].start), max(l.to, l.Stops[i].end)
	}
	given := func(t time.Time, to *int64) {
		if !t.IsZero() {
			*to, _, _ = onLine(wallOf(t), 0, false, r.opt.Zone)
		}
	}
	given(r.opt.From, &l.from)
	given(r.opt.To, &l.to)
	if l.to < l.from || l.to-l.from > longestPeriod {
		r.errs.Add(0, "", fmt.Sprintf("the period from %s to %s is not possible", date(l.from), date(l.to)), "a period that ends after it begins, in less than 100 years")
		return
	}
	l.From, l.To = timeOf(l.from, l.zone), timeOf(l.to, l.zone)
	l.plan = r.planned()
	l.Stops = slices.DeleteFunc(l.Stops, func(s Stop) bool {
		if s.start > l.to || s.end < l.from {
			l.Findings = append(l.Findings, Finding{Kind: Outside, Row: s.Row})
			return true
		}
		return false
	})
}

func date(t int64) string { return time.UnixMilli(t).UTC().Format("2006-01-02 15:04") }

// planned is the period, or the windows of a week within it, none counted twice.
func (r *reader) planned() *plan {
	l := r.log
	if len(r.opt.Week) == 0 {
		return &plan{[]stretch{{l.from, l.to, 0}}}
	}
	var all []stretch
	place := func(wall int64) int64 { t, _, _ := onLine(wall, 0, false, r.opt.Zone); return t }
	for d := wallOf(l.From)/day - 2; d <= wallOf(l.To)/day+1; d++ {
		for _, w := range r.opt.Week {
			if time.Weekday(((d+4)%7+7)%7) != w.Day { // 1 January 1970 was a Thursday
				continue
			}
			from, to := w.From.Milliseconds(), w.To.Milliseconds()
			if to <= from {
				to += day
			}
			if s := (stretch{max(place(d*day+from), l.from), min(place(d*day+to), l.to), 0}); s.from < s.to {
				all = append(all, s)
			}
		}
	}
	slices.SortFunc(all, func(a, b stretch) int { return cmp.Compare(a.from, b.from) })
	return &plan{merge(all)}
}

// merge makes one of stretches that meet, and adds them up.
func merge(all []stretch) []stretch {
	out := all[:0]
	for _, s := range all {
		if n := len(out); n > 0 && s.from <= out[n-1].to {
			out[n-1].to = max(out[n-1].to, s.to)
			continue
		}
		out = append(out, s)
	}
	sum := int64(0)
	for i := range out {
		out[i].before = sum
		sum += out[i].to - out[i].from
	}
	return out
}

// held is for how long a line stood still: stretches of the line of time, and the
// planned time in them before each.
type held struct {
	all     []stretch
	planned []int64
}

// until is the planned time before t for which the line stood still, ms.
func (h *held) until(t int64, p *plan) int64 {
	i := sort.Search(len(h.all), func(i int) bool { return h.all[i].from >= t })
	if i == 0 {
		return 0
	}
	s := h.all[i-1]
	return h.planned[i-1] + p.until(min(t, s.to)) - p.until(s.from)
}

// charge gives each planned moment at which a line stood still to the stop that
// began first, and finds stops that overlap.
func (r *reader) charge() {
	l := r.log
	total := l.plan.until(l.to)
	l.held = make([]held, len(l.Lines))
	for i := range l.Lines {
		l.Lines[i].Planned = seconds(total)
		if r.opt.Planned > 0 {
			l.Lines[i].Planned = r.opt.Planned
		}
	}
	for i := 0; i < len(l.Stops); {
		j := i
		for j < len(l.Stops) && l.Stops[j].line == l.Stops[i].line {
			j++
		}
		r.chargeLine(l.Stops[i:j])
		i = j
	}
	for i := range l.Lines {
		x := &l.Lines[i]
		if r.opt.Planned > 0 && (r.opt.Planned < x.Stopped || r.opt.Planned*second > float64(l.to-l.from)+1) {
			r.errs.Add(0, "", fmt.Sprintf("planned hours of %.4g h are less than the %.4g h of stops of line %s in a period of %.4g h", r.opt.Planned/3600, x.Stopped/3600, legible.Quote(x.Name), seconds(l.to-l.from)/3600), "planned hours between the two")
		}
	}
}

// chargeLine does so for the stops of one line, in order.
func (r *reader) chargeLine(stops []Stop) {
	l := r.log
	h := &l.held[stops[0].line]
	line := &l.Lines[stops[0].line]
	reach, by := l.from, (*Stop)(nil)
	for i := range stops {
		s := &stops[i]
		line.Count++
		end := s.end
		if s.open {
			r.openEnd(stops, i)
			end = s.end
		}
		r.overlaps(s, by, reach)
		from := max(s.start, reach)
		if end > from {
			s.Charged = seconds(l.plan.until(end) - l.plan.until(from))
		}
		whole := l.plan.until(end) - l.plan.until(s.start)
		if out := end - s.start - whole; out > 0 {
			k := Unplanned
			if s.start < l.from || end > l.to {
				k = Cut
			}
			l.Findings = append(l.Findings, Finding{Kind: k, Row: s.Row, Seconds: seconds(out)})
		}
		line.Stopped += s.Charged
		if end > s.start {
			h.all = append(h.all, stretch{max(s.start, l.from), min(end, l.to), 0})
		}
		if by == nil || end > reach {
			reach, by = max(reach, end), s
		}
	}
	h.all = merge(h.all)
	sum := int64(0)
	for _, x := range h.all {
		h.planned = append(h.planned, sum)
		sum += l.plan.until(x.to) - l.plan.until(x.from)
	}
}

// openEnd says how long a stop without an end may have lasted.
func (r *reader) openEnd(stops []Stop, i int) {
	l, s := r.log, &stops[i]
	for j := i + 1; j < len(stops); j++ {
		if next := &stops[j]; next.start > s.start {
			s.High = seconds(next.start-s.start) + r.und.Start.Seconds
			l.Findings = append(l.Findings, Finding{Kind: OpenBetween, Row: s.Row, Other: next.Row})
			return
		}
	}
	s.end = l.to
	s.Low = max(0, seconds(l.to-s.start)-r.und.Start.Seconds/2)
	l.Findings = append(l.Findings, Finding{Kind: Open, Row: s.Row})
}

// overlaps finds a stop that began before another had ended, by more than
// rounding makes.
func (r *reader) overlaps(s, by *Stop, reach int64) {
	if by == nil || reach <= s.start || s.end < s.start || s.open && s.end == s.start {
		return
	}
	room := (r.und.Start.Seconds + r.und.Length.Seconds) * second / 2
	if by.Readings == 2 {
		room = 0 // two readings of one clock never cross by rounding
	}
	over := min(reach, s.end) - s.start
	if float64(over) <= room {
		return
	}
	k := Overlapping
	if s.end <= reach {
		k = Nested
	}
	r.log.Findings = append(r.log.Findings, Finding{Kind: k, Row: s.Row, Other: by.Row, Seconds: seconds(over)})
}

// causes adds up what stops were written down for.
func (r *reader) causes() {
	l := r.log
	is, named := r.sameCauses()
	key := func(s *Stop) string {
		k := r.alike.same(s.Cause)
		if to, ok := is[k]; ok {
			return to
		}
		return k
	}
	at := map[string]int{}
	spelt := []map[string]int{}
	l.by = map[string][]*Stop{}
	for i := range l.Stops {
		s := &l.Stops[i]
		k := key(s)
		n, ok := at[k]
		if !ok {
			n = len(l.Causes)
			at[k] = n
			l.Causes = append(l.Causes, Total{key: k})
			spelt = append(spelt, map[string]int{})
		}
		c := &l.Causes[n]
		c.Count++
		c.Charged += s.Charged
		c.Recorded += s.Seconds
		if s.open {
			c.Open++
		}
		spelt[n][s.Cause]++
		l.by[k] = append(l.by[k], s)
	}
	for n := range l.Causes {
		c := &l.Causes[n]
		for text := range spelt[n] {
			if text != named[c.key] || text == "" {
				c.Spellings = append(c.Spellings, text)
			}
		}
		slices.SortFunc(c.Spellings, func(a, b string) int {
			return cmp.Or(cmp.Compare(spelt[n][b], spelt[n][a]), strings.Compare(a, b))
		})
		if name, ok := named[c.key]; ok {
			c.Text = name
			continue
		}
		c.Text, c.Spellings = c.Spellings[0], c.Spellings[1:]
	}
	slices.SortStableFunc(l.Causes, func(a, b Total) int {
		return cmp.Or(cmp.Compare(b.Charged, a.Charged), cmp.Compare(b.Count, a.Count), strings.Compare(a.key, b.key))
	})
}

// sameCauses are the keys of causes that options say are others, and the names of
// those.
func (r *reader) sameCauses() (is, named map[string]string) {
	is, named = map[string]string{}, map[string]string{}
	there := map[string]bool{}
	for i := range r.log.Stops {
		there[r.alike.same(r.log.Stops[i].Cause)] = true
	}
	for _, text := range slices.Sorted(maps.Keys(r.opt.Same)) {
		from, to := written.Same(text), written.Same(r.opt.Same[text])
		_, chained := r.opt.Same[r.opt.Same[text]]
		switch {
		case !there[from]:
			r.errs.Add(0, "", fmt.Sprintf("no stop has the cause %s", legible.Quote(text)), "a cause as the log writes it")
		case chained && from != to:
			r.errs.Add(0, "", fmt.Sprintf("%s is said to be another cause itself", legible.Quote(r.opt.Same[text])), "the name that all of them get")
		case from != to:
			is[from], named[to] = to, r.opt.Same[text]
		}
	}
	return is, named
}
