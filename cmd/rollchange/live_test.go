package main

import (
	"bufio"
	"encoding/json"
	"io"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"rollchange/model"
	"rollchange/scenarios"
	"rollchange/sim/effort"
)

type jsonObject = map[string]any

// engineOf starts the engine of the page as a program of its own and returns how to ask it.
func engineOf(t *testing.T) func(request jsonObject) jsonObject {
	t.Helper()
	path := filepath.Join(t.TempDir(), "engine")
	said, err := exec.Command("go", "build", "-o", path, "../browser").CombinedOutput()
	require.NoError(t, err, "%s", said)
	cmd := exec.Command(path)
	in, err := cmd.StdinPipe()
	require.NoError(t, err)
	out, err := cmd.StdoutPipe()
	require.NoError(t, err)
	require.NoError(t, cmd.Start())
	t.Cleanup(func() {
		assert.NoError(t, in.Close())
		_, _ = io.Copy(io.Discard, out)
		assert.NoError(t, cmd.Wait())
	})
	replies := bufio.NewScanner(out)
	replies.Buffer(nil, 16<<20)
	return func(request jsonObject) jsonObject {
		text, err := json.Marshal(request)
		require.NoError(t, err)
		_, err = in.Write(append(text, '\n'))
		require.NoError(t, err)
		require.True(t, replies.Scan())
		var reply jsonObject
		require.NoError(t, json.Unmarshal(replies.Bytes(), &reply))
		require.NotContains(t, reply, "error")
		return reply
	}
}

// siOf is one of a unit of a figure, SI.
func siOf(t *testing.T, unit string) float64 {
	t.Helper()
	if x, ok := map[string]float64{"": 1, "m2/h": 1. / 3600, "kg/h": 1. / 3600, "/h": 1. / 3600, "/day": 1. / 86400, "/year": 1. / (365 * 86400),
		"ft2/h": 0.3048 * 0.3048 / 3600, "lb/h": 0.45359237 / 3600}[unit]; ok {
		return x
	}
	for _, dim := range []model.Dimension{model.Length, model.Speed, model.Time, model.Share} {
		if u, ok := model.UnitOf(unit, dim); ok {
			return u.SI
		}
	}
	t.Fatalf("no unit %q", unit)
	return 0
}

// near says whether a figure is that of the command to 1e-9; none where it has none.
func near(t *testing.T, want, got any, unit float64, what ...any) {
	t.Helper()
	w, is := want.(float64)
	g, has := got.(float64)
	if !is || !has {
		assert.Equal(t, want, got, what...)
		return
	}
	assert.InDelta(t, w/unit, g, 1e-9*math.Max(math.Abs(w/unit), 1e-3), what...)
}

