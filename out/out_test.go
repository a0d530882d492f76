package out

import (
	"bytes"
	"encoding/csv"
	"encoding/json"
	"encoding/xml"
	"io"
	"math"
	"strings"
	"testing"
	"unicode/utf8"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"rollchange/model"
	"rollchange/sim"
	"rollchange/sim/savings"
)

var about1 = About{Version: "0", Title: "<b>study</b>", File: "x.toml", SHA256: "00"}

func TestRunTableSharesSumAndSayHowSure(t *testing.T) {
	var b bytes.Buffer
	require.NoError(t, RunTable(&b, about1, fixture(), 0, model.Metric, false))
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
	require.NoError(t, CompareTable(&b, about1, fixture(), model.Imperial, false))
	s := b.String()
	assert.Contains(t, s, "ft/min")
	assert.Contains(t, s, "+118.1 ± 3.9")
	assert.Contains(t, s, "~")
	assert.NotContains(t, s, "\u202e", "direction marks are taken out")
	words := Sentences(fixture(), model.Metric)
	require.NotEmpty(t, words)
	assert.Contains(t, words[0], "36.0 ± 1.2 m/min more")
	assert.Contains(t, strings.Join(words, " "), "is shown in: waste in all")
}

func TestWithoutADifferenceTheSentencesSaySo(t *testing.T) {
	rs := fixture()
	d := rs.Differences[1]["good_rate"]
	d.HalfWidth, d.Low, d.High = 1, d.Mean-1, d.Mean+1
	rs.Differences[1]["good_rate"] = d
	assert.Contains(t, Sentences(rs, model.Metric)[0], "is not shown to make more good web")
}

func TestOneReplicationHasNoHalfWidth(t *testing.T) {
	rs := fixture()
	rs.Run.Replications = 1
	for k, e := range rs.Alternatives[0].Metrics {
		e.HalfWidth, e.SD, e.N, e.Low, e.High = math.NaN(), math.NaN(), 1, math.NaN(), math.NaN()
		rs.Alternatives[0].Metrics[k] = e
	}
	var b bytes.Buffer
	require.NoError(t, RunTable(&b, about1, rs, 0, model.Metric, false))
	assert.NotContains(t, b.String(), "NaN")
	assert.Contains(t, b.String(), "one replication says nothing")
	b.Reset()
	require.NoError(t, RunJSON(&b, about1, rs, 0))
	assert.Contains(t, b.String(), `"half_width": null`)
}

func TestJSONRoundTrips(t *testing.T) {
	var b bytes.Buffer
	require.NoError(t, CompareJSON(&b, about1, fixture(), savings.Ranking{}, nil))
	var got struct {
		Alternatives []struct {
			Name    string
			Metrics map[string]struct {
				Mean      float64
				Quantiles map[string]float64
				Error     float64 `json:"quantile_error"`
			}
		}
		Differences []struct{ Against string }
	}
	require.NoError(t, json.Unmarshal(b.Bytes(), &got))
	assert.Equal(t, 2.1, got.Alternatives[1].Metrics["good_rate"].Mean)
	low := got.Alternatives[1].Metrics["unwind_storage.lowest"]
	assert.InDelta(t, 20, low.Quantiles["0.5"], 0.02)
	assert.Equal(t, 0.02, low.Error)
	assert.Equal(t, "=cmd('by hand')", got.Differences[0].Against)
}

func TestCSVIsHarmlessInASpreadsheet(t *testing.T) {
	var b bytes.Buffer
	require.NoError(t, CompareCSV(&b, fixture()))
	rows, err := csv.NewReader(&b).ReadAll()
	require.NoError(t, err)
	assert.Equal(t, "difference", rows[0][9])
	for _, r := range rows[1:] {
		assert.NotContains(t, "=+-@", r[0][:1])
	}
}

func TestPicturesAreWellFormedHarmlessAndTheSameEachTime(t *testing.T) {
	records, line := recordsFixture()
	trace, err := TracePlot(records, 0, line, model.Metric)
	require.NoError(t, err)
	rs := fixture()
	for name, p := range map[string]*Picture{"hours": HoursPlot(rs), "waste": WastePlot(rs), "output": OutputPlot(rs, model.Metric),
		"storage": StoragePlot(rs.Alternatives[1].Lowest, "low", StorageMarks(line, false), model.Metric), "trace": trace} {
		var a, b bytes.Buffer
		require.NoError(t, p.Write(&a, "svg"))
		require.NoError(t, p.Write(&b, "svg"))
		assert.Equal(t, a.String(), b.String(), name)
		assert.NotContains(t, a.String(), "<script", name)
		d := xml.NewDecoder(&a)
		for {
			if _, err = d.Token(); err != nil {
				break
			}
		}
		assert.ErrorIs(t, err, io.EOF, name)
		b.Reset()
		require.NoError(t, p.Write(&b, "png"))
		assert.Greater(t, b.Len(), 2000, name)
	}
}

func TestTooShortALogCannotBeDrawn(t *testing.T) {
	_, err := TracePlot(nil, 0, &model.Line{}, model.Metric)
	assert.Error(t, err)
}

func TestTraceTableAndCSV(t *testing.T) {
	records, _ := recordsFixture()
	var b bytes.Buffer
	require.NoError(t, TraceTable(&b, records, model.Metric))
	assert.Contains(t, b.String(), "0:00:04.000  unwind   at rest")
	b.Reset()
	require.NoError(t, TraceCSV(&b, records))
	rows, err := csv.NewReader(&b).ReadAll()
	require.NoError(t, err)
	assert.Len(t, rows, len(records)+1)
	assert.Empty(t, rows[1][7], "nothing is wound: the cell is empty")
}

func TestFiguresHaveAsManyDigitsAsTheyDeserve(t *testing.T) {
	for _, c := range []struct {
		mean, half float64
		want       string
	}{{412.345, 1.834, "412.3 ± 1.8"}, {0.0012345, 0.0000012, "0.001234 ± 0.000001"}, {1234567, 12345, "1234567 ± 12345"}, {0, 0, "0"}, {99.99999, 0.01, "100.000 ± 0.010"}} {
		assert.Equal(t, c.want, figure(sim.Estimate{Mean: c.mean, HalfWidth: c.half}, model.Unit{SI: 1}))
	}
}
