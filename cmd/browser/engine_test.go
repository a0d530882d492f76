package main

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"rollchange/scenarios"
	"rollchange/sim/effort"
)

var nan = math.NaN()

// Every shipped scenario opens, its movers are what stands in it, and it answers.
func TestEveryShippedScenarioAnswers(t *testing.T) {
	t.Parallel()
	for _, x := range effort.Some(scenarios.Templates(), 3) {
		t.Run(x.Name, func(t *testing.T) {
			t.Parallel()
			e, about := opening(t, string(x.Text))
			assert.Equal(t, x.Title, about["title"])
			assert.Greater(t, len(listOf(t, about["movers"])), 6)
			assert.Greater(t, len(listOf(t, about["choices"])), 10)
			seen := map[string]bool{}
			for _, m := range append(listOf(t, about["movers"]), listOf(t, about["choices"])...) {
				key := m["key"].(string)
				assert.False(t, seen[key], key)
				seen[key] = true
				assert.NotEmpty(t, m["label"], key)
				if m["value"] == nil { // a choice
					m = asked(t, e, fields{"ask": "mover", "key": key})["mover"].(map[string]any)
				}
				from, to, value, step := m["from"].(float64), m["to"].(float64), m["value"].(float64), m["step"].(float64)
				assert.True(t, from <= value && value <= to && from < to, "%s: %v in %v to %v", key, value, from, to)
				assert.InDelta(t, math.Round((value-from)/step), (value-from)/step, 1e-6, "%s: whole steps", key)
				assert.LessOrEqual(t, (to-from)/step, 126.0, key)
				c := asked(t, e, fields{"ask": "check", "key": key, "value": inField(m["text"])})
				assert.Equal(t, true, c["ok"], "%s: %v", key, c)
				assert.InDelta(t, value, c["value"], 1e-9*math.Abs(value), key)
				assert.Equal(t, m["text"], c["text"], key)
			}
			b := asked(t, e, fields{"ask": "begin"})
			assert.Equal(t, 20.0, b["need"])
			asked(t, e, fields{"ask": "step"})
			asked(t, e, fields{"ask": "step"})
			a := asked(t, e, fields{"ask": "answer", "draws": 200})
			assert.Equal(t, true, a["rough"])
			assert.Equal(t, 2.0, a["done"])
			assert.NotEmpty(t, a["sentences"])
			n := len(listOf(t, about["alternatives"]))
			for _, f := range listOf(t, a["figures"]) {
				assert.Len(t, f["alternatives"], n)
				assert.Len(t, f["difference"], n)
			}
			for _, of := range []string{"hours", "web"} {
				list := listOf(t, a[of])
				require.Len(t, list, n)
				sum := 0.0
				for _, p := range listOf(t, list[0]["parts"]) {
					sum += p["share"].(float64)
					assert.NotEmpty(t, p["cause"])
				}
				if of == "hours" {
					assert.InDelta(t, 1, sum, 1e-9, "the hours are all there")
				} else {
					assert.InDelta(t, figureOf(t, a, "waste.total", 0)["value"].(float64)/100, sum, 1e-9, "the waste is all there")
				}
			}
			assert.Len(t, listOf(t, a["money"]), n-1)
			for _, m := range listOf(t, a["money"]) {
				require.NotContains(t, m, "missing")
				sum := 0.0
				for _, c := range listOf(t, m["causes"]) {
					sum += c["value"].(float64)
				}
				total := m["total"].(map[string]any)["value"].(float64)
				assert.InDelta(t, total, sum, 1e-6*math.Abs(total), "the causes add up")
			}
		})
	}
}