// The sure answer of a page is that of compare, payback and plan with the same seed, to
// 1e-9, for every shipped scenario.
func TestALivePageComesToTheCommandsNumbers(t *testing.T) {
	if testing.Short() {
		t.Skip("the engine and the commands take a second each")
	}
	effort.NotInRace(t)
	ask := engineOf(t)
	all := scenarios.Templates()
	for _, x := range append(all[:effort.Of(1, 1, len(all)):len(all)], all[8]) {
		ask(jsonObject{"ask": "open", "name": x.Name, "text": string(x.Text)})
		for done, begun := 0.0, ask(jsonObject{"ask": "begin"}); done < begun["need"].(float64); {
			done = ask(jsonObject{"ask": "step"})["done"].(float64)
		}
		answer := ask(jsonObject{"ask": "answer", "draws": 10000})
		assert.Equal(t, false, answer["rough"])
		code, out, errs := callIn(together, string(x.Text), "compare", "-", "--json")
		require.Equal(t, exitAnswered, code, errs)
		var want struct {
			Alternatives, Differences []struct {
				Name    string
				Metrics map[string]jsonObject
			}
			Economics []jsonObject
		}
		require.NoError(t, json.Unmarshal([]byte(out), &want))
		n := 0
		for _, f := range answer["figures"].([]any) {
			row := f.(jsonObject)
			name, unit := row["name"].(string), row["unit"].(string)
			if strings.HasPrefix(name, "plan.") {
				continue
			}
			for i, a := range row["alternatives"].([]any) {
				got := a.(jsonObject)
				if m, ok := want.Alternatives[i].Metrics[name]; ok {
					for from, to := range map[string]string{"mean": "value", "low": "low", "high": "high"} {
						near(t, m[from], got[to], siOf(t, unit), "%s: %s of %s, %s", x.Name, name, want.Alternatives[i].Name, to)
						n++
					}
				} else {
					assert.Nil(t, got["value"])
				}
				if i == 0 {
					continue
				}
				d := row["difference"].([]any)[i].(jsonObject)
				if m, ok := want.Differences[i-1].Metrics[name]; ok {
					near(t, m["mean"], d["value"], siOf(t, unit), "%s: difference of %s", x.Name, name)
					near(t, m["low"], d["low"], siOf(t, unit), "%s: difference of %s", x.Name, name)
				}
			}
		}
		assert.Greater(t, n, 100, x.Name)
		require.Len(t, answer["money"], len(want.Economics))
		for i, c := range want.Economics {
			got := answer["money"].([]any)[i].(jsonObject)
			causes := c["savings_per_year"].(jsonObject)
			for what, pair := range map[string][2]any{"total": {causes["total"], got["total"]}, "npv": {c["npv"], got["npv"]}, "investment": {c["investment"], got["investment"]}, "payback": {c["simple_payback"], got["payback"]}} {
				for _, field := range []string{"value", "low", "high"} {
					near(t, pair[0].(jsonObject)[field], pair[1].(jsonObject)[field], 1, "%s: %s %s of %v", x.Name, what, field, c["alternative"])
				}
			}
			for _, k := range got["causes"].([]any) {
				cause := k.(jsonObject)
				near(t, causes[cause["key"].(string)].(jsonObject)["mean"], cause["value"], 1, "%s: %s", x.Name, cause["key"])
			}
			flows := c["cash_flow"].([]any)
			for y, k := range got["cash"].([]any) {
				near(t, flows[y].(jsonObject)["cumulative"].(jsonObject)["low"], k.(jsonObject)["low"], 1)
			}
		}
		if answer["late"] != nil {
			comparePlan(t, string(x.Text), answer)
		}
	}
}

// comparePlan compares the figures of a list of orders with those of plan.
func comparePlan(t *testing.T, text string, answer jsonObject) {
	code, out, errs := callIn(together, text, "plan", "-", "--json")
	require.Equal(t, exitAnswered, code, errs)
	var want struct{ Alternatives []jsonObject }
	require.NoError(t, json.Unmarshal([]byte(out), &want))
	rows := answer["figures"].([]any)
	for i, a := range want.Alternatives {
		done := rows[0].(jsonObject)["alternatives"].([]any)[i].(jsonObject)
		for from, to := range map[string]string{"mean_s": "value", "p5_s": "low", "p95_s": "high"} {
			near(t, a["done"].(jsonObject)[from], done[to], 3600, "done %s", to)
		}
		near(t, a["orders_on_time"].(jsonObject)["mean"], rows[1].(jsonObject)["alternatives"].([]any)[i].(jsonObject)["value"], 1, "on time")
		near(t, a["late_s"].(jsonObject)["mean"], rows[2].(jsonObject)["alternatives"].([]any)[i].(jsonObject)["value"], 3600, "late")
	}
}

// pageData is what a page holds to open.
func pageData(t *testing.T, page string) jsonObject {
	t.Helper()
	found := regexp.MustCompile(`(?s)<script type="application/json" id="data">(.*?)</script>`).FindStringSubmatch(page)
	require.NotNil(t, found)
	var data jsonObject
	require.NoError(t, json.Unmarshal([]byte(found[1]), &data))
	return data
}

func written(t *testing.T, args ...string) string {
	t.Helper()
	code, out, errs := callIn(together, "", append([]string{"live"}, args...)...)
	require.Equal(t, exitAnswered, code, errs)
	assert.Empty(t, out)
	page, err := os.ReadFile(args[len(args)-1])
	require.NoError(t, err)
	return string(page)
}

