package model

import (
	"math/rand/v2"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"

	"rollchange/sim/effort"
)

// someTexts are texts of pieces that numbers and units are made of, 50,000 of them.
func someTexts(pieces ...string) []string {
	r := rand.New(rand.NewPCG(9, 1))
	list := []string{""}
	for range 50000 {
		var b strings.Builder
		for range 1 + r.IntN(9) {
			b.WriteString(pieces[r.IntN(len(pieces))])
		}
		list = append(list, b.String())
	}
	return list
}

// What is scanned by hand is what a regular expression finds.
func TestNumbersAreScannedAsWritten(t *testing.T) {
	effort.NotInRace(t)
	point := regexp.MustCompile(`^[+-]?(?:[0-9]+\.?[0-9]*|\.[0-9]+)(?:[eE][+-]?[0-9]+)?`)
	both := regexp.MustCompile(`^[+-]?(?:[0-9]+[.,]?[0-9]*|[.,][0-9]+)(?:[eE][+-]?[0-9]+)?`)
	marks := regexp.MustCompile(`^[-+]?[0-9._]+(?:[eE][-+]?[0-9]+)?`)
	odd := regexp.MustCompile(`(?i)^[+-]?(nan|inf)`)
	loose := regexp.MustCompile(`^[+-]?[0-9.,]+(?:['’_ \x{a0}\x{2009}\x{202f}]+[0-9][0-9.,]*)*(?:[eE][+-]?[0-9]+)?`)
	thousands := regexp.MustCompile(`^[+-]?[0-9]{1,3}(?:,[0-9]{3})+$`)
	found := map[string]int{}
	for _, s := range someTexts("0", "1", "12,345", "23", "456", "7", ".", ",", "+", "-", "e", "E", "_", " ", "'", "’", "\u00a0", "\u2009", "\u202f", "\xe2", "\x80", "m", "nan", "Inf", "NA", "n", "\n", "٣", "\x00") {
		for name, pair := range map[string][2]string{
			"point": {point.FindString(s), LeadingNumber(s, ".")}, "both": {both.FindString(s), LeadingNumber(s, ".,")},
			"marks": {marks.FindString(s), LeadingDigits(s, "._")}, "loose": {loose.FindString(s), looseNumber(s)},
		} {
			if pair[0] != "" {
				found[name]++
			}
			if pair[0] != pair[1] {
				t.Fatalf("%s of %q: %q, by hand %q", name, s, pair[0], pair[1])
			}
		}
		if odd.MatchString(s) {
			found["odd"]++
		}
		assert.Equal(t, odd.MatchString(s), notFinite(s), "%q", s)
		if strings.Count(s, ",") == 1 {
			if thousands.MatchString(s) {
				found["thousands"]++
			}
			assert.Equal(t, thousands.MatchString(s), grouped(s), "%q", s)
		}
	}
	for _, name := range []string{"point", "both", "marks", "loose", "odd", "thousands"} {
		assert.Greater(t, found[name], 20, name)
	}
}

func TestUnitsArePartedAsWritten(t *testing.T) {
	per := regexp.MustCompile(`\s*(?:/|\bper\b|\bp\.)\s*`)
	parted := 0
	for _, s := range someTexts("m", "min", "/", "per", "p.", "p", "er", " ", "\t", "\n", "_", "²", ".", "1", "\v", "é", "\xff") {
		want := per.Split(s, 2)
		if len(want) == 2 {
			parted++
		}
		assert.Equal(t, want, splitPer(s), "%q", s)
	}
	assert.Greater(t, parted, 1000)
}