// A price that is moved simulates nothing; a line does; an alternative that is left out
// and comes back does not.
func TestAPriceSimulatesNothing(t *testing.T) {
	t.Parallel()
	e, _ := opening(t, shippedText(t, "label_press"))
	first := answered(t, e, nil)
	begun := func(key, value string, on ...string) float64 {
		b := asked(t, e, fields{"ask": "begin", "set": []fields{{"key": key, "value": value}}, "on": on})
		require.Empty(t, b["problems"])
		return b["done"].(float64)
	}
	all := []string{"by hand", "automatic unwind", "automatic unwind and rewind"}
	assert.Equal(t, 20.0, begun("economics.material_cost", "0.3 EUR/m2", all...))
	dearer := asked(t, e, fields{"ask": "answer", "draws": 500})
	assert.Equal(t, first["figures"], dearer["figures"])
	assert.NotEqual(t, first["money"], dearer["money"])
	assert.Equal(t, 20.0, begun("alternative[automatic unwind].investment", "70000", all...))
	assert.Equal(t, 20.0, begun("economics.crew_cost", "40", all[1:]...), "the second is what the third is compared with")
	two := asked(t, e, fields{"ask": "answer", "draws": 500})
	assert.Len(t, two["money"], 1)
	assert.Equal(t, figureOf(t, first, "good_rate", 1), figureOf(t, two, "good_rate", 0))
	assert.Equal(t, 0.0, begun("line.speed", "130 m/min", all...))
	assert.Equal(t, 20.0, begun("line.speed", "120 m/min", all...), "as it was")
}

// A mover of a distribution scales it; one for those that share a value moves them alone;
// one of an alternative moves that.
func TestWhatAMoverMoves(t *testing.T) {
	t.Parallel()
	e, about := opening(t, shippedText(t, "bagger_speed"), "line.speed=30 m/min..50 m/min", "unwind.dwell=4 s..20 s")
	movers := listOf(t, about["movers"])
	assert.Equal(t, []any{"line speed", "alternative as today, 35 m/min", 35.0, 30.0, 50.0}, []any{movers[0]["label"], movers[0]["group"], movers[0]["value"], movers[0]["from"], movers[0]["to"]})
	assert.Equal(t, []any{"line speed where it is 45 m/min", "line", 45.0}, []any{movers[1]["label"], movers[1]["group"], movers[1]["value"]})
	assert.Equal(t, []any{"splice dwell", "lognormal, mean 8 s, sd 1.8 s", 8.0, 4.0, 20.0}, []any{movers[2]["label"], movers[2]["distribution"], movers[2]["value"], movers[2]["from"], movers[2]["to"]})
	set := []fields{{"key": movers[1]["key"], "value": "40 m/min"}, {"key": "unwind.dwell", "value": "12 s"}}
	require.Empty(t, asked(t, e, fields{"ask": "begin", "set": set})["problems"])
	lines := e.open.now.Study.Alternatives
	for i, want := range []float64{35, 40, 40, 40} {
		assert.InDelta(t, want/60, lines[i].Line.Process.Speed, 1e-12)
		assert.InDelta(t, 12, lines[i].Line.Unwind.Dwell.A, 1e-12)
		assert.InDelta(t, 2.7, lines[i].Line.Unwind.Dwell.B, 1e-12, "its shape stays")
	}
	saved := asked(t, e, fields{"ask": "save"})["text"].(string)
	again, err := scenarios.Parse("saved", []byte(saved), "")
	require.NoError(t, err)
	for i := range lines {
		assert.True(t, lines[i].Line.Same(&again.Study.Alternatives[i].Line), "%d", i)
	}
	assert.Contains(t, saved, `# changed: unwind.dwell was { dist = "lognormal", mean = "8 s", sd = "1.8 s" }`)
	assert.Contains(t, saved, "# A study: a capacity planner is asked for 30 % more")
}

