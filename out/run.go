package out

import (
	"fmt"
	"io"
	"math"
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
	for _, name := range r.Names {
		e := r.Metrics[name]
		l := labelOf(name)
		never := e.Mean == 0 && (math.IsNaN(e.HalfWidth) || e.HalfWidth == 0)
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
	add(hours, "total", "100 %", "")
	if stops := r.Metrics["stop_rate"]; stops.Mean > 0 {
		add(hours, "the web comes to rest", show(stops), "")
	}
	good := r.Metrics["waste.total"]
	good.Mean = 1 - good.Mean
	sections[webGoes].rows = append([]row{{"good web", show(good), ""}}, sections[webGoes].rows...)
	add(webGoes, "total, the web supplied", "100 %", "")
	var filled []section
	for _, s := range sections {
		if len(s.rows) > 0 {
			filled = append(filled, s)
		}
	}
	return filled
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
