package report

import (
	"fmt"
	"html/template"
	"io"
	"strconv"

	"rollchange/out/picture"
	"rollchange/out/words"
	"rollchange/scenarios/fit"
	"rollchange/scenarios/learn"
)

// Log is what a page about a stop log is made from.
type Log struct {
	Version, Title string // Title: empty for that of the log
	SHA256         string // of the log
	Command        string // that makes the page again
	Lang           string // "en"
	Line           *learn.Line
}

// What a page about a log lists at most.
const (
	mostCauses = 100 // in the table of causes
	mostFound  = 50
	mostAt     = 12 // quantiles in the table of a picture
)

// WriteLog writes the page about a log.
func WriteLog(w io.Writer, c *Log) error {
	words, err := wordsOf(c.Lang)
	if err != nil {
		return err
	}
	style, err := pageFiles.ReadFile("style.css")
	if err != nil {
		return err
	}
	b := &logBuilder{builder{w: words}, c, words.Log}
	for _, part := range []func(){b.answer, b.causes, b.laws, b.next, b.read, b.again} {
		part()
	}
	if b.err != nil {
		return b.err
	}
	p := &page{W: words, Title: c.title(words), Style: template.CSS(style), Made: fmt.Sprintf(words.Log["made"], c.Version, name(logFile(c.Line))), Sections: b.sections}
	return p.write(w)
}

func (c *Log) title(w *phrases) string {
	if c.Title != "" {
		return words.Line(c.Title, mostTitle)
	}
	return w.Log["title"]
}

// logFile is the name of the file of a log, without its folder.
func logFile(l *learn.Line) string { return words.LogFile(l) }

// logBuilder fills the sections of a page about a log.
type logBuilder struct {
	builder
	log *Log
	say map[string]string
}

// draw adds a picture with its data.
func (b *logBuilder) draw(id, caption string, p *picture.Picture, data *table) {
	if p == nil || b.err != nil {
		return
	}
	f := &figure{ID: "fig-" + id, Caption: typeset(caption), Data: data}
	if f.SVG, b.err = inline(p, f.ID, f.Caption, data.describe(b.w)); b.err != nil {
		return
	}
	b.figures++
	f.N = b.figures
	b.add(block{Figure: f})
}

func (b *logBuilder) answer() {
	b.section("answer", b.say["answer"])
	l := b.log.Line
	for _, s := range words.FitAnswer(l) {
		b.add(block{Lead: s})
	}
	b.add(block{Text: words.LogRows(l.Log, l.Planned, l.Stopped) + "."})
	if s := words.LogApart(l.Log); s != "" {
		b.add(block{Text: s + "."})
	}
}

func (b *logBuilder) causes() {
	l := b.log.Line
	b.section("causes", b.say["causes"])
	t := &table{Name: b.say["causes_name"], Note: fmt.Sprintf(b.say["causes_note"], 100*l.Options.Confidence),
		Head: []string{b.say["cause"], b.say["stops"], b.say["hours"], b.say["share"], b.say["rate"], b.say["limits"]}}
	when := &table{Head: []string{b.say["cause"], b.say["stops"], b.say["first"], b.say["last"]}}
	for i := range l.Causes[:min(len(l.Causes), mostCauses)] {
		c := &l.Causes[i]
		rate, limits := words.FitRateText(c.Rate)
		t.add("", row{Head: name(words.CauseName(c.Text)), Cells: []cell{{Text: words.Grouped(float64(c.Stops))}, {Text: words.Fixed(c.Lost/3600, 1)}, {Text: words.Fixed(100*c.Share, 1)}, {Text: rate}, {Text: limits}}})
		if all := l.Log.StopsOf(c.Text); len(all) > 0 && i < words.MostCausesDrawn {
			when.add("", row{Head: name(words.CauseName(c.Text)), Cells: []cell{{Text: words.Grouped(float64(c.Stops))}, {Text: words.LogTime(all[0].Start)}, {Text: words.LogTime(all[len(all)-1].Start)}}})
		}
	}
	data := *t
	data.Name, data.Note = "", ""
	b.draw("lost", b.say["lost"], picture.LogLost(l), &data)
	b.add(block{Table: t})
	if n := len(l.Causes) - mostCauses; n > 0 {
		b.add(block{Text: fmt.Sprintf(b.say["causes_more"], n)})
	}
	b.draw("times", b.say["times"], picture.LogTimes(l), when)
}

