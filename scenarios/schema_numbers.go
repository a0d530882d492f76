package scenarios

import (
	"regexp"
	"strings"

	"rollchange/model"
)

// numbers is which numbers an amount may have, as far as a pattern can say it.
type numbers string

const (
	signedToo   numbers = "_signed"
	notNegative numbers = ""
	positive    numbers = "_above_0"
	upTo100     numbers = "_to_100"
)

// spanOf is which numbers a key takes.
func spanOf(k *Key) numbers {
	switch {
	case k.signed || !k.bounded:
		return signedToo
	case k.Dim == model.Share && k.high == 1:
		return upTo100
	case k.lowOpen:
		return positive
	}
	return notNegative
}

// limits are those of a plain number.
func (n numbers) limits() object {
	switch n {
	case positive:
		return object{"exclusiveMinimum": 0}
	case notNegative:
		return object{"minimum": 0}
	}
	return object{}
}

// The parts of a number, in the subset of regular expressions that every
// validator knows: no look-ahead.
const (
	digitsPattern = `([0-9]+\.?[0-9]*|\.[0-9]+)`
	powerPattern  = `[eE][+-]?[0-9]+`
	zeroPattern   = `-(0+\.?0*|\.0+)(` + powerPattern + `)?` // minus 0 is 0
)

// pattern is what the number of an amount looks like.
func (n numbers) pattern() string {
	switch n {
	case signedToo:
		return `[+-]?` + digitsPattern + `(` + powerPattern + `)?`
	case positive:
		return `\+?(0*[1-9][0-9]*\.?[0-9]*|0*\.0*[1-9][0-9]*)(` + powerPattern + `)?`
	case upTo100: // with a power of ten any; that is rare, and Parse looks
		return `(\+?(0*(100(\.0*)?|[0-9]{1,2}(\.[0-9]*)?)|0*\.[0-9]+|` + digitsPattern + powerPattern + `)|` + zeroPattern + `)`
	}
	return `(\+?` + digitsPattern + `(` + powerPattern + `)?|` + zeroPattern + `)`
}

func patternOf(dim model.Dimension, of numbers) string {
	names := strings.Split(dim.Units(), ", ")
	for i, name := range names {
		names[i] = regexp.QuoteMeta(name)
		for _, spelling := range [][2]string{{"m2", `m(2|²|\^2)`}, {"s2", `s(2|²|\^2)`}, {"um", `[uµμ]m`}, {"N m", `N[ ·*]?m`}} {
			names[i] = strings.ReplaceAll(names[i], spelling[0], spelling[1])
		}
	}
	optional := ""
	if _, err := model.ParseQuantity("1", dim); err == nil {
		optional = "?"
	}
	return `^\s*` + of.pattern() + `\s*(` + strings.Join(names, "|") + `)` + optional + `\s*$`
}