// A field refuses nonsense with what the reader of the file says, and how to write it.
func TestFieldsRefuseWhatAFileRefuses(t *testing.T) {
	t.Parallel()
	text := shippedText(t, "label_press")
	e, _ := opening(t, text)
	for _, c := range [][2]string{{"line.speed", "fast"}, {"line.speed", "-3 m/min"}, {"line.speed", "0 m/min"}, {"line.speed", "180 kg"}, {"line.speed", ""}, {"line.speed", "1e999 m/min"}, {"line.speed", "NaN m/min"},
		{"line.speed", `{ dist = "normal", mean = "1 m/s", sd = "1 m/s" }`}, {"crew.operators", "1.5"}, {"crew.operators", "two"}, {"crew.operators", "-1"}, {"unwind.splice_success", "120 %"}, {"unwind.change_time", `{ dist = "lognormal", mean = "4 min" }`},
		{"unwind.change_time", "-4 min"}, {"economics.price", "cheap"}, {"jobs.length", "0 m"}} {
		key, value := c[0], c[1]
		got := asked(t, e, fields{"ask": "check", "key": key, "value": value})
		require.Equal(t, false, got["ok"], c)
		quoted := value
		if !strings.HasPrefix(value, "{") && value != "1.5" && value != "-1" {
			quoted = fmt.Sprintf("%q", value)
		}
		_, err := scenarios.Parse("line.toml", []byte(text), "", scenarios.ParseSet(key+"="+quoted))
		require.Error(t, err, c)
		says := strings.TrimPrefix(err.Error(), "--set "+key+"="+quoted+": "+key+": ")
		message, _, _ := strings.Cut(says, "\n")
		assert.Contains(t, err.Error(), got["message"], "%v: %s", c, message)
		b := asked(t, e, fields{"ask": "begin", "set": []fields{{"key": key, "value": value}}})
		require.Len(t, b["problems"], 1)
		assert.Equal(t, []any{key, got["message"], got["fix"]}, []any{listOf(t, b["problems"])[0]["key"], listOf(t, b["problems"])[0]["message"], listOf(t, b["problems"])[0]["fix"]})
	}
	// Values that are right alone and wrong together are refused where they were moved.
	b := asked(t, e, fields{"ask": "begin", "set": []fields{{"key": "economics.price", "value": "0.4"}, {"key": "line.speed", "value": "170 m/min"}}})
	problems := listOf(t, b["problems"])
	require.NotEmpty(t, problems)
	for _, p := range problems {
		assert.NotEmpty(t, p["message"])
	}
	for _, key := range []string{"line.sped", "run.seed", "title", "stop[9].every", "unwind.dwell.mean", "alternative[no].investment", "orders.begin"} {
		assert.Equal(t, false, asked(t, e, fields{"ask": "check", "key": key, "value": "1"})["ok"], key)
		assert.Contains(t, reply(t, e, fields{"ask": "mover", "key": key}), "error", key)
	}
	for _, value := range []string{"130", "130 m/min", " 130  m/min ", "2.1666666666666665 m/s"} {
		c := asked(t, e, fields{"ask": "check", "key": "line.speed", "value": value})
		assert.InDelta(t, 130, c["value"], 1e-9, value)
	}
	for _, value := range []string{"0.3", "0.3 EUR/m2", "0.3 /m2"} {
		assert.Equal(t, 0.3, asked(t, e, fields{"ask": "check", "key": "economics.price", "value": value})["value"], value)
	}
}

// A scenario that is wrong is told to be, at its lines; the one before stays open.
func TestWhatIsWrongIsToldAtItsLines(t *testing.T) {
	t.Parallel()
	e, _ := opening(t, shippedText(t, "bagger"))
	text := strings.Replace(shippedText(t, "label_press"), `speed = "120 m/min"`, `  sped = "120 m/min"`, 1) + "\nrepair = 5\n"
	about := asked(t, e, fields{"ask": "open", "name": "<b>.toml", "text": text})
	problems := listOf(t, about["problems"])
	require.Len(t, problems, 5)
	lines := strings.Split(text, "\n")
	for _, p := range problems {
		if n := int(p["line"].(float64)); n > 0 {
			assert.Equal(t, strings.TrimSpace(lines[n-1]), strings.TrimSpace(p["source"].(string)))
			assert.Equal(t, 1+len(lines[n-1])-len(strings.TrimLeft(lines[n-1], " ")), int(p["column"].(float64)))
		}
		assert.NotEmpty(t, p["message"])
	}
	answered(t, e, nil) // the bagger
	assert.Contains(t, asked(t, e, fields{"ask": "open", "text": ""})["problems"].([]any)[0].(map[string]any)["message"], "is empty")
	assert.NotEmpty(t, asked(t, e, fields{"ask": "open", "text": "a = \n\x00"})["problems"])
	assert.NotEmpty(t, asked(t, e, fields{"ask": "open", "text": strings.Repeat("[", 5000)})["problems"])
	assert.NotEmpty(t, asked(t, e, fields{"ask": "open", "text": strings.Repeat("x", 2<<20)})["problems"])
	assert.Contains(t, reply(t, e, fields{"ask": "open", "text": shippedText(t, "bagger"), "vary": []string{"line.sped=1..2"}}), "error")
}

