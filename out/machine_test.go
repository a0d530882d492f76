package out

import (
	"bytes"
	"encoding/csv"
	"encoding/json"
	"io"
	"math"
	"strconv"
	"strings"
	"testing"

	"rollchange/model"
	"rollchange/sim"
	"rollchange/sim/savings"
)

func TestMachineGolden(t *testing.T) {
	for name, write := range map[string]func(w io.Writer) error{
		"run.json":     func(w io.Writer) error { return RunJSON(w, about, invented(), 1) },
		"once.json":    func(w io.Writer) error { return RunJSON(w, about, once(), 0) },
		"compare.json": func(w io.Writer) error { return CompareJSON(w, about, invented(), savings.Ranking{}, nil) },
		"run.csv":      func(w io.Writer) error { return RunCSV(w, invented(), 1) },
		"compare.csv":  func(w io.Writer) error { return CompareCSV(w, invented()) },
	} {
		a, b := written(t, write), written(t, write)
		if a != b {
			t.Errorf("%s: two writings of one result differ", name)
		}
		golden(t, name, []byte(a))
	}
}

// What JSON gives back is the result, to the last bit.
func TestJSONRoundTrip(t *testing.T) {
	rs := invented()
	for i, r := range rs.Alternatives {
		var back struct {
			Tool     map[string]string
			Scenario map[string]string
			Run      map[string]float64
			Metrics  map[string]struct {
				Unit      string
				Mean, SD  float64
				HalfWidth float64 `json:"half_width"`
				N         int
				Quantiles map[string]float64
			}
			Balance map[string]float64
		}
		s := written(t, func(w io.Writer) error { return RunJSON(w, about, rs, i) })
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
			back.Run["horizon_s"] != rs.Run.Horizon || back.Run["warm_up_s"] != rs.Run.WarmUp || back.Run["seed"] != 7 ||
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
	rs := once()
	rs.Alternatives[0].Metrics["oee"] = sim.Estimate{Unit: "1", Mean: math.NaN(), HalfWidth: math.Inf(1), SD: math.NaN(), Low: math.NaN(), High: math.NaN()}
	var back struct {
		Metrics map[string]map[string]any
	}
	if err := json.Unmarshal([]byte(written(t, func(w io.Writer) error { return RunJSON(w, about, rs, 0) })), &back); err != nil {
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
	for _, line := range records(t, written(t, func(w io.Writer) error { return RunCSV(w, rs, 0) }))[1:] {
		if line[4] != "" || line[5] != "" || line[6] != "" || line[7] != "" {
			t.Errorf("%q", line)
		}
	}
}

func records(t *testing.T, s string) [][]string {
	t.Helper()
	list, err := csv.NewReader(strings.NewReader(s)).ReadAll() // every row as long as the first
	if err != nil {
		t.Fatal(err)
	}
	return list
}

func TestCSVGivesBack(t *testing.T) {
	rs := invented()
	list := records(t, written(t, func(w io.Writer) error { return CompareCSV(w, rs) }))
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

// hostile are names that a person may type, by mistake or not.
var hostile = []string{"<script>alert(1)</script>", "=cmd()|' /C calc'!A0", "+1", "-1", "@x", "a\"b,c\nd", "\x1b[2J", "\u202egnp.exe", "-->", "]]>", "&amp;", "%s%n", strings.Repeat("w", 5000), "\xff\xfe\x00", "שלום", "\t=1"}

func hostileResults(name string) *sim.Results {
	rs := several(3, func(int) string { return name })
	for i := range rs.Alternatives {
		r := &rs.Alternatives[i]
		m := sim.Metrics{}
		for k, e := range r.Metrics {
			m[strings.Replace(k, "plate cleaning", name, 1)] = e
		}
		r.Metrics = m
		names := make([]string, len(r.Names))
		for k, n := range r.Names {
			names[k] = strings.Replace(n, "plate cleaning", name, 1)
		}
		r.Names = names
	}
	return rs
}

func TestHostileNames(t *testing.T) {
	for _, name := range hostile {
		rs := hostileResults(name)
		a := About{Version: name, Title: name, File: name, SHA256: name}
		for _, write := range []func(w io.Writer) error{
			func(w io.Writer) error { return RunJSON(w, a, rs, 0) },
			func(w io.Writer) error { return CompareJSON(w, a, rs, savings.Ranking{}, nil) },
		} {
			if s := written(t, write); !json.Valid([]byte(s)) {
				t.Errorf("%.40q breaks JSON", name)
			}
		}
		for _, line := range records(t, written(t, func(w io.Writer) error { return CompareCSV(w, rs) }))[1:] {
			for k, c := range line[:3] {
				if c != "" && strings.ContainsRune("=+-@\t\r", rune(c[0])) {
					t.Errorf("%.40q is a formula in column %d: %.40q", name, k, c)
				}
			}
		}
	}
}

// No name that a person types reaches the terminal as more than text.
func TestTablesOfHostileNames(t *testing.T) {
	for _, name := range hostile {
		rs := hostileResults(name)
		a := About{Version: name, Title: name, File: name, SHA256: name}
		for _, s := range []string{
			written(t, func(w io.Writer) error { return RunTable(w, a, rs, 0, model.Metric, false) }),
			written(t, func(w io.Writer) error { return CompareTable(w, a, rs, model.Metric, false) }),
		} {
			for _, r := range s {
				if r < ' ' && r != '\n' || r == 0x7f || r >= 0x80 && r < 0xa0 || r >= 0x202a && r <= 0x202e {
					t.Fatalf("%.40q puts %q on the terminal", name, r)
				}
			}
			if strings.Contains(s, "%!") {
				t.Errorf("%.40q is taken for a format", name)
			}
		}
	}
}

// A writer that fails is told of by every exporter.
func TestFailedWriter(t *testing.T) {
	rs := invented()
	for i, write := range []func(w io.Writer) error{
		func(w io.Writer) error { return RunJSON(w, about, rs, 0) },
		func(w io.Writer) error { return CompareJSON(w, about, rs, savings.Ranking{}, nil) },
		func(w io.Writer) error { return RunCSV(w, rs, 0) },
		func(w io.Writer) error { return CompareCSV(w, rs) },
		func(w io.Writer) error { return TraceCSV(w, motion()) },
	} {
		if err := write(&fullDisk{}); err == nil {
			t.Errorf("writer %d: a full disk is no error", i)
		}
	}
}

// A writer that fails is told of by every table.
func TestTablesToAFullDisk(t *testing.T) {
	rs := invented()
	for i, write := range []func(w io.Writer) error{
		func(w io.Writer) error { return RunTable(w, about, rs, 0, model.Metric, false) },
		func(w io.Writer) error { return CompareTable(w, about, rs, model.Metric, false) },
		func(w io.Writer) error { return TraceTable(w, motion(), model.Metric) },
	} {
		if err := write(&fullDisk{}); err == nil {
			t.Errorf("writer %d: a full disk is no error", i)
		}
	}
	var b bytes.Buffer
	if err := RunTable(&b, about, rs, 0, model.Metric, true); err != nil || !strings.Contains(b.String(), "\x1b[1m") {
		t.Errorf("colour was asked for: %v", err)
	}
}