// A page is one file that a mail takes, and holds the scenario as it stands, with what can
// be moved: what is named, else what the scenario names, else what moves the answer most.
func TestLive(t *testing.T) {
	t.Chdir(t.TempDir())
	text := strings.Replace(template(t, "bagger_speed"), `lognormal", mean = "8 s", sd = "1.8 s"`, `empirical", file = "dwell.csv", column = "dwell [s]"`, 1)
	text = strings.Replace(text, "# A study", "# </script><script>alert(1)</script> \u2028", 1)
	text = strings.Replace(text, `horizon = "14 d"`, `horizon = "1 d"`, 1)
	require.NoError(t, os.WriteFile("line.toml", []byte(text), 0o600))
	require.NoError(t, os.WriteFile("dwell.csv", []byte("dwell [s]\n7\n8\n9.5\n"), 0o600))
	page := written(t, "line.toml", "--vary", "line.speed=30 m/min..50 m/min", "--vary", "crew.operators", "-o", "a.html")
	assert.Less(t, len(page), 2_500_000)
	assert.Greater(t, len(page), 1_000_000, "the engine is not in it")
	open := pageData(t, page)["open"].(jsonObject)
	assert.Equal(t, text, open["text"])
	assert.Equal(t, []any{"line.toml", []any{"line.speed=30 m/min..50 m/min", "crew.operators"}}, []any{open["name"], open["vary"]})
	assert.Equal(t, "ZHdlbGwgW3NdCjcKOAo5LjUK", open["files"].(jsonObject)["dwell.csv"])
	assert.NotContains(t, strings.ToLower(page), "<script>alert")
	if testing.Short() {
		return // each page takes a while to pack
	}
	assert.Equal(t, page, written(t, "line.toml", "--vary", "line.speed=30 m/min..50 m/min", "--vary", "crew.operators", "-o", "b.html"), "the same bytes")

	found := pageData(t, written(t, "line.toml", "-o", "c.html"))["open"].(jsonObject)["vary"].([]any)
	assert.Len(t, found, 8)
	assert.Regexp(t, `^[a-z_.\[\]0-9@ ]+=.*\.\.`, found[0])
	require.NoError(t, os.WriteFile("line.toml", []byte(text+"\n[[live]]\nvary = \"line.decel\"\n"), 0o600))
	assert.Nil(t, pageData(t, written(t, "line.toml", "-o", "d.html"))["open"].(jsonObject)["vary"], "the scenario names them")
	assert.NotContains(t, pageData(t, written(t, "-o", "e.html")), "open")
}

func TestBadLive(t *testing.T) {
	t.Chdir(t.TempDir())
	require.NoError(t, os.WriteFile("line.toml", []byte(template(t, "bagger")), 0o600))
	require.NoError(t, os.WriteFile("bad.toml", []byte("title = 1"), 0o600))
	require.NoError(t, os.WriteFile("sheet.toml", []byte(strings.Replace(template(t, "label_week"), `list = """`, "file = \"orders.xlsx\"\n[other]\nlist = \"\"\"", 1)), 0o600))
	for want, args := range map[string][]string{
		"name the page: -o NAME.html":               {"line.toml"},
		"ends in .html":                             {"line.toml", "-o", "a.txt"},
		"got 2":                                     {"line.toml", "line.toml", "-o", "a.html"},
		"--vary: line.sped: no such key":            {"line.toml", "-o", "a.html", "--vary", "line.sped=1..2"},
		"--vary: line.speed: write KEY=FROM..TO":    {"line.toml", "-o", "a.html", "--vary", "line.speed=3 m/min"},
		"--vary is for a scenario":                  {"-o", "a.html", "--vary", "line.speed=3 m/min..4 m/min"},
		"bad.toml:1: title: must be text in quotes": {"bad.toml", "-o", "a.html"},
		"no such file":                              {"none.toml", "-o", "a.html"},
	} {
		code, _, errs := call(t, "", append([]string{"live"}, args...)...)
		assert.Equal(t, exitBad, code, args)
		assert.Contains(t, errs, want)
		assert.NoFileExists(t, "a.html")
	}
}