// inField is a value as a field of the page sends it, without its thousands.
func inField(text any) string { return strings.ReplaceAll(text.(string), ",", "") }

// Names that look like a program stay text: in every reply they are in quotes as they
// were, but for what a reader cannot see.
func TestHostileNames(t *testing.T) {
	if testing.Short() {
		t.Skip("long")
	}
	t.Parallel()
	bad := `</script><img src=x onerror=alert(1)>"'\u202e` + "`${alert(1)}`"
	quoted := strings.ReplaceAll(bad, `"`, `\"`)
	text := strings.NewReplacer(`"by hand"`, `"`+quoted+`"`, `"automatic unwind"`, `"a]=@b[0"`, `"plate cleaning"`, `"`+quoted+`"`, `"invented for this example"`, `"`+quoted+`"`,
		`currency = "EUR"`, `currency = "`+quoted+`"`).Replace(shippedText(t, "label_press"))
	text = strings.Replace(text, "title = ", `title = "`+quoted+`" #`, 1)
	e, about := opening(t, text)
	name := about["alternatives"].([]any)[0].(map[string]any)["name"].(string)
	var set []fields
	for _, m := range listOf(t, about["movers"]) {
		c := asked(t, e, fields{"ask": "check", "key": m["key"], "value": inField(m["text"])})
		assert.Equal(t, true, c["ok"], "%v: %v", m["key"], c)
		value := fmt.Sprint(m["value"].(float64) + m["step"].(float64))
		if len(set) < 4 && asked(t, e, fields{"ask": "check", "key": m["key"], "value": value})["ok"] == true {
			set = append(set, fields{"key": m["key"], "value": value})
		}
	}
	a := answered(t, e, set)
	assert.Equal(t, name, figureOf(t, a, "good_rate", 0)["name"], "the page finds an alternative by its name")
	for _, s := range a["sentences"].([]any) {
		assert.NotContains(t, s, "\u202e")
	}
	assert.NotContains(t, about["title"], "\u202e")
	saved := asked(t, e, fields{"ask": "save"})["text"].(string)
	_, err := scenarios.Parse("saved", []byte(saved), "")
	require.NoError(t, err)
	listed := strings.Replace(shippedText(t, "label_week"), "4901; ", "<i>;", 1)
	e, _ = opening(t, listed)
	a = answered(t, e, nil)
	assert.NotEmpty(t, a["late"])
}

// A list of orders is answered by when it is done and what is late, as plan does.
func TestOrders(t *testing.T) {
	t.Parallel()
	e, about := opening(t, shippedText(t, "label_week"))
	assert.Equal(t, true, about["orders"])
	groups := map[any]bool{}
	for _, m := range append(listOf(t, about["movers"]), listOf(t, about["choices"])...) {
		groups[m["group"]] = true
	}
	a := answered(t, e, nil)
	rows := listOf(t, a["figures"])
	assert.Equal(t, []any{"plan.done", "plan.on_time", "plan.late"}, []any{rows[0]["name"], rows[1]["name"], rows[2]["name"]})
	done := listOf(t, rows[0]["alternatives"])
	assert.Less(t, done[1]["value"], done[0]["value"], "automatic changes are done sooner")
	assert.Regexp(t, `^[A-Z][a-z]{2} \d\d:\d\d$`, done[0]["text"])
	assert.Regexp(t, `^−.* h$`, listOf(t, rows[0]["difference"])[1]["text"])
	assert.NotEmpty(t, a["late"])
	b := asked(t, e, fields{"ask": "begin", "set": []fields{{"key": "economics.price", "value": "0.4"}}})
	assert.Equal(t, 20.0, b["done"], "a price plans nothing anew")
	b = asked(t, e, fields{"ask": "begin", "set": []fields{{"key": "product[wine, front].line.speed", "value": "130 m/min"}}})
	assert.Empty(t, b["problems"])
	assert.Equal(t, 0.0, b["done"])
}

