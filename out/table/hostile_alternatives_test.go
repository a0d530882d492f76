package table

import (
	"bytes"
	"strings"
	"testing"
	"unicode/utf8"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"rollchange/model"
	"rollchange/out/invented"
	"rollchange/out/words"
)

var about1 = words.About{Version: "0", Title: "<b>study</b>", File: "x.toml", SHA256: "00"}

func TestRunTableSharesSumAndSayHowSure(t *testing.T) {
	var b bytes.Buffer
	require.NoError(t, Run(&b, about1, invented.HostileTwo(), 0, model.Metric, Screen{}))
	s := b.String()
	assert.Contains(t, s, "20 replications of 30 d, seed 1; ± is the half width at 95 % confidence")
	assert.Contains(t, s, "90.00 ± 0.60 m/min")
	assert.Contains(t, s, "94.00 ± 0.10 %", "good web is what is not waste")
	assert.Equal(t, 2, strings.Count(s, "100 %"))
	assert.NotContains(t, s, "running slowed", "what never happened is left out")
	for _, line := range strings.Split(s, "\n") {
		assert.LessOrEqual(t, utf8.RuneCountInString(line), 110)
	}
}

func TestCompareShowsOnlyDifferencesThatAreShown(t *testing.T) {
	var b bytes.Buffer
	require.NoError(t, Compare(&b, about1, invented.HostileTwo(), model.Imperial, Screen{}))
	s := b.String()
	assert.Contains(t, s, "ft/min")
	assert.Contains(t, s, "+118.1 ± 3.9")
	assert.Contains(t, s, "~")
	assert.NotContains(t, s, "\u202e", "direction marks are taken out")
	said := words.Sentences(invented.HostileTwo(), model.Metric)
	require.NotEmpty(t, said)
	assert.Contains(t, said[0], "36.0 ± 1.2 m/min more")
	assert.Contains(t, strings.Join(said, " "), "is shown in: total waste")
}

func TestWithoutADifferenceTheSentencesSaySo(t *testing.T) {
	rs := invented.HostileTwo()
	d := rs.Differences[1]["good_rate"]
	d.HalfWidth, d.Low, d.High = 1, d.Mean-1, d.Mean+1
	rs.Differences[1]["good_rate"] = d
	assert.Contains(t, words.Sentences(rs, model.Metric)[0], "is not shown to make more good web")
}

func TestOneReplicationHasNoHalfWidth(t *testing.T) {
	var b bytes.Buffer
	require.NoError(t, Run(&b, about1, invented.HostileTwoOnce(), 0, model.Metric, Screen{}))
	assert.NotContains(t, b.String(), "NaN")
	assert.Contains(t, b.String(), "one replication gives no confidence interval")
}

func TestTraceTellsTheTime(t *testing.T) {
	records, _ := invented.Log()
	var b bytes.Buffer
	require.NoError(t, Trace(&b, records, model.Metric, Screen{}))
	assert.Contains(t, b.String(), "0:00:04.000  unwind   at rest")
}