func (b *logBuilder) laws() {
	l := b.log.Line
	b.section("laws", b.say["each"])
	b.add(block{Text: b.say["each_intro"]})
	for i := range l.Causes[:min(len(l.Causes), words.MostCausesDrawn)] {
		c := &l.Causes[i]
		b.add(block{Sub: name(words.CauseName(c.Text))})
		if c.Is != learn.Stop {
			b.add(block{Text: fmt.Sprintf(b.say["is"], c.Is)})
		}
		if list := words.FitSentences(c); len(list) > 0 {
			b.add(block{List: list})
		}
		if t := b.lawTable(c); len(t.Bodies) > 0 {
			b.add(block{Table: t})
		}
		// a figure for each law: both in one would leave half a page empty in print
		lasts, between := l.Shapes(c)
		id := "cause-" + strconv.Itoa(i+1)
		b.draw(id+"-lasts", fmt.Sprintf(b.say["fit_lasts"], name(words.CauseName(c.Text))), picture.LogFitLasts(c, lasts), b.quantiles(lasts))
		b.draw(id+"-between", fmt.Sprintf(b.say["fit_between"], name(words.CauseName(c.Text))), picture.LogFitBetween(c, between), b.quantiles(between))
	}
	if n := len(l.Causes) - words.MostCausesDrawn; n > 0 {
		b.add(block{Text: fmt.Sprintf(b.say["each_more"], n)})
	}
}

// lawTable is the laws of a cause, the likeliest first, and what stands for them where
// none holds.
func (b *logBuilder) lawTable(c *learn.Cause) *table {
	t := &table{Name: fmt.Sprintf(b.say["laws_name"], name(words.CauseName(c.Text))), Texts: true, Head: []string{b.say["law"], b.say["far"], b.say["aic"], b.say["verdict"]}}
	for _, x := range []struct {
		group string
		of    fit.Result
		none  bool
	}{{b.say["lasts"], c.Lasts, false}, {b.say["between"], c.Between, c.OneRate}} {
		if x.none {
			continue
		}
		for i, f := range x.of.Laws {
			verdict := b.say["worse"]
			switch {
			case i == x.of.Taken && x.of.Why == fit.NoLaw:
				verdict = fmt.Sprintf(b.say["refused"], words.FitChance(x.of.Judged.P))
			case i == x.of.Taken:
				verdict = fmt.Sprintf(b.say["taken"], words.FitChance(x.of.Judged.P))
			case f.Tied:
				verdict = b.say["tied"]
			}
			t.add(x.group, row{Head: words.LawText(f.Dist), Cells: []cell{{Text: words.Duration(f.Far)}, {Text: words.Fixed(f.AIC, 1)}, {Text: verdict}}})
		}
		if len(x.of.Laws) == 0 || x.of.Why == fit.NoLaw {
			t.add(x.group, row{Head: words.LawText(x.of.Answer), Cells: []cell{{}, {}, {Text: words.FitLaw(x.of)}}})
		}
	}
	return t
}

// quantiles is the table of a picture of a shape: some of its quantiles.
func (b *logBuilder) quantiles(s *fit.Shape) *table {
	t := &table{Head: []string{b.say["below"], b.say["seen"], b.say["by_law"]}}
	if s == nil {
		return t
	}
	n := len(s.At)
	for k := range min(n, mostAt) {
		i := k
		if n > mostAt {
			i = k * (n - 1) / (mostAt - 1)
		}
		q := s.At[i]
		t.add("", row{Head: words.Short(100*q.Chance, 3) + " %", Cells: []cell{{Text: words.Duration(q.Seen)}, {Text: words.Duration(q.Law)}}})
	}
	return t
}

func (b *logBuilder) next() {
	l := b.log.Line
	b.section("next", b.say["next"])
	if list := words.FitNext(l); len(list) > 0 {
		b.add(block{List: list})
	}
	if list := words.FitProposals(l); len(list) > 0 {
		b.add(block{Text: b.say["perhaps"]})
		var pairs [][2]string
		for _, p := range list {
			pairs = append(pairs, [2]string{p.Label, p.Text})
		}
		b.add(block{Pairs: pairs})
	}
	b.add(block{Text: b.say["use"]})
	for _, line := range words.FitUse(logFile(l)) {
		b.add(block{Code: line})
	}
}

func (b *logBuilder) read() {
	log := b.log.Line.Log
	b.section("read", b.say["read"])
	var pairs [][2]string
	for _, p := range words.LogUnderstood(&log.Understood) {
		pairs = append(pairs, [2]string{p.Label, words.Line(p.Text, 2*mostNote)})
	}
	b.add(block{Pairs: pairs})
	b.add(block{Sub: b.say["found"]})
	if len(log.Findings) == 0 {
		b.add(block{Text: b.say["nothing"]})
		return
	}
	var found [][2]string
	for i, f := range log.Findings {
		if i == mostFound {
			break
		}
		found = append(found, [2]string{fmt.Sprintf(words.FitRow, f.Row), words.Line(words.FindingText(f), 2*mostNote)})
	}
	b.add(block{Pairs: found})
	if n := len(log.Findings); n > mostFound {
		b.add(block{Text: fmt.Sprintf(b.say["rows"], mostFound, n)})
	}
}

func (b *logBuilder) again() {
	c := b.log
	b.section("again", b.say["again"])
	b.add(block{Code: c.Command})
	b.add(block{Pairs: [][2]string{{b.w.Again["version"], c.Version}, {b.say["file"], name(logFile(c.Line))}, {b.say["sha256"], c.SHA256}, {b.say["seed"], strconv.FormatUint(c.Line.Options.Seed, 10)}}})
}
