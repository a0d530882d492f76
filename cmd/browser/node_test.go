package main

import (
	"bufio"
	"bytes"
	"encoding/json"
	"fmt"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"rollchange/scenarios"
	"rollchange/sim/effort"
)

// driven reads requests, one a line, as main does elsewhere, and writes the replies: with
// what runs an engine, the engine, and where that is packed the script of the page that
// unpacks it.
const driven = `
const fs = require("fs");
globalThis.fs = fs;
const [, glue, engine, unpacks] = process.argv;
require(require("path").resolve(glue));
const go = new Go();
const module = unpacks ? new Function("packed", fs.readFileSync(unpacks, "utf8") + "; return unpacked(packed);")(fs.readFileSync(engine)) : fs.readFileSync(engine);
WebAssembly.instantiate(module, go.importObject).then(({ instance }) => {
  go.run(instance);
  const replies = fs.readFileSync(0, "utf8").split("\n").filter(Boolean).map((line) => globalThis.rollchange(line) + "\n");
  process.stdout.write(replies.join(""), () => process.exit(0));
});`

// requestsOf are what a page asks of a scenario: its own answer, and one with a line and a
// price moved, roughly and surely.
func requestsOf(t *testing.T, text string) []fields {
	t.Helper()
	_, about := opening(t, text)
	var line, price fields
	for _, m := range listOf(t, about["movers"]) {
		if m["money"] == true && price == nil {
			price = m
		} else if m["money"] == false && line == nil {
			line = m
		}
	}
	set := func(m fields) fields {
		return fields{"key": m["key"], "value": fmt.Sprint(m["value"].(float64) + m["step"].(float64))}
	}
	list := []fields{{"ask": "open", "name": "line.toml", "text": text}, {"ask": "begin"}}
	steps := func(from, to int) {
		for range to - from {
			list = append(list, fields{"ask": "step"})
		}
	}
	answer := func(draws int) { list = append(list, fields{"ask": "answer", "draws": draws}) }
	all := effort.Of(2, 6, 20) // the usual form stops on the way
	steps(0, all)
	answer(10000)
	list = append(list, fields{"ask": "begin", "set": []fields{set(line), set(price)}})
	steps(0, 2)
	answer(500)
	steps(2, all)
	answer(500)
	return append(list, fields{"ask": "save"}, fields{"ask": "check", "key": line["key"], "value": "nonsense"}, fields{"ask": "keys", "find": "splice"}, fields{"ask": "shipped"})
}

// engineBuilt are the arguments of driven for an engine that is built of the sources.
func engineBuilt(t *testing.T) []string {
	t.Helper()
	folder := t.TempDir()
	module := filepath.Join(folder, "engine.wasm")
	build := exec.Command("go", "build", "-trimpath", "-ldflags=-s -w", "-o", module, ".")
	build.Env = append(os.Environ(), "GOOS=js", "GOARCH=wasm", "CGO_ENABLED=0")
	said, err := build.CombinedOutput()
	require.NoError(t, err, "%s", said)
	root, err := exec.Command("go", "env", "GOROOT").Output()
	require.NoError(t, err)
	return []string{filepath.Join(strings.TrimSpace(string(root)), "lib", "wasm", "wasm_exec.js"), module}
}

// enginePacked are those for the engine that is in the page, which a test of out/live holds
// to be of these sources.
var enginePacked = []string{"../../out/live/engine/wasm_exec.js", "../../out/live/engine/engine.wasm.lzma", "../../out/live/script/unpack.js"}

// A page comes to the same numbers as this program, and says the same, for every shipped
// scenario: with the engine as it is built, and in the usual form with the one in the page.
func TestTheSameInAPage(t *testing.T) {
	if testing.Short() {
		t.Skip("long")
	}
	node, err := exec.LookPath("node")
	if err != nil {
		t.Skip("node is not installed: the engine is not run as in a page")
	}
	of := enginePacked
	if effort.Long() {
		of = engineBuilt(t)
	}
	for _, x := range scenarios.Templates()[:effort.Of(0, 1, len(scenarios.Templates()))] {
		requests := requestsOf(t, string(x.Text))
		var in, out, wrong bytes.Buffer
		for _, r := range requests {
			text, err := json.Marshal(r)
			require.NoError(t, err)
			in.Write(append(text, '\n'))
		}
		e := &engine{}
		cmd := exec.Command(node, append([]string{"-e", driven}, of...)...)
		cmd.Stdin, cmd.Stdout, cmd.Stderr = bytes.NewReader(in.Bytes()), &out, &wrong
		require.NoError(t, cmd.Run(), "%s: %s", x.Name, wrong.String())
		replies := bufio.NewScanner(&out)
		replies.Buffer(nil, 16<<20)
		for i, line := range strings.Split(strings.TrimSpace(in.String()), "\n") {
			require.True(t, replies.Scan(), "%s: no reply %d", x.Name, i)
			var here, there any
			require.NoError(t, json.Unmarshal([]byte(e.ask(line)), &here))
			require.NoError(t, json.Unmarshal(replies.Bytes(), &there))
			assert.Empty(t, unlike(here, there, fmt.Sprint(requests[i]["ask"])), "%s, request %d", x.Name, i)
		}
	}
}

// unlike is where two replies differ: on a processor that fuses no operations by anything,
// elsewhere numbers by more than 1e-9 of the larger.
func unlike(a, b any, where string) []string {
	switch x := a.(type) {
	case map[string]any:
		y, _ := b.(map[string]any)
		if len(x) != len(y) {
			return []string{fmt.Sprintf("%s: %d and %d fields", where, len(x), len(y))}
		}
		var list []string
		for name := range x {
			list = append(list, unlike(x[name], y[name], where+"."+name)...)
		}
		return list
	case []any:
		y, _ := b.([]any)
		if len(x) != len(y) {
			return []string{fmt.Sprintf("%s: %d and %d", where, len(x), len(y))}
		}
		var list []string
		for i := range x {
			list = append(list, unlike(x[i], y[i], fmt.Sprintf("%s[%d]", where, i))...)
		}
		return list
	case float64:
		if y, ok := b.(float64); ok && runtime.GOARCH != "amd64" && math.Abs(x-y) <= 1e-9*math.Max(math.Abs(x), math.Abs(y)) {
			return nil
		}
	}
	if a == b {
		return nil
	}
	return []string{fmt.Sprintf("%s: %v and %v", where, a, b)}
}
