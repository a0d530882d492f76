package words

import (
	"math"
	"strconv"
	"strings"

	"rollchange/model"
	"rollchange/model/portable"
)

// A number for a person is written in one of two ways. A measure has commas between
// thousands from 10,000 on, since four digits are read at a glance: "9840 m", "12,300 m"; of
// figures that stand together, a mean and its limits, either all have them or none. An
// amount of money or a count has them from 1,000 on, as in a ledger: "2,172 EUR", "1 in
// 1,000". A number for a program (CSV, JSON) is written by none of these.

// leastGrouped is how many digits before the point a measure has that is written with commas.
const leastGrouped = 5

// leastPlain is the size below which small measures are written as powers of ten.
const leastPlain = 1e-4

// mostPlain is the size from which on large measures are.
const mostPlain = 1e15

// number writes a measure with d decimals, below 0 to tens, hundreds…
//
// Called from many places: in line it would make the engine of a page larger.
//
//go:noinline
func number(x float64, d int) string { return aligned(d, x)[0] }

// aligned writes measures that stand together with as many decimals each, so that they
// are read in one glance. What is too small for that is written with one power of ten.
func aligned(d int, list ...float64) []string {
	most := 0.0
	for _, x := range list {
		if Finite(x) {
			most = max(most, math.Abs(x))
		}
	}
	tail := ""
	if d > 6 && most > 0 && most < leastPlain {
		e := exponent(most, 17)
		scaled := make([]float64, len(list))
		for i, x := range list {
			scaled[i] = x / portable.Pow(10, float64(e))
		}
		list, d, tail = scaled, d+e, "e"+strconv.Itoa(e)
	}
	texts := make([]string, len(list))
	for i, x := range list {
		texts[i] = parted(fixed(x, d))
		if Finite(x) {
			texts[i] += tail
		}
	}
	return allParted(texts...)
}

// allParted gives measures that stand together commas where one of them has some.
func allParted(texts ...string) []string {
	for _, s := range texts {
		if strings.Contains(s, ",") {
			for i := range texts {
				texts[i] = withCommas(texts[i])
			}
			break
		}
	}
	return texts
}

// parted gives a measure commas, by its digits before the point.
func parted(s string) string {
	if runOfDigits(strings.TrimPrefix(s, "−")) >= leastGrouped {
		return withCommas(s)
	}
	return s
}

// fixed writes x with d decimals, below 0 to tens, hundreds…, its sign as a minus and none
// before a 0.
func fixed(x float64, d int) string {
	switch {
	case math.IsNaN(x):
		return "–"
	case math.IsInf(x, 0):
		return minus(strings.TrimPrefix(strconv.FormatFloat(x, 'g', -1, 64), "+"))
	case d < 0:
		place := portable.Pow(10, float64(-d))
		x, d = math.Round(x/place)*place, 0
	}
	s := strconv.FormatFloat(x, 'f', d, 64)
	if strings.Trim(s, "-0.") == "" {
		return strings.TrimPrefix(s, "-")
	}
	return minus(s)
}

// minus writes the sign of a number as one.
func minus(s string) string {
	if rest, is := strings.CutPrefix(s, "-"); is {
		return "−" + rest
	}
	return s
}

// exponent is the power of ten of the first digit of x, rounded to n digits: 9.96 has that
// of 10 where they are two.
func exponent(x float64, n int) int {
	_, s, _ := strings.Cut(strconv.FormatFloat(math.Abs(x), 'e', n-1, 64), "e")
	e, _ := strconv.Atoi(s)
	return e
}

// Short writes a measure that no half width stands beside: to n digits, no 0 at the end of
// its decimals, and nothing before the point rounded away.
func Short(x float64, n int) string {
	switch size := math.Abs(x); {
	case !Finite(x):
		return fixed(x, 0)
	case size >= mostPlain:
		return minus(Tidy(strconv.FormatFloat(x, 'g', n, 64)))
	case size >= portable.Pow(10, float64(n-1)):
		return number(x, 0)
	}
	return parted(minus(Tidy(strconv.FormatFloat(x+0, 'g', n, 64)))) // + 0: none is −0
}

// power writes a small number with a power of ten, to n digits: "1.7e-6".
func power(x float64, n int) string {
	return minus(Tidy(strconv.FormatFloat(x, 'e', n-1, 64)))
}

// Fixed writes a measure with d decimals, of a column.
func Fixed(x float64, d int) string { return number(x, d) }

// Estimate writes an estimate that no limits stand beside, to three digits.
func Estimate(x float64) string { return digits(x, 3) }

// digits writes an estimate to n digits, those before the point too, without an exponent.
func digits(x float64, n int) string {
	if x == 0 || !Finite(x) {
		return fixed(x, 0)
	}
	y, _ := strconv.ParseFloat(strconv.FormatFloat(x, 'g', n, 64), 64)
	return parted(minus(strconv.FormatFloat(y, 'f', -1, 64)))
}

// Grouped writes a count or an amount, a whole number: "−1,234,567".
func Grouped(x float64) string { return withCommas(fixed(x, 0)) }

// withCommas parts the thousands of a figure: "3,115.2".
func withCommas(s string) string {
	sign, digits := "", strings.ReplaceAll(s, ",", "")
	if rest, is := strings.CutPrefix(digits, "−"); is {
		sign, digits = "−", rest
	}
	whole, rest, _ := strings.Cut(digits, ".")
	if rest != "" {
		rest = "." + rest
	}
	for i := len(whole) - 3; i > 0; i -= 3 {
		whole = whole[:i] + "," + whole[i:]
	}
	return sign + whole + rest
}

// Written is a value as a scenario gives it, "90000000 ft" or a law of such, its thousands
// apart and without a power of ten.
func Written(text string) string {
	var b strings.Builder
	for i := 0; i < len(text); {
		n := ""
		if i == 0 || text[i-1] == ' ' {
			n = model.LeadingNumber(text[i:], ".")
		}
		if rest := text[i+len(n):]; n == "" || rest != "" && !strings.ContainsRune(" ,%/", rune(rest[0])) {
			b.WriteByte(text[i])
			i++
			continue
		}
		b.WriteString(writtenNumber(n))
		i += len(n)
	}
	return b.String()
}

// writtenNumber is a number of a text, with all digits that it has there.
func writtenNumber(n string) string {
	x, err := strconv.ParseFloat(n, 64)
	if size := math.Abs(x); err != nil || size < 1e4 || size >= mostPlain {
		return n
	}
	if strings.ContainsAny(n, "eE") {
		n = strconv.FormatFloat(x, 'f', -1, 64)
	}
	return withCommas(minus(n))
}

// IsQuantity says whether a text is a number, with its unit or none.
func IsQuantity(text string) bool {
	n := model.LeadingNumber(text, ".")
	unit := strings.TrimPrefix(text[len(n):], " ")
	return n != "" && !strings.ContainsAny(unit, " ,;:")
}

// runOfDigits is how many digits a text begins with.
func runOfDigits(s string) int { return len(s) - len(strings.TrimLeft(s, "0123456789")) }