// A storage is shown over one change as the closed form has it: the lowest is that of the
// course, and what the run says stands beside it.
func TestStorage(t *testing.T) {
	t.Parallel()
	e, _ := opening(t, shippedText(t, "bagger_speed"))
	asked(t, e, fields{"ask": "begin"})
	asked(t, e, fields{"ask": "step"})
	list := listOf(t, asked(t, e, fields{"ask": "answer", "draws": 100})["storage"])
	require.Len(t, list, 4)
	for i, s := range list {
		// v²/2a + v dwell + v²/2b with 0.8 m/s2 both ways and 8 s, from 8.8 m or 14 m; trip
		// 0.4 m + v²/(2 × 0.5 m/s2), by hand.
		v, run := 45./60, 14.0
		if i == 0 {
			v = 35. / 60
		}
		if i < 2 {
			run = 8.8
		}
		assert.InDelta(t, run-2*v*v/1.6-8*v, s["lowest"], 1e-9)
		assert.InDelta(t, 0.4+v*v, s["trip"], 1e-9)
		least, last := math.Inf(1), math.Inf(-1)
		for _, p := range s["points"].([]any) {
			at := p.([]any)
			least = math.Min(least, at[1].(float64))
			assert.Greater(t, at[0], last, "time goes on")
			last = at[0].(float64)
			assert.LessOrEqual(t, at[1], run)
		}
		assert.InDelta(t, s["lowest"], least, 1e-9)
		assert.Contains(t, s["text"], "lowest unwind storage")
	}
}

// A line without alternatives is told of alone; records that a scenario asks for are said
// to be left out.
func TestALineAlone(t *testing.T) {
	t.Parallel()
	text := shippedText(t, "label_press")
	text = text[:strings.Index(text, "[[alternative]]")]
	text = strings.Replace(text, "[run]", "[run]\nrecords = \"observed\"", 1)
	e, about := opening(t, strings.Replace(text, `mean = "9 min", sd = "5 min"`, `mean = "9 min", sd = "5 min", observed = 20`, 1))
	assert.Len(t, about["alternatives"], 1)
	asked(t, e, fields{"ask": "begin"})
	for _, says := range []string{"in one replication", "at 95 % confidence"} {
		asked(t, e, fields{"ask": "step"})
		a := asked(t, e, fields{"ask": "answer"})
		assert.Contains(t, a["sentences"].([]any)[0], says)
		assert.Empty(t, a["money"])
		assert.Contains(t, fmt.Sprint(a["warnings"]), "not what the records leave open")
	}
	saved := asked(t, e, fields{"ask": "save"})["text"]
	assert.Contains(t, saved, "observed = 20")
}

// Keys are looked up, shipped scenarios listed and handed out, data files taken from the
// request.
func TestATool(t *testing.T) {
	e := &engine{}
	keys := listOf(t, reply(t, e, fields{"ask": "keys", "find": "splice"}))
	assert.Greater(t, len(keys), 5)
	assert.Greater(t, len(listOf(t, reply(t, e, fields{"ask": "keys"}))), 150)
	assert.Empty(t, reply(t, e, fields{"ask": "keys", "find": "no such word"}))
	assert.Equal(t, "dist = lognormal", listOf(t, reply(t, e, fields{"ask": "keys", "find": "lognormal"}))[0]["key"])
	list := listOf(t, reply(t, e, fields{"ask": "shipped"}))
	require.Len(t, list, len(scenarios.Templates()))
	assert.Equal(t, shippedText(t, "laminator"), asked(t, e, fields{"ask": "shipped", "name": "laminator"})["text"])
	const law = `dwell = { dist = "lognormal", mean = "8 s", sd = "1.8 s" }`
	require.Contains(t, shippedText(t, "bagger_speed"), law)
	text := strings.Replace(shippedText(t, "bagger_speed"), law, `dwell = { dist = "empirical", file = "times.csv", column = "dwell [s]" }`, 1)
	about := asked(t, e, fields{"ask": "open", "text": text})
	assert.Contains(t, fmt.Sprint(about["problems"]), "cannot be read here")
	about = asked(t, e, fields{"ask": "open", "text": text, "files": fields{"times.csv": []byte("dwell [s]\n7\n8\n9\n")}})
	require.NotContains(t, about, "problems")
	for _, c := range listOf(t, about["choices"]) {
		assert.NotEqual(t, "unwind.dwell", c["key"], "its values come from a file")
	}
	assert.Contains(t, asked(t, e, fields{"ask": "begin"}), "need")
}
