package machine

import (
	"encoding/json"
	"io"
	"math"
	"strconv"
	"strings"
	"testing"

	"rollchange/out/invented"
	"rollchange/out/words"
	"rollchange/sim/estimate"
	"rollchange/sim/savings"
)

// about belongs to the fixture.
var about = words.About{Version: "0.0.0", Title: "Invented line", File: "invented.toml", SHA256: "00ff"}

func TestMachineGolden(t *testing.T) {
	for name, write := range map[string]func(w io.Writer) error{
		"run.json":  func(w io.Writer) error { return RunJSON(w, about, invented.Results(), 1, nil) },
		"once.json": func(w io.Writer) error { return RunJSON(w, about, invented.Once(), 0, nil) },
		"compare.json": func(w io.Writer) error {
			return CompareJSON(w, about, invented.Results(), savings.Ranking{}, nil)
		},
		"run.csv":     func(w io.Writer) error { return RunCSV(w, invented.Results(), 1) },
		"compare.csv": func(w io.Writer) error { return CompareCSV(w, invented.Results()) },
	} {
		a, b := invented.Written(t, write), invented.Written(t, write)
		if a != b {
			t.Errorf("%s: two writings of one result differ", name)
		}
		invented.Golden(t, name, []byte(a))
	}
}

// What JSON gives back is the result, to the last bit.
func TestJSONRoundTrip(t *testing.T) {
	rs := invented.Results()
	for i, r := range rs.Alternatives {
		var back struct {
			Tool     map[string]string
			Scenario map[string]string
			Run      map[string]any
			Metrics  map[string]struct {
				Unit      string
				Mean, SD  float64
				HalfWidth float64 `json:"half_width"`
				N         int
				Quantiles map[string]float64
			}
			Balance map[string]float64
		}
		s := invented.Written(t, func(w io.Writer) error { return RunJSON(w, about, rs, i, nil) })
		if err := json.Unmarshal([]byte(s), &back); err != nil {
			t.Fatal(err)
		}
		if len(back.Metrics) != len(r.Metrics) {
			t.Errorf("%d metrics, want %d", len(back.Metrics), len(r.Metrics))
		}
		for name, e := range r.Metrics {
			if b := back.Metrics[name]; b.Unit != e.Unit || b.Mean != e.Mean || b.SD != e.SD || b.HalfWidth != e.HalfWidth && !math.IsNaN(e.HalfWidth) || b.N != e.N {
				t.Errorf("%s: %+v, want %+v", name, b, e)
			}
		}
		if back.Scenario["alternative"] != r.Alternative || back.Scenario["sha256"] != about.SHA256 || back.Tool["name"] != "rollchange" ||
			back.Run["horizon_s"] != rs.Run.Horizon || back.Run["warm_up_s"] != rs.Run.WarmUp || back.Run["seed"] != 7.0 || back.Run["controls"] != "draws" ||
			back.Balance["metres"] != r.Balance.Metres || back.Balance["seconds"] != r.Balance.Seconds {
			t.Errorf("tool, scenario, run or balance: %+v", back)
		}
		if q := back.Metrics["unwind_storage.lowest"].Quantiles; i == 1 && (q["0.001"] != r.Lowest.Quantile(0.001) || q["0.5"] != r.Lowest.Quantile(0.5)) {
			t.Errorf("quantiles %v", q)
		}
	}
}

// What is not known is null in JSON and empty in CSV, not 0; a mean that is no
// number does not end the writing.
func TestUnknownFigures(t *testing.T) {
	rs := invented.Once()
	rs.Alternatives[0].Metrics["oee"] = estimate.Estimate{Unit: "1", Mean: math.NaN(), HalfWidth: math.Inf(1), SD: math.NaN(), Low: math.NaN(), High: math.NaN()}
	var back struct {
		Metrics map[string]map[string]any
	}
	if err := json.Unmarshal([]byte(invented.Written(t, func(w io.Writer) error { return RunJSON(w, about, rs, 0, nil) })), &back); err != nil {
		t.Fatal(err)
	}
	for name, m := range back.Metrics {
		for _, key := range []string{"half_width", "low", "high", "sd"} {
			if v, ok := m[key]; v != nil || !ok {
				t.Errorf("%s: %s is %v, want null", name, key, v)
			}
		}
	}
	if v, ok := back.Metrics["oee"]["mean"]; v != nil || !ok {
		t.Errorf("mean that is not known: %v", v)
	}
	for _, line := range invented.Rows(t, invented.Written(t, func(w io.Writer) error { return RunCSV(w, rs, 0) }))[1:] {
		if line[4] != "" || line[5] != "" || line[6] != "" || line[7] != "" {
			t.Errorf("%q", line)
		}
	}
}

func TestCSVGivesBack(t *testing.T) {
	rs := invented.Results()
	list := invented.Rows(t, invented.Written(t, func(w io.Writer) error { return CompareCSV(w, rs) }))
	if want := 1 + len(rs.Alternatives[0].Names) + len(rs.Alternatives[1].Names); len(list) != want {
		t.Errorf("%d rows, want %d", len(list), want)
	}
	for _, line := range list[1:] {
		i := 0
		if line[0] == rs.Alternatives[1].Alternative {
			i = 1
		}
		e := rs.Alternatives[i].Metrics[line[1]]
		if mean, err := strconv.ParseFloat(line[3], 64); err != nil || mean != e.Mean || line[2] != e.Unit {
			t.Errorf("%q: want %+v", line, e)
		}
		if d, ok := rs.Differences[i][line[1]]; ok != (line[9] != "") || ok && line[9] != strconv.FormatFloat(d.Mean, 'g', -1, 64) {
			t.Errorf("%q: difference %+v", line, d)
		}
	}
}

func TestHostileNames(t *testing.T) {
	for _, name := range invented.HostileNames {
		rs := invented.HostileResults(name)
		a := words.About{Version: name, Title: name, File: name, SHA256: name}
		for _, write := range []func(w io.Writer) error{
			func(w io.Writer) error { return RunJSON(w, a, rs, 0, nil) },
			func(w io.Writer) error { return CompareJSON(w, a, rs, savings.Ranking{}, nil) },
		} {
			if s := invented.Written(t, write); !json.Valid([]byte(s)) {
				t.Errorf("%.40q breaks JSON", name)
			}
		}
		for _, line := range invented.Rows(t, invented.Written(t, func(w io.Writer) error { return CompareCSV(w, rs) }))[1:] {
			for k, c := range line[:3] {
				if c != "" && strings.ContainsRune("=+-@\t\r", rune(c[0])) {
					t.Errorf("%.40q is a formula in column %d: %.40q", name, k, c)
				}
			}
		}
	}
}

// A writer that fails is told of by every exporter.
func TestFailedWriter(t *testing.T) {
	rs := invented.Results()
	for i, write := range []func(w io.Writer) error{
		func(w io.Writer) error { return RunJSON(w, about, rs, 0, nil) },
		func(w io.Writer) error { return CompareJSON(w, about, rs, savings.Ranking{}, nil) },
		func(w io.Writer) error { return RunCSV(w, rs, 0) },
		func(w io.Writer) error { return CompareCSV(w, rs) },
		func(w io.Writer) error { return TraceCSV(w, invented.Motion()) },
	} {
		if err := write(&invented.FullDisk{}); err == nil {
			t.Errorf("writer %d: a full disk is no error", i)
		}
	}
}
