package machine

import (
	"bytes"
	"encoding/csv"
	"encoding/json"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"rollchange/out/invented"
	"rollchange/out/words"
	"rollchange/sim/savings"
)

var about1 = words.About{Version: "0", Title: "<b>study</b>", File: "x.toml", SHA256: "00"}

func TestJSONRoundTrips(t *testing.T) {
	var b bytes.Buffer
	require.NoError(t, CompareJSON(&b, about1, invented.HostileTwo(), savings.Ranking{}, nil))
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
	require.NoError(t, CompareCSV(&b, invented.HostileTwo()))
	rows, err := csv.NewReader(&b).ReadAll()
	require.NoError(t, err)
	assert.Equal(t, "difference", rows[0][9])
	for _, r := range rows[1:] {
		assert.NotContains(t, "=+-@", r[0][:1])
	}
}

func TestOneReplicationHasNoHalfWidth(t *testing.T) {
	var b bytes.Buffer
	require.NoError(t, RunJSON(&b, about1, invented.HostileTwoOnce(), 0, nil))
	assert.Contains(t, b.String(), `"half_width": null`)
}

func TestWhatIsNotThereIsAnEmptyCell(t *testing.T) {
	records, _ := invented.Log()
	var b bytes.Buffer
	require.NoError(t, TraceCSV(&b, records))
	rows, err := csv.NewReader(&b).ReadAll()
	require.NoError(t, err)
	assert.Len(t, rows, len(records)+1)
	assert.Empty(t, rows[1][7], "nothing is wound: the cell is empty")
}
