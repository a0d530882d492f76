package savings

import "rollchange/model/finance"

// Tally is what the draws have in common: means of a year of both
// alternatives, and in what share of the draws something holds.
type Tally struct {
	Year       [2]Year        // means over the draws: the first, the alternative
	Flow       []finance.Year // means by year; a year beyond the life of a draw counts as 0
	More, Less float64        // share of the draws in which more, or less, good web is sold than with the first
	FewerHours float64        // share in which the year takes fewer hours
	FreedCrew  Freed          // operator hours that count as saved
	FreedLine  Freed          // line hours
	AboveYear  [2]float64     // share in which the planned hours are more than a leap year has
	ManyRates  float64        // share in which the internal rate of return is not unique
	Invests    float64        // share in which something is invested
	Stands     Stands         // while it is installed
	Late       float64        // share in which something would be invested or spent after the end of the life
}

// Freed is time that counts as saved: in what share of the draws, and its mean in those.
type Freed struct {
	Share float64
	Mean  float64 // s a year
}

// Stands is what is not made while an alternative is installed: in what share of the
// draws, and its mean over all of them.
type Stands struct {
	Share float64
	Good  float64 // m of good web
}

// leapYear is the longest year, s.
const leapYear = 8784 * hour

// tallied counts while the draws go by.
type tallied struct {
	n    int
	sum  Tally
	crew float64
	line float64
}

func count(of *float64, when bool) {
	if when {
		*of++
	}
}

// add takes one draw: its inputs, its year and what it is worth.
func (t *tallied) add(v *vector, a *account, widths [2]float64, w *Worth) {
	t.n++
	for i := range a.year {
		t.sum.Year[i].add(&a.year[i])
	}
	x, y := &a.year[0], &a.year[1]
	sold := widths[1]*y.Good - widths[0]*x.Good
	if widths == [2]float64{} { // no prices by the area
		sold = y.Good - x.Good
	}
	count(&t.sum.More, sold > 0)
	count(&t.sum.Less, sold < 0)
	count(&t.sum.FewerHours, y.Hours < x.Hours)
	if a.save[CrewHours] > 0 {
		t.sum.FreedCrew.Share++
		t.crew += x.OperatorHours - y.OperatorHours
	}
	if a.save[LineHours] > 0 {
		t.sum.FreedLine.Share++
		t.line += x.LineHours - y.LineHours
	}
	count(&t.sum.AboveYear[0], v[hours0] > leapYear)
	count(&t.sum.AboveYear[1], v[hours1] > leapYear)
	count(&t.sum.ManyRates, len(w.Rates) > 1)
	count(&t.sum.Stands.Share, a.lost.good > 0)
	t.sum.Stands.Good += a.lost.good
}

// late counts a draw whose life ends before the last year in which something is spent.
func (t *tallied) late(life, last int) { count(&t.sum.Late, last > life) }

// lay takes one year of the flows of one draw.
func (t *tallied) lay(y finance.Year) {
	for len(t.sum.Flow) <= y.Year {
		t.sum.Flow = append(t.sum.Flow, finance.Year{Year: len(t.sum.Flow)})
	}
	f := &t.sum.Flow[y.Year]
	f.Investment += y.Investment
	f.Expense += y.Expense
	f.Savings += y.Savings
	f.Depreciation += y.Depreciation
	f.Salvage += y.Salvage
	f.Tax += y.Tax
	f.Net += y.Net
	f.Operating += y.Operating
}

// result turns sums into means and counts into shares.
func (t *tallied) result() Tally {
	r, n := t.sum, float64(t.n)
	for i := range r.Year {
		r.Year[i].scale(1 / n)
	}
	for i := range r.Flow {
		f := &r.Flow[i]
		for _, x := range []*float64{&f.Investment, &f.Expense, &f.Savings, &f.Depreciation, &f.Salvage, &f.Tax, &f.Net, &f.Operating} {
			*x /= n
		}
	}
	if k := r.FreedCrew.Share; k > 0 {
		r.FreedCrew.Mean = t.crew / k
	}
	if k := r.FreedLine.Share; k > 0 {
		r.FreedLine.Mean = t.line / k
	}
	for _, x := range []*float64{&r.More, &r.Less, &r.FewerHours, &r.FreedCrew.Share, &r.FreedLine.Share, &r.AboveYear[0], &r.AboveYear[1], &r.ManyRates,
		&r.Stands.Share, &r.Stands.Good, &r.Late} {
		*x /= n
	}
	return r
}

func (y *Year) fields() []*float64 {
	return []*float64{&y.Good, &y.Hours, &y.Waste, &y.WasteArea, &y.WasteMass, &y.OperatorHours, &y.LineHours, &y.Tape}
}

func (y *Year) add(x *Year) {
	from := x.fields()
	for i, f := range y.fields() {
		*f += *from[i]
	}
}

func (y *Year) scale(by float64) {
	for _, f := range y.fields() {
		*f *= by
	}
}
