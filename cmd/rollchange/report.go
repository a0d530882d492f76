package main

import (
	"errors"
	"fmt"
	"io"
	"path/filepath"
	"slices"
	"strings"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"rollchange/model"
	"rollchange/out/files"
	"rollchange/out/picture"
	"rollchange/out/report"
	"rollchange/out/words"
	"rollchange/out/workbook"
	"rollchange/scenarios"
)

// reportOptions are the flags of report that no other command has.
type reportOptions struct {
	options
	title, logo, lang, xlsx string
	cover                   model.Cover
}

func newReport() *cobra.Command {
	var o reportOptions
	cmd := &cobra.Command{
		Use:   "report FILE",
		Short: "Write one page to hand over: question, answer, reasons, money, method",
		Long: `Report simulates all alternatives of the scenario and writes one HTML page for the
person who decides. Its first page is read and signed: customer, author, date and
question, the answer in money and years and how sure it is, what it rests on, the
three assumptions that matter most with their sources, recorded against modelled, and
a place to sign. What [report] of the scenario gives is at its head; what it does
not give is a line to fill in by hand.

The appendix has the pictures that show why, the money if the scenario has prices,
what would change the answer, the line drawn to scale, the inputs with their sources,
the limits of the model, cautions, and the scenario itself with version and seed.

The page has no script and loads nothing: it can be mailed, printed on A4 or Letter,
and read without the tool. The same scenario and flags give the same bytes. The page
treats the recommended alternative in full; --alternative names another.`,
		Example: "  rollchange report line.toml -o line.html\n  rollchange report line.toml -o line.html --customer \"Example Films\" --author \"A. Planner\" --date 2026-03-31 --logo logo.png\n  rollchange report line.toml -o line.html --units imperial --plots pictures",
		Args:    oneFile,
		RunE:    func(cmd *cobra.Command, args []string) error { return o.run(cmd, args[0]) },
	}
	o.addScenario(cmd)
	o.addSimulation(cmd)
	o.addRecords(cmd)
	o.recordsUsual = true
	o.addBase(cmd)
	o.addTarget(cmd)
	f := cmd.Flags()
	f.Lookup("alternative").Usage = "the alternative to treat in full instead of the recommended one"
	f.Lookup("output").Usage = "write the page to this file, whole or not at all (required)"
	f.StringVar(&o.title, "title", "", "title of the page instead of the scenario's")
	f.StringVar(&o.cover.Customer, "customer", "", "whom the page is for, instead of report.customer")
	f.StringVar(&o.cover.Author, "author", "", "author of the page, instead of report.author")
	f.StringVar(&o.cover.Date, "date", "", "day of the page, YYYY-MM-DD, instead of report.date; no clock is read")
	f.StringVar(&o.cover.Question, "question", "", "what the customer asked, instead of report.question")
	f.StringVar(&o.logo, "logo", "", "logo at its head: PNG, JPEG or SVG, at most 500 kB")
	f.StringVar(&o.lang, "lang", "en", "language of the page: "+strings.Join(report.Languages(), ", "))
	f.StringVar(&o.xlsx, "xlsx", "", "also write the workbook of the savings, with live formulas, to this file")
	f.StringVar(&o.plots, "plots", "", "also draw the pictures of the page into this folder, as SVG and PNG")
	return cmd
}

// check names what is wrong with the flags, before any simulation.
func (o *reportOptions) check() (logo *report.Logo, err error) {
	var errs []error
	if o.output == "" {
		errs = append(errs, errors.New("rollchange report: name the page: -o NAME.html"))
	} else if err := checkPageName("rollchange report: --output", o.output); err != nil {
		errs = append(errs, err)
	}
	if !slices.Contains(report.Languages(), o.lang) {
		errs = append(errs, fmt.Errorf("rollchange report: --lang: no page in %q; choose %s", o.lang, strings.Join(report.Languages(), ", ")))
	}
	if o.cover.Date != "" {
		if err := scenarios.CheckDay(o.cover.Date); err != nil {
			errs = append(errs, fmt.Errorf("rollchange report: --date: %w", err))
		}
	}
	if o.xlsx != "" && !files.Straight(o.xlsx) {
		if err := workbook.CheckName(o.xlsx); err != nil {
			errs = append(errs, fmt.Errorf("rollchange report: --xlsx: %w", err))
		}
	}
	if o.logo != "" {
		if logo, err = report.ReadLogo(o.logo); err != nil {
			errs = append(errs, fmt.Errorf("rollchange report: --logo: %w", err))
		}
	}
	return logo, errors.Join(errs...)
}

