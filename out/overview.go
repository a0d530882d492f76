package out

import (
	"fmt"
	"io"
	"math"
	"strings"

	"rollchange/model"
	"rollchange/sim/savings"
)

// SavingsTable sets the savings cases of several alternatives side by side in
// short: one row each, against the first alternative.
func SavingsTable(w io.Writer, cases []*savings.Case, color bool) error {
	if len(cases) == 0 {
		return nil
	}
	var b strings.Builder
	c := cases[0]
	fmt.Fprintf(&b, "\n%s\n", bold(shorten(fmt.Sprintf("Savings against %s, %s", alternativeName(c.Against), currency(c)), caseWidth), color))
	widths := []int{12, 13, 26, 16}
	columnsOf(&b, "", 33, widths, "investment", "saved a year", "net present value", "payback, years")
	for _, c := range cases {
		columnsOf(&b, safe(c.Alternative), 33, widths, money(c.Worth.Investment, 0), money(c.Total.Value, 0), span(c.Random.NPV), yearsText(c.Worth.Simple))
		if !math.IsInf(c.Demand, 1) {
			fmt.Fprintln(&b, "    "+string(c.Kind))
		}
	}
	note := fmt.Sprintf("(the net present value lies between so at %g %%; rollchange payback shows how each is reckoned)", 100*c.Run.Confidence)
	if math.IsInf(c.Demand, 1) {
		note = fmt.Sprintf("(no demand is given: all extra good web counts as sold; the net present value lies between so at %g %%; rollchange payback shows how each is reckoned)", 100*c.Run.Confidence)
	}
	fmt.Fprintln(&b, wrap(note, 96))
	_, err := io.WriteString(w, b.String())
	return err
}

// SolveText says at which value of an input a saving is just worth it.
func SolveText(s savings.Solution, c *savings.Case, sys model.System) string {
	name := safe(s.Label)
	if name == "" {
		name = s.Key
	}
	if s.Unit == "m" && s.Key == "economics.demand" {
		u := long(sys)
		s.Unit, s.Value, s.Base, s.Low, s.High = u.Name, u.From(s.Value), u.From(s.Base), u.From(s.Low), u.From(s.High)
	}
	unit := strings.TrimRight(" "+unitText(s.Unit), " ")
	if s.Value != s.Value {
		side := "below"
		if s.Always {
			side = "above"
		}
		return fmt.Sprintf("The mean net present value is %s 0 for every %s that was tried, %s to %s%s: there is no break-even.", side, name, plain(s.Low), plain(s.High), unit)
	}
	side := "below"
	if s.GainsAbove {
		side = "above"
	}
	base := ""
	if s.Base == s.Base {
		base = fmt.Sprintf("; the scenario has %s%s", plain(s.Base), unit)
	}
	if s.Whole {
		return fmt.Sprintf("Break-even: %s of %s%s; with it the mean net present value of %s is %s 0 for the first time%s.", name, plain(s.Value), unit, alternativeName(c.Alternative), side, base)
	}
	return fmt.Sprintf("Break-even: %s of %s%s. There the mean net present value of %s is 0; it is a gain %s that%s.", name, plain(s.Value), unit, alternativeName(c.Alternative), side, base)
}

// SolveTable writes the break-even values below the table of a case.
func SolveTable(w io.Writer, c *savings.Case, solved []savings.Solution, sys model.System) error {
	for _, s := range solved {
		if _, err := fmt.Fprintf(w, "\n%s\n", wrap(SolveText(s, c, sys), 96)); err != nil {
			return err
		}
	}
	return nil
}
