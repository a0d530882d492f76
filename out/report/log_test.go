package report

import (
	"bytes"
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"golang.org/x/net/html"

	"rollchange/out/invented"
	"rollchange/scenarios"
	"rollchange/scenarios/cells"
	"rollchange/scenarios/learn"
	"rollchange/scenarios/records"
	"rollchange/sim/effort"
)

// shippedLog is the page of the log that comes with the tool, its text changed.
func shippedLog(t testing.TB, change func(string) string) *Log {
	t.Helper()
	text := string(scenarios.StopLog().Text)
	if change != nil {
		text = change(text)
	}
	return pageOf(t, text, learn.Options{})
}

func pageOf(t testing.TB, text string, o learn.Options) *Log {
	t.Helper()
	table, err := cells.Read("folder/stops.csv", []byte(text))
	require.NoError(t, err)
	log, err := records.Read(table, records.Options{})
	require.NoError(t, err)
	o.Seed, o.Confidence, o.Draws = 1, 0.95, 49
	l, err := learn.Of(log, o)
	require.NoError(t, err)
	return &Log{Version: "0.0.0-test", SHA256: "0123456789abcdef", Command: "rollchange fit stops.csv --report report.html", Lang: "en", Line: l}
}

func writtenLog(t testing.TB, c *Log) []byte {
	t.Helper()
	var b bytes.Buffer
	require.NoError(t, WriteLog(&b, c))
	return b.Bytes()
}

// many is a log of so many causes, of some stops each.
func many(causes, each int) string {
	var b strings.Builder
	b.WriteString("start,minutes,cause\n")
	for i := range causes * each {
		fmt.Fprintf(&b, "2026-03-%02d %02d:%02d,%d,cause %d\n", 1+i/72, i/3%24, i%3*20, 1+i%7, i%causes)
	}
	return b.String()
}

// Each sentence is said where it is true and not where it is false, and the page is
// whole: no word is missing, nothing runs, the same each time.
func TestThePageOfALog(t *testing.T) {
	w, err := wordsOf("en")
	require.NoError(t, err)
	tested := map[string]bool{}
	always := []string{"made", "causes_note", "each_intro", "use", "lost", "times", "title"}
	for _, x := range []struct {
		what        string
		page        *Log
		says, never []string
		text, not   []string
	}{
		{"shipped", shippedLog(t, nil), []string{"perhaps", "fit_lasts", "fit_between"}, []string{"nothing", "rows", "causes_more", "each_more", "is"}, []string{"Most was lost to “Changeover”", "day first, a day is above 12", "the same as row 122: left out", "taken; p ", "refused; p ", "Look at the rows that were left out (1)"}, []string{"folder/"}},
		{"a key", pageOf(t, many(1, 6), learn.Options{Is: map[string]learn.Target{"cause 0": learn.WebBreak}}), []string{"is", "nothing"}, []string{"perhaps", "rows"}, []string{"In a scenario it is web_breaks."}, []string{"Most was lost"}},
		{"many causes", pageOf(t, many(130, 2), learn.Options{}), []string{"causes_more", "each_more"}, []string{"perhaps", "is"}, []string{"30 more causes are not listed", "118 more causes have no part"}, nil},
		{"many findings", pageOf(t, many(2, 4)+strings.Repeat("2026-03-01 00:00,1,cause 0\n", 60), learn.Options{}), []string{"rows"}, []string{"nothing"}, []string{"50 of "}, nil},
	} {
		data := writtenLog(t, x.page)
		if x.what == "a key" {
			assert.Equal(t, data, writtenLog(t, x.page), x.what)
		}
		assert.NotContains(t, string(data), "%!", x.what)
		assert.NotContains(t, string(data), "<no value>", x.what)
		assert.NotContains(t, string(data), "NaN", x.what)
		said := paragraphs(t, data)
		for _, key := range append(x.says, always...) {
			require.Contains(t, w.Log, key)
			assert.Regexp(t, pattern(w.Log[key]), said, "%s: %s", x.what, key)
			tested[key] = true
		}
		for _, key := range x.never {
			assert.NotRegexp(t, pattern(w.Log[key]), said, "%s: %s", x.what, key)
		}
		for _, s := range x.text {
			assert.Contains(t, said, s, x.what)
		}
		for _, s := range x.not {
			assert.NotContains(t, said, s, x.what)
		}
		each(parsed(t, data), func(k *html.Node) {
			assert.NotContains(t, []string{"script", "iframe", "object", "link rel"}, k.Data)
		})
	}
	for key, s := range w.Log {
		if strings.HasSuffix(s, ".") {
			assert.True(t, tested[key], "no case says %s: %q", key, s)
		}
	}
}

// No cause, whatever it is called, becomes a part of the page.
func TestThePageOfAHostileLog(t *testing.T) {
	log := many(3, 12)
	want := len(elements(t, pageOf(t, log, learn.Options{})))
	for _, hostile := range invented.HostileNames[:effort.Of(1, 3, len(invented.HostileNames))] {
		name := strings.Map(func(r rune) rune {
			if r < ' ' || r == ',' || r == '"' {
				return -1
			}
			return r
		}, hostile)
		if strings.TrimSpace(name) == "" {
			continue
		}
		got := elements(t, pageOf(t, strings.ReplaceAll(log, "cause 1", name+"x"), learn.Options{}))
		assert.InDelta(t, want, len(got), 6, "%q", name) // longer names take more lines
		assert.NotContains(t, got, "script")
	}
}

func elements(t *testing.T, c *Log) (names []string) {
	each(parsed(t, writtenLog(t, c)), func(k *html.Node) { names = append(names, k.Data) })
	return names
}