func (o *reportOptions) run(cmd *cobra.Command, path string) error {
	logo, err := o.check()
	if err != nil {
		return err
	}
	name := o.alternative
	s, err := o.loadAll(cmd, path)
	if err != nil {
		return err
	}
	needs := report.NeedResults
	var names []string
	for _, k := range report.Kinds() {
		needs |= k.Needs
		names = append(names, k.Name)
	}
	if o.logo != "" {
		if err := reads(cmd, o.logo, "the logo"); err != nil {
			return err
		}
	}
	if o.xlsx != "" {
		if err := writes(cmd, o.xlsx, "--xlsx"); err != nil {
			return err
		}
	}
	if err := o.willDraw(cmd, names); err != nil {
		return err
	}
	cautions(cmd.ErrOrStderr(), s, false)
	c, err := o.gather(cmd, s, needs, name)
	if err != nil {
		return err
	}
	c.Title, c.Cover, c.Logo, c.Lang = o.title, o.cover, logo, o.lang
	c.Command = again(cmd, c.About.File)
	if o.plots != "" {
		if err := o.savePictures(cmd, drawAll(c)); err != nil {
			return err
		}
	}
	if o.xlsx != "" {
		if err := o.workbook(cmd, c); err != nil {
			return err
		}
	}
	return save(cmd, o.output, func(w io.Writer) error { return report.Write(w, c) })
}

// workbook writes the savings that the page tells of in full as a workbook.
func (o *reportOptions) workbook(cmd *cobra.Command, c *report.Content) error {
	if c.Answer >= len(c.Cases) || c.Cases[c.Answer] == nil {
		return fmt.Errorf("rollchange report: --xlsx: no savings to write; rollchange payback says what the scenario lacks")
	}
	book := workbook.Book{About: c.About, Case: c.Cases[c.Answer], Results: c.Results, At: c.Answer, Sources: c.Scenario.Sources, Units: c.Scenario.Study.Units}
	return save(cmd, o.xlsx, func(w io.Writer) error { return workbook.Write(w, book) })
}

// drawAll draws every picture of a page, by their names.
func drawAll(c *report.Content) map[string]*picture.Picture {
	pictures := map[string]*picture.Picture{}
	for _, k := range report.Kinds() {
		if p, err := c.Picture(k.Name); err == nil { // else the page does without it and says so
			pictures[k.Name] = p
		}
	}
	return pictures
}

// again is the command that makes the same page: names of files without their
// folders, and nothing that does not change the bytes.
func again(cmd *cobra.Command, file string) string {
	name := filepath.Base(file)
	if file == "standard input" {
		name = "scenario.toml"
	}
	page := "-o"
	if cmd.Name() == "fit" {
		page = "--report"
	}
	words := []string{"rollchange", cmd.Name(), quoted(name), page, "report.html"}
	cmd.Flags().Visit(func(f *pflag.Flag) {
		value := f.Value.String()
		switch f.Name {
		case "output", "workers", "no-cache", "plots", "xlsx", "report", "json", "into", "speed", "recorded":
			return
		case "set", "ignore", "same", "map":
			for _, x := range f.Value.(pflag.SliceValue).GetSlice() {
				words = append(words, "--"+f.Name, quoted(x))
			}
			return
		case "logo":
			value = filepath.Base(value)
		}
		if f.NoOptDefVal != "" && f.Value.Type() != "bool" { // its value stands behind a =
			words = append(words, "--"+f.Name+"="+quoted(value))
			return
		}
		if words = append(words, "--"+f.Name); f.Value.Type() != "bool" {
			words = append(words, quoted(value))
		}
	})
	return strings.Join(words, " ")
}

// quoted is a word of a command line.
func quoted(s string) string {
	s = words.Line(s, 200)
	if s != "" && !strings.ContainsFunc(s, func(r rune) bool {
		return !(r >= 'a' && r <= 'z' || r >= 'A' && r <= 'Z' || r >= '0' && r <= '9' || strings.ContainsRune("._-/%", r))
	}) {
		return s
	}
	return "'" + strings.ReplaceAll(s, "'", `'\''`) + "'"
}
