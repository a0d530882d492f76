package workbook

import (
	"fmt"
	"io"
	"math"
	"slices"

	"github.com/xuri/excelize/v2"

	"rollchange/model"
	"rollchange/model/legible"
	"rollchange/out/words"
	"rollchange/sim/estimate"
	"rollchange/sim/plan"
)

// PlanBook is what the workbook of a plan is made of.
type PlanBook struct {
	About     words.About
	Answer    *plan.Answer
	Proposals []*plan.Proposal // none: no sheet of them
	Units     model.System
}

const (
	ordersAt = 4       // the row of the heads of the orders
	mostRows = 1 << 20 // of a sheet
)

// CheckPlan says whether a sheet holds a row for each of so many orders of so many
// alternatives.
func CheckPlan(orders, alternatives int) error {
	if n := orders * alternatives; n > mostRows-ordersAt {
		return fmt.Errorf(words.PlanMost, mostRows, n)
	}
	return nil
}

// WritePlan writes when the orders of a list are made as a workbook, all values: the
// whole list by alternative, a row for each order of each alternative, the proposed
// sequences, notes. Times are dates where the list has a begin, else hours from it.
// The same plan gives the same bytes.
func WritePlan(w io.Writer, b PlanBook) error {
	if err := CheckPlan(len(b.Answer.Orders), len(b.Answer.Alternatives)); err != nil {
		return err
	}
	s := &planSheets{sheets: &sheets{f: excelize.NewFile(), formulas: map[string]map[string]string{}, Book: Book{About: b.About, Units: b.Units}},
		PlanBook: b, clock: words.ClockOf(b.Answer), length: words.ShownUnit("m", 0, b.Units)}
	defer s.f.Close()
	s.styles()
	s.whole()
	s.orders()
	if len(b.Proposals) > 0 {
		s.proposals()
	}
	s.told()
	return s.finish(w)
}

// planSheets builds the workbook of a plan.
type planSheets struct {
	*sheets
	PlanBook
	clock  words.PlanClock
	length model.Unit
}

// time puts a time of the plan into a cell, nothing when it does not exist.
func (s *planSheets) time(col, row int, seconds float64) {
	if math.IsInf(seconds, 0) { // not due
		seconds = math.NaN()
	}
	days, dated := s.clock.Days(seconds)
	switch {
	case !dated:
		s.hours(col, row, seconds)
	case math.IsNaN(days):
		s.look(col, row, "clock")
	default: // all digits: of 15, cut off, 10:00 would be shown as 09:59
		s.must(s.f.SetCellFloat(s.sheet, at(col, row), days, 12, 64))
		s.look(col, row, "clock")
	}
}

func (s *planSheets) hours(col, row int, seconds float64) {
	s.number(col, row, "years", seconds/3600)
}

// timesNote says what the times are.
func (s *planSheets) timesNote() string {
	if _, ok := s.clock.Days(0); ok {
		return words.PlanTimesOf
	}
	return words.PlanTimesFrom
}

