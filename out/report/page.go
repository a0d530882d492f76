package report

import (
	"embed"
	"encoding/base64"
	"fmt"
	"html/template"
	"io"
	"math"
	"path/filepath"
	"strconv"
	"strings"

	"rollchange/model/portable"
	"rollchange/out/words"
)

//go:embed page.html style.css
var pageFiles embed.FS

// block is one thing of a section, in the order of the page.
type block struct {
	Sub    string // a heading
	Lead   string // a paragraph that stands out
	Text   string
	List   []string
	Table  *table
	Figure *figure
	Pairs  [][2]string
	Signs  []signer
	Pre    string
	Code   string
}

type section struct {
	ID, Head string
	Blocks   []block
}

// leastBalance is the share of the whole below which books are told to balance no better:
// rounding is below it.
const leastBalance = 1e-9

// page is what page.html shows.
type page struct {
	W                *phrases
	Title, Made, Set string
	Logo             template.URL
	Style            template.CSS
	Cover            []fill
	First            []*section // the page that is read and signed
	Sections         []*section // the appendix
	// The scenario, to be saved as it is; empty when it is long.
	Save     template.URL
	SaveName string
}

// sectionOf is a section with the page that it is of.
type sectionOf struct {
	Page    *page
	Section *section
}

// mostSaved is the largest scenario that can be saved from the page, bytes.
const mostSaved = 60 << 10

// Write writes the page.
func Write(w io.Writer, c *Content) error {
	p, err := c.page()
	if err != nil {
		return err
	}
	return p.write(w)
}

func (p *page) write(w io.Writer) error {
	t, err := template.New("page.html").Funcs(template.FuncMap{"sectionOf": func(p *page, s *section) sectionOf { return sectionOf{p, s} }}).ParseFS(pageFiles, "page.html")
	if err != nil {
		return err
	}
	return t.Execute(w, p)
}

func (c *Content) page() (*page, error) {
	w, err := wordsOf(c.Lang)
	if err != nil {
		return nil, err
	}
	style, err := pageFiles.ReadFile("style.css")
	if err != nil {
		return nil, err
	}
	title := c.Title
	if title == "" {
		title = c.Scenario.Study.Title
	}
	if title == "" {
		title = filepath.Base(c.About.File)
	}
	p := &page{W: w, Title: words.Line(title, mostTitle), Style: template.CSS(style), Made: fmt.Sprintf(w.Made, c.About.Version, words.Head(c.Results.Run))}
	p.Set = words.Keyless(c.About.SetSentence())
	v := c.cover()
	p.Cover = []fill{{w.First["customer"], v.Customer}, {w.First["author"], v.Author}, {w.First["date"], v.Date}}
	if c.Logo != nil {
		p.Logo = c.Logo.url
	}
	if len(c.Scenario.Text) <= mostSaved {
		p.Save = template.URL("data:text/plain;charset=utf-8;base64," + base64.StdEncoding.EncodeToString(c.Scenario.Text))
	}
	p.SaveName = c.fileName()
	b := &builder{c: c, w: w}
	b.first()
	p.First, b.sections = b.sections, nil
	for _, part := range []func(*builder){(*builder).full, (*builder).why, (*builder).plan, (*builder).money, (*builder).change,
		(*builder).found, (*builder).match, (*builder).limits, (*builder).cautions, (*builder).again} {
		part(b)
	}
	p.Sections = b.sections
	return p, b.err
}

// fileName is the name under which the scenario is run again.
func (c *Content) fileName() string {
	n := filepath.Base(c.About.File)
	if n == "standard input" || n == "" || n == "." {
		n = "scenario.toml"
	}
	return words.Line(n, mostTitle)
}

// builder fills the sections and numbers figures and tables.
type builder struct {
	c        *Content
	w        *phrases
	sections []*section
	figures  int
	tables   int
	err      error
}

func (b *builder) section(id, head string) {
	b.sections = append(b.sections, &section{ID: id, Head: head})
}

func (b *builder) add(x block) {
	s := b.sections[len(b.sections)-1]
	if x.Table != nil && x.Table.Name != "" {
		b.tables++
		x.Table.N, x.Table.Numbered = b.tables, fmt.Sprintf(b.w.Figure["table"], b.tables)
	}
	x.Lead, x.Text = typeset(x.Lead), typeset(x.Text)
	for i := range x.List {
		x.List[i] = typeset(x.List[i])
	}
	s.Blocks = append(s.Blocks, x)
}

// typeset gives names in sentences their curly quotes, and units their powers.
func typeset(s string) string {
	var b strings.Builder
	open := false
	for _, r := range strings.ReplaceAll(s, `\"`, "'") {
		switch {
		case r != '"':
			b.WriteRune(r)
		case open:
			b.WriteRune('”')
		default:
			b.WriteRune('“')
		}
		open = open != (r == '"')
	}
	return powers.Replace(b.String())
}

var powers = strings.NewReplacer("m2", "m²", "ft2", "ft²")

// picture adds a picture where there is one to draw.
func (b *builder) picture(kind string) bool {
	f, err := b.c.figure(b.w, kind)
	if f == nil {
		return false
	}
	if err != nil {
		b.err = err
		return false
	}
	b.figures++
	f.N = b.figures
	b.add(block{Figure: f})
	return true
}

