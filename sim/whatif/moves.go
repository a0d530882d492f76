package whatif

import (
	"strconv"
	"strings"

	"rollchange/model"
	"rollchange/scenarios"
)

// move is one end of the range of an input: as it would be written, and what it
// changes, in one alternative or in both of a pair.
type move struct {
	at       Setting  // of the alternative that is looked at
	relative *Setting // where the two have values of their own; else nil
	changes  []scenarios.Override
}

// shown is the end as it is shown for a metric: of money for both alternatives.
func (m move) shown(metric string) Setting {
	if IsMoney(metric) && m.relative != nil {
		return *m.relative
	}
	return m.at
}

// movedInput is an input with its two ends, low and high.
type movedInput struct {
	key, base string
	dim       model.Dimension
	ends      [2]move
}

// movesOf are the inputs of the alternatives of a study, each moved in all of
// them that use it, by its own value there; the last alternative is the one that
// is looked at, whose value is shown. What cannot be moved is named with why.
func movesOf(s *scenarios.Scenario, share float64) (list []movedInput, skipped []Unmoved) {
	at := map[string]int{}
	why := map[string]Obstacle{}
	for i := len(s.Study.Alternatives) - 1; i >= 0; i-- {
		for _, in := range s.Inputs(i) {
			ends, cannot := rangeOf(in, share, s.Study.Units)
			if cannot != CanMove {
				why[in.Key] = cannot
				continue
			}
			for k := range ends {
				ends[k].changes[0].Of = s.Study.Alternatives[i].Name
			}
			n, both := at[in.Key]
			if !both {
				at[in.Key] = len(list)
				list = append(list, movedInput{in.Key, in.Text, in.Dim, ends})
				continue
			}
			for k := range ends {
				m := &list[n].ends[k]
				m.changes = append(m.changes, ends[k].changes...)
				if in.Text != list[n].base { // the two have values of their own
					ratio := ends[k].ratio(in, k, share)
					m.relative = &ratio
				}
			}
		}
	}
	for i := range s.Study.Alternatives { // in the order of the reference
		for _, in := range s.Inputs(i) {
			if _, can := at[in.Key]; !can && why[in.Key] != CanMove {
				skipped = append(skipped, Unmoved{in.Key, why[in.Key]})
				delete(why, in.Key)
			}
		}
	}
	return list, skipped
}

// ratio is an end of the range of an input that is not the same in both
// alternatives.
func (m move) ratio(in scenarios.Input, k int, share float64) Setting {
	switch c := m.changes[0]; {
	case in.Whole:
		return Setting{How: Step, Amount: []float64{-1, 1}[k]}
	case c.Factor > 0:
		return Setting{How: Times, Amount: c.Factor}
	}
	return Setting{How: Shortfall, Amount: []float64{1 + share, 1 - share}[k]}
}

// rangeOf is the two ends between which an input is moved, or why it is not. A
// distribution is scaled as a whole, so that its mean moves by the share and its
// shape stays: that is what is not known of it. What it does from draw to draw
// is chance, and not moved.
func rangeOf(in scenarios.Input, share float64, sys model.System) ([2]move, Obstacle) {
	var ends [2]move
	mean := in.Dist.Mean()
	factor := func(k int, f float64, at Setting) {
		ends[k] = move{at: at, changes: []scenarios.Override{{Key: in.Key, Factor: f}}}
	}
	write := func(k int, text string) {
		ends[k] = move{at: Setting{Text: text}, changes: []scenarios.Override{{Key: in.Key, Value: text}}}
	}
	switch {
	case in.Whole:
		if mean <= in.Bounds[0] {
			return ends, AtMinimum
		}
		write(0, strconv.FormatFloat(mean-1, 'g', 6, 64))
		write(1, strconv.FormatFloat(mean+1, 'g', 6, 64))
	case in.InFile:
		return ends, FromFile
	case !in.Dist.IsConst():
		for k, f := range []float64{1 - share, 1 + share} {
			factor(k, f, scaledLaw(in, f, sys))
		}
	case in.Dim == model.Share && !in.Share && mean > 0.5:
		for k, f := range []float64{1 + share, 1 - share} {
			write(k, strconv.FormatFloat(100*(1-(1-mean)*f), 'g', 8, 64)+" %")
		}
		if mean == 1 {
			return ends, AtWhole
		}
	case mean == 0:
		return ends, AtZero
	default:
		for k, f := range []float64{1 - share, 1 + share} {
			factor(k, f, scaledText(in.Text, f))
		}
	}
	return ends, CanMove
}

// writtenMean is the mean of a law as it is written: "lognormal, mean 21 m, sd 8 m".
func writtenMean(law string) (mean string, ok bool) {
	_, after, ok := strings.Cut(" "+law, " mean ")
	mean, _, _ = strings.Cut(after, ",")
	return mean, ok && mean != ""
}

// writtenUnit is the unit of the first parameter of a law that has one: mm of
// "uniform, min 945 mm, max 1015 mm".
func writtenUnit(law string, dim model.Dimension) (model.Unit, bool) {
	for _, parameter := range strings.Split(law, ", ") {
		_, quantity, _ := strings.Cut(parameter, " ")
		_, unit, ok := scenarios.SplitQuantity(quantity)
		if one, err := model.ParseQuantity("1 "+unit, dim); ok && unit != "" && err == nil {
			return model.Unit{Name: unit, SI: one}, true
		}
	}
	return model.Unit{}, false
}

// scaledLaw is the mean of a distribution times a factor, as it would be
// written; the sd of one about 0, which its mean says nothing of.
func scaledLaw(in scenarios.Input, f float64, sys model.System) Setting {
	if mean, ok := writtenMean(in.Text); ok && in.Dist.Mean() != 0 {
		s := scaledText(mean, f)
		if s.Text != "" {
			s.How = Mean
		}
		return s
	}
	s, x := Setting{How: Mean}, in.Dist.Mean()
	if x == 0 {
		s.How, x = SD, in.Dist.SD()
	}
	u, digits := model.Display(in.Dim, sys), 4
	if own, ok := writtenUnit(in.Text, in.Dim); ok {
		u = own
	} else if in.Dim == model.Time {
		u, digits = model.DisplayTime(x), 3
	}
	s.Text = strconv.FormatFloat(u.From(x*f), 'g', digits, 64) + " " + u.Name
	return s
}

// scaledText is a quantity times a factor, as it would be written.
func scaledText(text string, f float64) Setting {
	x, unit, ok := scenarios.SplitQuantity(text)
	if !ok {
		return Setting{How: Times, Amount: f}
	}
	return Setting{Text: strings.TrimSpace(strconv.FormatFloat(x*f, 'g', 5, 64) + " " + unit)}
}

// between are the changes of an input at x of the way from its low to its high end.
func (m movedInput) between(x float64) []scenarios.Override {
	var list []scenarios.Override
	for i, low := range m.ends[0].changes {
		high := m.ends[1].changes[i]
		o := scenarios.Override{Key: low.Key, Of: low.Of}
		if low.Factor > 0 {
			o.Factor = low.Factor + x*(high.Factor-low.Factor)
			list = append(list, o)
			continue
		}
		a, unit, _ := scenarios.SplitQuantity(low.Value)
		b, _, _ := scenarios.SplitQuantity(high.Value)
		if unit == "" { // a whole number
			o.Value = strconv.Itoa(int(a) + min(int(3*x), int(b-a)))
		} else {
			o.Value = strings.TrimSpace(strconv.FormatFloat(a+x*(b-a), 'g', 10, 64) + " " + unit)
		}
		list = append(list, o)
	}
	return list
}