// whole is the sheet of the whole list, two columns for each alternative.
func (s *planSheets) whole() {
	a := s.Answer
	widths := []float64{44, 10}
	heads := slices.Clone(words.PlanHeads)
	for i := range a.Alternatives {
		widths = append(widths, 20, 12)
		heads = append(heads, a.Alternatives[i].Name, words.SheetPlusMinus)
	}
	s.add(words.SheetPlan, widths...)
	s.title(s.sheets.About.Title, fmt.Sprintf(words.PlanSheetNote, words.PlanHead(a))+" "+s.timesNote())
	s.heads(4, true, heads...)
	row := 4
	line := func(label, unit string, first int, cell func(col int, x *plan.Alternative)) {
		row++
		s.text(1, row, "", label)
		s.text(2, row, "unit", unit)
		for i := first; i < len(a.Alternatives); i++ {
			cell(3+2*i, &a.Alternatives[i])
		}
	}
	figure := func(style string, per float64, of func(*plan.Alternative) estimate.Estimate) func(int, *plan.Alternative) {
		return func(col int, x *plan.Alternative) {
			e := of(x)
			s.number(col, row, style, e.Mean/per)
			s.number(col+1, row, style, e.HalfWidth/per)
		}
	}
	unit := words.PlanTime
	if _, ok := s.clock.Days(0); !ok {
		unit = words.PlanHours
	}
	line(words.HeadListDone, unit, 0, func(col int, x *plan.Alternative) { s.time(col, row, x.Done.Mean) })
	line(words.PlanDoneLow, unit, 0, func(col int, x *plan.Alternative) { s.time(col, row, x.Done.Low) })
	line(words.PlanDoneHigh, unit, 0, func(col int, x *plan.Alternative) { s.time(col, row, x.Done.High) })
	line(words.PlanNotDone, "", 0, func(col int, x *plan.Alternative) { s.number(col, row, "share", x.Unended) })
	due := words.Due(a)
	if due > 0 {
		line(fmt.Sprintf(words.PlanOnTimeOf, due), "", 0, figure("years", 1, func(x *plan.Alternative) estimate.Estimate { return x.OnTime }))
		line(words.HeadLateHours, words.PlanHours, 0, figure("years", 3600, func(x *plan.Alternative) estimate.Estimate { return x.Late }))
	}
	line(words.HeadChanges, words.PlanHours, 0, figure("years", 3600, func(x *plan.Alternative) estimate.Estimate { return x.Change }))
	if len(a.Alternatives) < 2 {
		return
	}
	first := legible.Quote(a.Alternatives[0].Name)
	line(fmt.Sprintf(words.PlanSooner, first), words.PlanHours, 1, figure("years", 3600, func(x *plan.Alternative) estimate.Estimate { return x.SoonerBy }))
	if due > 0 {
		line(fmt.Sprintf(words.PlanMoreTimed, first), "", 1, figure("years", 1, func(x *plan.Alternative) estimate.Estimate { return x.MoreTimed }))
		line(fmt.Sprintf(words.PlanLessLate, first), words.PlanHours, 1, figure("years", 3600, func(x *plan.Alternative) estimate.Estimate { return x.LessLate }))
	}
}

// causes are those that any alternative stops for, in their order.
func (s *planSheets) causes() []string {
	var all []string
	for i := range s.Answer.Alternatives {
		x := &s.Answer.Alternatives[i]
		for h, c := range x.Causes {
			if !slices.Contains(all, c) && slices.ContainsFunc(x.Orders, func(o plan.Order) bool { return o.Stopped[h] > 0 }) {
				all = append(all, c)
			}
		}
	}
	return all
}

// orders is the sheet of a row for each order of each alternative.
func (s *planSheets) orders() {
	causes := s.causes()
	var heads []string
	of := func(list []string) {
		for _, h := range list {
			heads = append(heads, s.inLength(h))
		}
	}
	of(words.PlanOrderHeads)
	for _, c := range causes {
		heads = append(heads, fmt.Sprintf(words.PlanHoursOf, words.HoldLabel(c)))
	}
	of(words.PlanWebHeads)
	widths := []float64{22, 14, 24, 7, 11, 17, 17, 17, 17, 17}
	for len(widths) < len(heads) {
		widths = append(widths, 12)
	}
	s.add(words.SheetOrders, widths...)
	s.title(words.TitlePlan, words.PlanOrdersNote+" "+s.timesNote())
	s.heads(ordersAt, true, heads...)
	for _, col := range []int{2, 3} {
		s.look(col, ordersAt, "head")
	}
	row := ordersAt
	for i := range s.Answer.Alternatives {
		for k := range s.Answer.Orders {
			row++
			s.order(row, &s.Answer.Alternatives[i], k, causes)
		}
	}
	s.must(s.f.AutoFilter(s.sheet, at(1, ordersAt)+":"+at(len(heads), max(row, ordersAt+1)), nil))
}

// inLength puts the unit of length into a head that wants it.
func (s *planSheets) inLength(head string) string {
	if n := len(head) - 2; n > 0 && head[n:] == "%s" {
		return head[:n] + s.length.Name
	}
	return head
}

