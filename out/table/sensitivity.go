package table

import (
	"fmt"
	"io"
	"math"
	"slices"
	"strconv"
	"strings"

	"rollchange/model"
	"rollchange/model/legible"
	"rollchange/out/words"
	"rollchange/sim/estimate"
	"rollchange/sim/replicate"
	"rollchange/sim/whatif"
)

// mostSwings is how many inputs a table of a sensitivity shows for each metric.
const mostSwings = 12

// Sensitivity writes, for each metric, the inputs that move it most.
func Sensitivity(w io.Writer, about words.About, s *whatif.Sensitivities, run replicate.RunInfo, sys model.System, to Screen) error {
	var b strings.Builder
	title := about.TitleOf(s.Alternative, false)
	fmt.Fprintf(&b, "%s\n%s\n", to.title(title), to.made(about, words.Head(run)))
	for _, metric := range s.Metrics {
		swingTable(&b, s, metric, sys, to)
	}
	fmt.Fprintf(&b, "\n%s\n", to.prose("("+howMoved(s, run)+")"))
	for _, x := range []struct {
		what string
		list []string
	}{{words.HeadNotMoved, words.UnmovedTexts(s)}, {words.HeadNotKnown, words.LackTexts(s)}} {
		if len(x.list) > 0 {
			fmt.Fprintln(&b, to.prose(fmt.Sprintf("%s: %s.", x.what, strings.Join(x.list, "; "))))
		}
	}
	_, err := io.WriteString(w, b.String())
	return err
}

// swingTable writes the inputs that move one metric.
func swingTable(b *strings.Builder, s *whatif.Sensitivities, metric string, sys model.System, to Screen) {
	list := s.Swings[metric]
	r := words.StakeReading(s, metric, list[0].Base, sys)
	fmt.Fprintf(b, "\n%s\n", to.head(fmt.Sprintf(words.HeadNow, r.Label, r.Level(list[0].Base, list[0].BaseHalf))))
	g := grid{label: words.HeadInput, heads: []string{words.HeadLowEnd, words.HeadHighEnd, words.HeadMovedTo}}
	if !math.IsNaN(list[0].Total) {
		g.heads = append(g.heads, words.HeadTotal)
	}
	shown := 0
	for _, x := range list {
		if shown == mostSwings || x.Size() == 0 {
			break
		}
		shown++
		cells := []string{r.Moves(x, 0), r.Moves(x, 1), words.Shorten(fromTo(words.SettingText(x.At[0], sys), words.SettingText(x.At[2], sys)), 26)}
		if !math.IsNaN(x.Total) {
			cells = append(cells, strconv.FormatFloat(x.Total, 'f', 2, 64))
		}
		g.add(x.Key, cells...)
	}
	if shown > 0 {
		g.write(b, to)
	}
	switch n := len(list) - shown; {
	case shown == 0:
		fmt.Fprintln(b, words.NoInputMoves)
	case n == 1:
		fmt.Fprintln(b, words.OneInputLess)
	case n > 1:
		fmt.Fprintf(b, words.InputsLess+"\n", n)
	}
	sourcesTable(b, s, metric, r, to)
}

// mostSources is how many sources of chance a table shows for each metric, and
// leastShare of the variance one has that is told of.
const (
	mostSources = 6
	leastShare  = 0.01
)

// sourcesTable writes what each source of chance adds to the spread of a metric
// from period to period.
func sourcesTable(b *strings.Builder, s *whatif.Sensitivities, metric string, r words.Stake, to Screen) {
	v, ok := s.Varies[metric]
	if !ok {
		return
	}
	if v.SD == 0 {
		fmt.Fprintf(b, words.NeverVaries+"\n", words.Duration(s.Period))
		return
	}
	g := grid{lead: fmt.Sprintf(words.HeadVariation, words.Duration(s.Period), r.Spread(v.SD), v.Periods), heads: []string{words.HeadOfVariance}}
	n := 0
	for _, x := range v.Sources {
		if n == mostSources || x.Share < leastShare {
			break
		}
		if !x.Shown() {
			continue
		}
		n++
		g.add("  "+legible.Line(x.Key), ofVariance(x))
	}
	if v.Split && v.Rest.Share >= leastShare {
		g.add("  "+words.TheRest, ofVariance(v.Rest))
	}
	g.write(b, to)
	switch left := len(v.Sources) - n; {
	case n == 0:
		fmt.Fprintln(b, words.NoSourceAdds)
	case left == 1:
		fmt.Fprintln(b, words.OneSourceLess)
	case left > 1:
		fmt.Fprintf(b, words.SourcesLess+"\n", left)
	}
}

// ofVariance is the share of a source of chance with its half width, in per cent.
func ofVariance(x whatif.Source) string {
	return words.Figure(estimate.Estimate{Mean: x.Share, HalfWidth: x.Half}, model.Unit{SI: 0.01}) + " %"
}

// fromTo is the range of an input, what both ends have in common said once:
// "mean 3.6 … 4.4 min".
func fromTo(low, high string) string {
	low, high = legible.Line(low), legible.Line(high)
	for _, what := range []string{"mean ", "sd "} {
		a, isA := strings.CutPrefix(low, what)
		b, isB := strings.CutPrefix(high, what)
		if isA && isB {
			return what + fromTo(a, b)
		}
	}
	if x, unit, ok := strings.Cut(low, " "); ok && strings.HasSuffix(high, " "+unit) && x != "x" {
		return x + " … " + high
	}
	return low + " … " + high
}

// howMoved says how inputs were moved, and what the marks mean.
func howMoved(s *whatif.Sensitivities, run replicate.RunInfo) string {
	how := fmt.Sprintf(words.MovedAlone, 100*s.Share)
	if s.Against != "" {
		how += words.MovedInBoth
	}
	if run.Replications < 2 {
		return how + words.MovedOnce
	}
	how += words.MovedFromNow
	for _, list := range s.Swings {
		if slices.ContainsFunc(list, func(x whatif.Swing) bool { return x.Glanced }) {
			how += words.MovedLeast
			break
		}
	}
	split, redrawn := false, false
	for _, v := range s.Varies {
		split, redrawn = split || v.Split, redrawn || !v.Split
	}
	if split {
		how += words.SplitVariance
	}
	if redrawn {
		how += words.RedrawnVariance
	}
	if !math.IsNaN(s.Missed) {
		how += fmt.Sprintf(words.SurfaceMisses, words.Short(100*s.Missed, 2))
	}
	return how
}
