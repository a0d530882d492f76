package main

import (
	"encoding/json"
	"flag"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"rollchange/scenarios"
)

// fields are those of a request or a reply.
type fields map[string]any

// reply is what the engine says to a request; read by the standard library, so that what
// the engine writes is JSON.
func reply(t testing.TB, e *engine, r fields) any {
	t.Helper()
	text, err := json.Marshal(r)
	require.NoError(t, err)
	said := e.ask(string(text))
	var v any
	require.NoError(t, json.Unmarshal([]byte(said), &v), said)
	return v
}

// asked is a reply that is no error.
func asked(t testing.TB, e *engine, r fields) fields {
	t.Helper()
	m, ok := reply(t, e, r).(map[string]any)
	require.True(t, ok)
	require.NotContains(t, m, "error", "%v", r["ask"])
	return m
}

// listOf are the objects of a list.
func listOf(t testing.TB, v any) []fields {
	t.Helper()
	list, ok := v.([]any)
	require.True(t, ok, "%v", v)
	var all []fields
	for _, x := range list {
		all = append(all, x.(map[string]any))
	}
	return all
}

// opening opens a text and returns the engine and what it says of it.
func opening(t testing.TB, text string, vary ...string) (*engine, fields) {
	t.Helper()
	e := &engine{}
	about := asked(t, e, fields{"ask": "open", "name": "line.toml", "text": text, "vary": vary})
	require.NotContains(t, about, "problems")
	return e, about
}

// answered begins what is set, simulates all of it, and returns the answer.
func answered(t testing.TB, e *engine, set []fields, on ...string) fields {
	t.Helper()
	request := fields{"ask": "begin", "set": set}
	if len(on) > 0 {
		request["on"] = on
	}
	b := asked(t, e, request)
	require.Empty(t, b["problems"])
	for done := b["done"].(float64); done < b["need"].(float64); {
		done = asked(t, e, fields{"ask": "step"})["done"].(float64)
	}
	return asked(t, e, fields{"ask": "answer", "draws": 500})
}

func shippedText(t testing.TB, name string) string {
	t.Helper()
	for _, x := range scenarios.Templates() {
		if x.Name == name {
			return string(x.Text)
		}
	}
	t.Fatal("no scenario " + name)
	return ""
}

// figureOf is a figure of an answer.
func figureOf(t testing.TB, a fields, name string, alternative int) fields {
	t.Helper()
	for _, f := range listOf(t, a["figures"]) {
		if f["name"] == name {
			return listOf(t, f["alternatives"])[alternative]
		}
	}
	t.Fatal("no figure " + name)
	return nil
}

// What is no request is told to be none, and nothing ends the engine.
func TestMalformedRequests(t *testing.T) {
	e := &engine{}
	for _, text := range []string{"", "{", "[]", "null", "1", `"x"`, `{"ask":1}`, `{"ask":"nothing"}`, `{"ask":"open","text":1}`, `{"ask":"step"}`, `{"ask":"answer"}`, `{"ask":"begin"}`, `{"ask":"check"}`, `{"ask":"save"}`, `{"ask":"mover"}`,
		`{"ask":"shipped","name":"no"}`, `{"ask":"open","files":{"a":"%"},"text":"x"}`, "{\"ask\":\"\x00\"}", `{"ask":"open"`, `{"ask":"open"} x`, `{"a":"\ud800"}`, string(make([]byte, 100))} {
		var v map[string]any
		said := e.ask(text)
		require.NoError(t, json.Unmarshal([]byte(said), &v), "%q: %s", text, said)
		if text != `{"ask":"open","text":1}` { // an empty scenario
			assert.NotEmpty(t, v["error"], text)
		} else {
			assert.NotEmpty(t, v["problems"])
		}
	}
	e, _ = opening(t, shippedText(t, "label_press"))
	for _, text := range []string{`{"ask":"begin","set":1}`, `{"ask":"begin","set":[1,null,{"key":1}]}`, `{"ask":"begin","on":[]}`, `{"ask":"begin","on":["no such"]}`, `{"ask":"begin","on":1}`, `{"ask":"answer","draws":-1}`, `{"ask":"check","key":"","value":""}`} {
		var v map[string]any
		require.NoError(t, json.Unmarshal([]byte(e.ask(text)), &v), text)
	}
	asked(t, e, fields{"ask": "begin"})
	assert.Contains(t, e.ask(`{"ask":"answer"}`), "nothing was simulated yet")
	asked(t, e, fields{"ask": "step"})
	asked(t, e, fields{"ask": "answer", "draws": -1})
}

// FuzzAsk: any text has a reply that is JSON.
func FuzzAsk(f *testing.F) {
	for _, text := range []string{`{"ask":"open","name":"a","text":"title = \"x\"","vary":["line.speed=1..2"]}`, `{"ask":"check","key":"line.speed","value":"1 m/s"}`, `{"ask":"keys","find":"splice"}`, `[1,2.5e3,"A",{"a":null}]`} {
		f.Add(text)
	}
	e, _ := opening(f, shippedText(f, "bagger"))
	f.Fuzz(func(t *testing.T, text string) {
		if said := e.ask(text); !json.Valid([]byte(said)) {
			t.Errorf("%q", said)
		}
	})
}

// What is written is what the standard library reads, and the other way round.
func TestJSON(t *testing.T) {
	for _, text := range []string{`{"a":[1,-2.5e-3,true,false,null,"x\"\\\/\b\f\n\r\tä€😀 \u00e4\ud83d\ude00"],"":{}}`, `[]`, `{}`, ` [ 1 , { "a" : [ ] } ] `, `"\u2028<script>"`} {
		var want any
		require.NoError(t, json.Unmarshal([]byte(text), &want))
		got, err := readJSON(text)
		require.NoError(t, err, text)
		assert.Equal(t, want, got)
	}
	for _, text := range []string{`{"a"}`, `{"a":}`, `[1,]`, `[1 2]`, `{"a":1,}`, `{,}`, `"a`, `tru`, `01x`, `"\x"`, `"\u12"`, "\"\n\"", `[[[[[[[[[[[[[[[[[[[[[[1]]]]]]]]]]]]]]]]]]]]]]`, `1 2`, `--1`, `.`} {
		_, err := readJSON(text)
		assert.Error(t, err, text)
	}
	text := "a\"\\\n\t\x01\u2028<é😀\xff"
	var back string
	require.NoError(t, json.Unmarshal(appendJSON(nil, text), &back))
	assert.Equal(t, "a\"\\\n\t\x01\u2028<é😀\ufffd", back)
	assert.Equal(t, `{"n":null,"l":[1.5,null],"e":[],"b":true,"i":-3,"o":[{"x":"y"}],"s":["a"],"m":[1,"a"]}`,
		string(appendJSON(nil, object{{"n", nil}, {"l", []float64{1.5, nan}}, {"e", []object{}}, {"b", true}, {"i", -3}, {"o", []object{{{"x", "y"}}}}, {"s", []string{"a"}}, {"m", []any{1, "a"}}})))
}

// go test ./cmd/... -update writes what the command prints; here nothing is written.
var _ = flag.Bool("update", false, "nothing is written here")