// full is the answer in all its sentences, and the alternatives with what they cost.
func (b *builder) full() {
	b.section("full", b.w.Answer["full"])
	for _, s := range b.c.answer(b.w) {
		b.add(block{Text: s})
	}
	if len(b.c.Results.Alternatives) > 1 {
		b.add(block{Sub: b.w.Question["list"]})
		b.add(block{List: b.c.ways(b.w)})
	}
}

func (b *builder) why() {
	b.section("why", b.w.Why["head"])
	b.picture("hours")
	if s := words.Sentences(b.c.Results.WithRecords(), b.c.Scenario.Study.Units); len(s) > 1 {
		b.add(block{Text: strings.Join(s[1:], " ")})
	}
	if s := b.c.open(); s != "" {
		b.add(block{Sub: b.w.Why["records"], Text: s})
	}
	b.picture("web")
	b.picture("output")
}

func (b *builder) money() {
	c, m := b.c, b.w.Money
	b.section("money", m["head"])
	k := c.chosen()
	if k == nil {
		text := fmt.Sprintf(m["missing"], name(c.Results.Alternatives[c.Answer].Alternative), c.whyNoMoney())
		if c.lacksPrices() {
			text += " " + m["missing_how"]
		}
		b.add(block{Text: text})
	}
	if c.priced() {
		b.add(block{Table: c.overviewTable(b.w)})
	}
	if k != nil {
		b.add(block{Text: words.CaseKind(k, c.Scenario.Study.Units)})
		b.add(block{Text: words.CoveredInReport(k)})
	}
	if t := c.stepsTable(b.w); t != nil {
		b.add(block{Sub: m["steps"]})
		b.add(block{Table: t})
	}
	if k == nil {
		return
	}
	b.add(block{Sub: m["causes"]})
	b.add(block{Table: c.causeTable(b.w)})
	b.add(block{Sub: m["flow"]})
	b.picture("cash")
	b.add(block{Sub: m["worth"]})
	b.add(block{Table: c.worthTable(b.w)})
	if other := c.otherCases(); len(other) > 0 {
		b.add(block{Sub: m["other"]})
		b.add(block{List: other})
	}
	if len(k.Warnings) > 0 {
		b.add(block{Sub: m["warnings"]})
		var list []string
		for _, x := range k.Warnings {
			list = append(list, sentence(words.Line(words.WarningText(k, x), 2*mostNote))+".")
		}
		b.add(block{List: list})
	}
}

func (b *builder) found() {
	c, f := b.c, b.w.Found
	b.section("found", f["head"])
	b.add(block{Text: f["method"]})
	if len(c.Results.Alternatives) > 1 {
		b.add(block{Text: f["paired"]})
	}
	worst := 0.0
	for _, r := range c.Results.Alternatives {
		worst = max(worst, math.Abs(r.Balance.Metres), math.Abs(r.Balance.Seconds))
	}
	b.add(block{Text: fmt.Sprintf(f["balance"], words.Grouped(portable.Pow(10, math.Floor(-portable.Log10(max(worst, leastBalance))+1e-9))))})
	b.add(block{Sub: f["drawing"]})
	b.picture("line")
	if len(c.Cycle) > 1 {
		b.add(block{Sub: f["cycle"]})
		b.picture("cycle")
	}
	b.add(block{Sub: b.w.Why["table"]})
	for _, t := range b.c.compareTables(b.w) {
		b.add(block{Table: t})
	}
	b.add(block{Sub: f["inputs"]})
	b.add(block{Table: c.inputsTable(b.w)})
}

// match tells whether the model makes what the line really made, where that is known.
func (b *builder) match() {
	c, m := b.c, b.w.Match
	if c.Match == nil {
		return
	}
	b.section("records", m["head"])
	b.add(block{Lead: strings.Join(words.MatchSentences(c.Match, c.Scenario.Study.Units), " ")})
	b.picture("records")
	b.add(block{Text: fmt.Sprintf(m["intro"], name(c.Match.Alternative))})
	b.add(block{Text: words.MatchNote(c.Match)})
}

func (b *builder) limits() {
	b.section("limits", b.w.Limits.Head)
	b.add(block{List: b.w.Limits.List})
}

func (b *builder) cautions() {
	b.section("cautions", b.w.Cautions["head"])
	b.add(block{List: b.c.cautions(b.w)})
}

func (b *builder) again() {
	c, a := b.c, b.w.Again
	b.section("again", a["head"])
	b.add(block{Text: a["intro"]})
	b.add(block{Code: c.Command})
	r := c.Results.Run
	b.add(block{Pairs: [][2]string{{a["version"], c.About.Version}, {a["scenario"], c.fileName()}, {a["sha256"], c.About.SHA256},
		{a["seed"], strconv.FormatUint(r.Seed, 10)}, {a["replications"], words.Grouped(float64(r.Replications))}, {a["horizon"], words.Duration(r.Horizon)}}})
	b.add(block{Sub: a["text"]})
	b.add(block{Pre: string(c.Scenario.Text)})
}
