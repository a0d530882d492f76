package learn

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"rollchange/model"
	"rollchange/model/portable"
)

// figure is a number with four digits, as a scenario writes it.
func figure(x float64) string {
	if x == 0 {
		return "0"
	}
	place := portable.Pow(10, 3-math.Floor(portable.Log10(math.Abs(x))))
	return strconv.FormatFloat(math.Round(x*place)/place, 'f', -1, 64)
}

// span is a time in s, as a scenario writes it.
func span(x float64) string {
	u := model.DisplayTime(x)
	return fmt.Sprintf("%q", figure(u.From(x))+" "+u.Name)
}

// mostValues is how many values of a law are written: of more, as many of its
// quantiles, each in the middle of an equal share of them.
const mostValues = 60

// law is a law of times as a scenario writes it.
func law(d model.Dist) string { return lawIn(d, span) }

// lengths is a law of lengths in m as a scenario writes it.
func lengths(d model.Dist) string {
	return lawIn(d, func(x float64) string { return fmt.Sprintf("%q", figure(x)+" m") })
}

// lawIn is a law with its quantities written so. A long list of values runs over
// several lines.
func lawIn(d model.Dist, span func(x float64) string) string {
	least, seen := "", ""
	if d.Least > 0 {
		least = ", least = " + span(d.Least)
	}
	if d.Observed > 0 {
		seen = fmt.Sprintf(", observed = %d", d.Observed)
	}
	switch d.Law {
	case model.Fixed:
		return span(d.A)
	case model.Exponential:
		return fmt.Sprintf("{ dist = %q, mean = %s%s%s }", d.Law, span(d.A), least, seen)
	case model.Lognormal:
		return fmt.Sprintf("{ dist = %q, mean = %s, sd = %s%s%s }", d.Law, span(d.A), span(d.B), least, seen)
	case model.Gamma, model.Weibull:
		return fmt.Sprintf("{ dist = %q, shape = %s, scale = %s%s%s }", d.Law, figure(d.A), span(d.B), least, seen)
	}
	values := slices.Sorted(slices.Values(d.Values))
	if n := len(values); n > mostValues {
		some := make([]float64, mostValues)
		for i := range some {
			some[i] = values[int((float64(i)+0.5)/mostValues*float64(n))]
		}
		values = some
	}
	// Lines are broken within the list alone: an inline table stands on one line in TOML.
	var b strings.Builder
	b.WriteString(`{ dist = "empirical", values = [`)
	at := b.Len()
	for i, x := range values {
		text := span(x)
		if i > 0 {
			b.WriteString(",")
			if at += len(text) + 2; at > 100 {
				b.WriteString("\n  ")
				at = 2 + len(text)
			} else {
				b.WriteString(" ")
			}
		}
		b.WriteString(text)
	}
	if d.Observed == len(values) { // it has its own
		seen = ""
	}
	return b.String() + "]" + seen + " }"
}

// scaled is a law of times with each multiplied by a factor.
func scaled(d model.Dist, by float64) model.Dist {
	d.Least *= by
	switch d.Law {
	case model.Fixed, model.Exponential:
		d.A *= by
	case model.Lognormal:
		d.A *= by
		d.B *= by
	case model.Gamma, model.Weibull:
		d.B *= by
	case model.Empirical:
		d.Values = slices.Clone(d.Values)
		for i := range d.Values {
			d.Values[i] *= by
		}
	}
	return d
}
