package out

import (
	"fmt"
	"io"
	"math"
	"strings"

	"rollchange/model"
	"rollchange/sim"
	"rollchange/sim/estimate"
)

// compared are the metrics of a comparison, in order; holds are put after
// time.stopped.
var compared = []string{"good_rate", "good_area_rate", "good_mass_rate", "finished_roll_rate", "oee", "availability", "performance", "quality",
	"time.running", "time.slowed", "time.ramping", "time.stopped", "stop_rate",
	"waste.total", "waste.residual", "waste.splice", "waste.restart", "waste.web_break", "waste.stop", "waste.transfer", "waste.changeover", "waste.rejected",
	"splice_rate", "splice.not_ready", "splice.failed", "splice.run_out", "splice.not_refilled", "unwind_storage.lowest",
	"transfer_rate", "transfer.not_ready", "transfer.failed", "transfer.not_refilled", "rewind_storage.highest",
	"splice.depletion", "transfer.overfill",
	"crew.utilisation", "time.waiting_for_operator"}

// perBlock is how many alternatives stand side by side.
const perBlock = 2

// CompareTable writes the alternatives side by side against the first: under
// each figure the paired difference with its half width, "~" where no difference is shown.
func CompareTable(w io.Writer, about About, rs *sim.Results, sys model.System, color bool) error {
	var b strings.Builder
	fmt.Fprintf(&b, "%s\n%s\n", bold(shorten(safe(about.Title), 100), color), wrap(head(rs.Run), 100))
	for from := 1; from == 1 || from < len(rs.Alternatives); from += perBlock {
		block := []int{0}
		for i := from; i < min(from+perBlock, len(rs.Alternatives)); i++ {
			block = append(block, i)
		}
		compareBlock(&b, rs, block, sys, color)
	}
	if len(rs.Alternatives) > 1 {
		fmt.Fprintf(&b, "\n%s\n", wrap("(+ and −: difference from "+called(rs.Alternatives[0])+", same chance in both; ~ no difference shown)", 100))
	}
	for _, s := range Sentences(rs, sys) {
		fmt.Fprintln(&b, "\n"+wrap(s, 96))
	}
	_, err := io.WriteString(w, b.String())
	return err
}

// compareBlock writes the first alternative and some of the others side by side.
func compareBlock(b *strings.Builder, rs *sim.Results, block []int, sys model.System, color bool) {
	const first, width = 37, 21
	fmt.Fprintf(b, "\n%s", pad("", first))
	names := make([][]string, len(block))
	most := 0
	for k, i := range block {
		names[k] = strings.Split(wrap(safe(rs.Alternatives[i].Alternative), width-2), "\n")
		most = max(most, min(3, len(names[k])))
	}
	for line := range most {
		if line > 0 {
			fmt.Fprintf(b, "\n%s", pad("", first))
		}
		for k := range block {
			s := ""
			if line < len(names[k]) {
				s = shorten(names[k][line], width-2)
			}
			fmt.Fprint(b, padLeft(s, width))
		}
	}
	fmt.Fprintln(b)
	last := group(-1)
	for _, name := range comparedNames(rs) {
		largest, used := 0.0, false
		for _, i := range block {
			if e, ok := rs.Alternatives[i].Metrics[name]; ok {
				largest = max(largest, math.Abs(e.Mean))
				used = used || e.Mean != 0
			}
		}
		if !used {
			continue
		}
		l := labelOf(name)
		if l.group != last {
			last = l.group
			fmt.Fprintf(b, "%s\n", bold(groupHeads[l.group], color))
		}
		unit := ""
		for _, i := range block {
			if e, ok := rs.Alternatives[i].Metrics[name]; ok {
				unit = e.Unit
			}
		}
		u := shown(unit, largest, sys)
		fmt.Fprint(b, pad("  "+shorten(l.text, first-4-columns(u.Name))+", "+u.Name, first))
		var diffs strings.Builder
		any := false
		for _, i := range block {
			text := "–"
			if e, ok := rs.Alternatives[i].Metrics[name]; ok {
				text = figure(e, u)
			}
			fmt.Fprint(b, padLeft(text, width))
			d, ok := differenceOf(rs, i, name)
			s := ""
			switch {
			case i == 0 || !ok:
			case !d.Shown():
				s, any = "~", true
			default:
				s, any = difference(d, u), true
			}
			diffs.WriteString(padLeft(s, width))
		}
		fmt.Fprintln(b)
		if any {
			fmt.Fprintln(b, strings.TrimRight(pad("", first)+diffs.String(), " "))
		}
	}
}

// comparedNames puts the stopped time by hold, that some alternative has, after time.stopped.
func comparedNames(rs *sim.Results) []string {
	var names []string
	for _, n := range compared {
		names = append(names, n)
		if n != "time.stopped" {
			continue
		}
		seen := map[string]bool{}
		for _, r := range rs.Alternatives {
			for _, x := range r.Names {
				if strings.HasPrefix(x, "time.stopped.") && !seen[x] {
					seen[x] = true
					names = append(names, x)
				}
			}
		}
	}
	return names
}

// differenceOf is the paired difference of an alternative from the first. Time
// stopped for a hold that one of the two cannot have is zero there, so that the
// figure of the other is the difference.
func differenceOf(rs *sim.Results, i int, name string) (sim.Estimate, bool) {
	if d, ok := rs.Differences[i][name]; ok {
		return d, true
	}
	if i == 0 || !strings.HasPrefix(name, "time.stopped.") {
		return sim.Estimate{}, false
	}
	if e, ok := rs.Alternatives[i].Metrics[name]; ok {
		return e, true
	}
	e, ok := rs.Alternatives[0].Metrics[name]
	return turned(e), ok
}

// difference is a difference that is shown, with its sign.
func difference(d sim.Estimate, u model.Unit) string {
	sign := "+"
	if d.Mean < 0 {
		if d.Why == estimate.Skewed { // its ends have signs of their own
			return strings.TrimPrefix(strings.NewReplacer(" -", " −", "(-", "(−").Replace(" "+figure(d, u)), " ")
		}
		sign, d = "−", turned(d)
	}
	return sign + figure(d, u)
}

// turned is an estimate of the opposite.
func turned(e sim.Estimate) sim.Estimate {
	e.Mean, e.Low, e.High = -e.Mean, -e.High, -e.Low
	return e
}

// wrap breaks text at spaces into lines of a width on the screen.
func wrap(s string, width int) string {
	var lines []string
	line := ""
	for _, word := range strings.Fields(s) {
		if line != "" && columns(line)+1+columns(word) > width {
			lines = append(lines, line)
			line = ""
		}
		if line != "" {
			line += " "
		}
		line += word
	}
	return strings.Join(append(lines, line), "\n")
}