// order is the row of one order of an alternative; what did not end has no figures.
func (s *planSheets) order(row int, x *plan.Alternative, k int, causes []string) {
	o, l := &x.Orders[k], &s.Answer.Orders[k]
	s.text(1, row, "", x.Name)
	s.text(2, row, "", l.Name)
	s.text(3, row, "", s.Answer.Products[l.Product])
	if o.Line > 0 {
		s.number(4, row, "", float64(o.Line))
	}
	s.number(5, row, "money", s.length.From(l.Length))
	for i, t := range []float64{o.Begin.Mean, o.End.Mean, o.End.Low, o.End.High, l.Due} {
		s.time(6+i, row, t)
	}
	if o.Late.N > 0 {
		s.number(11, row, "share", o.Late.Mean)
		if o.Ended > 0 {
			s.hours(12, row, o.LateBy)
		}
	}
	last := 16 + len(causes) + len(words.PlanWebHeads)
	s.number(last, row, "share", o.Ended)
	if o.Ended == 0 {
		return
	}
	all := o.Running + o.Ramping + o.Slowed
	for _, t := range o.Stopped {
		all += t
	}
	for i, t := range []float64{all, o.Running, o.Ramping, o.Slowed} {
		s.hours(13+i, row, t)
	}
	for i, c := range causes {
		if h := slices.Index(x.Causes, c); h >= 0 {
			s.hours(17+i, row, o.Stopped[h])
		}
	}
	col := 17 + len(causes)
	for i, v := range []float64{o.Good, o.Scrap + o.Residual, o.Residual} {
		s.number(col+i, row, "money", s.length.From(v))
	}
	s.number(col+3, row, "years", o.FinishedRolls)
	s.number(col+4, row, "years", o.RollChanges)
	s.number(col+5, row, "plain", s.length.From(o.Tape))
}

// proposals is the sheet of other sequences: what each would bring, then the sequences.
func (s *planSheets) proposals() {
	s.add(words.SheetProposal, 30, 26, 18, 24, 16, 12, 12, 12, 12, 12, 12)
	s.title(words.SheetProposal, words.PlanProposalNote)
	s.heads(4, true, words.PlanProposalHeads...)
	s.look(2, 4, "head")
	row := 4
	for _, p := range s.Proposals {
		row++
		s.text(1, row, "", p.Alternative)
		s.text(2, row, "", words.LessOf(p.Target))
		for i, e := range []estimate.Estimate{p.Listed, p.Proposed, p.Gain} {
			s.hours(3+2*i, row, e.Mean)
			s.hours(4+2*i, row, e.HalfWidth)
		}
		s.number(9, row, "plain", float64(p.Tried))
		s.number(10, row, "plain", float64(p.Simulated))
		if p.Exact {
			s.text(11, row, "", words.PlanExact)
		}
	}
	row += 2
	s.heads(row, false, words.PlanSequenceHeads...)
	for _, col := range []int{3, 4} {
		s.look(col, row, "head")
	}
	for _, p := range s.Proposals {
		for place, k := range p.Sequence {
			row++
			s.text(1, row, "", p.Alternative)
			s.number(2, row, "", float64(place+1))
			s.text(3, row, "unit", s.Answer.Orders[k].Name)
			s.text(4, row, "", s.Answer.Products[s.Answer.Orders[k].Product])
			s.number(5, row, "", float64(k+1))
		}
	}
}

// told is the sheet of the answer in words, the cautions and what made the workbook.
func (s *planSheets) told() {
	answer := words.PlanSentences(s.Answer)
	for _, p := range s.Proposals {
		answer = append(answer, words.ProposalSentences(s.Answer, p)...)
	}
	add := s.noteSheet()
	add(words.NotesAnswerPlan, answer...)
	add(words.NotesCautions, model.Safety)
	a := s.sheets.About
	add(words.NotesMade, fmt.Sprintf(words.NotesTool, a.Version, a.File, a.SHA256, words.PlanHead(s.Answer)))
	if set := a.SetSentence(); set != "" {
		add(words.NotesDiffers, set+".")
	}
	s.printed("A1", at(1, add("")-2), 0)
}
