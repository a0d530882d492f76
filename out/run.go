package out

import (
	"fmt"
	"io"
	"math"
	"strconv"
	"strings"

	"rollchange/model"
	"rollchange/sim"
)

// row is one line of a table for people.
type row struct {
	label, value, note string
}

// section is the rows under one head.
type section struct {
	head string
	rows []row
}

// RunTable writes what one alternative came to as one table: what the line
// makes, where the hours and the web go, what the roll changes and the crew do.
// Rows of something that never happened are left out.
func RunTable(w io.Writer, about About, rs *sim.Results, alternative int, sys model.System, color bool) error {
	r := rs.Alternatives[alternative]
	var b strings.Builder
	title := safe(about.Title)
	if len(rs.Alternatives) > 1 || r.Alternative != "base" {
		title = strings.TrimPrefix(title+" · ", " · ") + safe(r.Alternative)
	}
	fmt.Fprintf(&b, "%s\n%s\n", bold(shorten(title, 100), color), head(rs.Run))
	for _, s := range runSections(r, sys) {
		fmt.Fprintf(&b, "\n%s\n", bold(s.head, color))
		for _, x := range s.rows {
			line := fmt.Sprintf("  %s %s", pad(x.label, 40), padLeft(x.value, 22))
			if x.note != "" {
				line += "   " + x.note
			}
			fmt.Fprintln(&b, strings.TrimRight(line, " "))
		}
	}
	if rs.Run.Replications == 1 {
		fmt.Fprintln(&b, "\nOne replication says nothing of how sure this is: take 10 or more.")
	}
	_, err := io.WriteString(w, b.String())
	return err
}

func bold(s string, color bool) string {
	if !color {
		return s
	}
	return "\x1b[1m" + s + "\x1b[0m"
}

// runSections fills the rows of the table. The totals are added up from the
// rows, not taken for granted.
func runSections(r sim.Result, sys model.System) []section {
	sections := make([]section, groups)
	for g := range sections {
		sections[g].head = groupHeads[g]
	}
	add := func(g group, label, value, note string) {
		sections[g].rows = append(sections[g].rows, row{label, value, note})
	}
	show := func(e sim.Estimate) string {
		u := shown(e.Unit, math.Abs(e.Mean), sys)
		return figure(e, u) + " " + u.Name
	}
	var sum [groups]float64
	for _, name := range r.Names {
		e := r.Metrics[name]
		l := labelOf(name)
		never := e.Mean == 0 && (math.IsNaN(e.HalfWidth) || e.HalfWidth == 0)
		if partOfWhole(name) {
			sum[l.group] += e.Mean
		}
		switch {
		case name == "time.stopped" || name == "waste.total" || strings.HasPrefix(name, "stop_rate"):
		case strings.HasPrefix(name, "time.stopped."):
			rate := r.Metrics["stop_rate."+strings.TrimPrefix(name, "time.stopped.")]
			if never && rate.Mean == 0 {
				continue
			}
			add(hours, l.text, show(e), "begins "+show(rate))
		case never && (l.group == hours || l.group == webGoes):
		case e.Mean == 0 && l.group == rollChanges && e.Unit == "1":
			add(l.group, l.text, "none seen", "")
		default:
			add(l.group, l.text, show(e), note(name, r, sys))
		}
	}
	add(hours, "total", percent(sum[hours]), "")
	if stops := r.Metrics["stop_rate"]; stops.Mean > 0 {
		add(hours, "the web comes to rest", show(stops), "")
	}
	good := r.Metrics["waste.total"]
	good.Mean = 1 - good.Mean
	sections[webGoes].rows = append([]row{{"good web", show(good), ""}}, sections[webGoes].rows...)
	add(webGoes, "total, the web supplied", percent(sum[webGoes]+good.Mean), "")
	var filled []section
	for _, s := range sections {
		if len(s.rows) > 0 {
			filled = append(filled, s)
		}
	}
	return filled
}

// partOfWhole says whether a metric is a part of the hours or of the web
// supplied, and no sum of other parts.
func partOfWhole(name string) bool {
	switch name {
	case "time.stopped", "waste.total", "time.waiting_for_operator":
		return false
	}
	return strings.HasPrefix(name, "time.") || strings.HasPrefix(name, "waste.")
}

// percent is a sum of shares; 100 % to rounding is "100 %".
func percent(share float64) string {
	return strconv.FormatFloat(math.Round(1e6*share)/1e4, 'f', -1, 64) + " %"
}

// note adds to a metric what its mean does not tell.
func note(name string, r sim.Result, sys model.System) string {
	h, p := r.Lowest, 0.001
	if name == "rewind_storage.highest" {
		h, p = r.Highest, 0.999
	} else if name != "unwind_storage.lowest" {
		return ""
	}
	if h == nil || h.Total() == 0 {
		return ""
	}
	u := model.Display(model.Length, sys)
	return fmt.Sprintf("1 in 1000 %s %.3g %s", map[bool]string{true: "below", false: "above"}[p < 0.5], u.From(h.Quantile(p)), u.Name)
}
