package live

import (
	"crypto/sha256"
	_ "embed"
	"encoding/base64"
	"encoding/json"
	"html"
	"io"
	"strings"
)

// Page is what a page is made of.
type Page struct {
	Name    string            // of the scenario's file; "": a page without a scenario
	Text    string            // the scenario, as TOML; it need not be right, the page says what is wrong with it
	Files   map[string][]byte // that the scenario names, by the name that it gives them
	Title   string            // at the head until a scenario is open
	Vary    []string          // what can be moved: "line.speed=100 m/min..250 m/min"; none: what the engine chooses
	Version string            // of the tool
	Lang    string            // of the words of the page; "": "en"
}

// parts are what a page runs: the engine, compressed, and what runs it in a worker.
type parts struct {
	engine []byte // a WebAssembly module, packed by package lzma
	glue   string // script that defines Go, as the Go distribution has it
}

//go:embed page.html
var page string

//go:embed page.js
var script string

//go:embed script/unpack.js
var unpack string

//go:embed worker.js
var worker string

// write writes the page around an engine.
func (p Page) write(w io.Writer, run parts) error {
	type open struct {
		Name string   `json:"name"`
		Text string   `json:"text"`
		Vary []string `json:"vary"`

		Files map[string][]byte `json:"files,omitempty"`
	}
	data := struct {
		Open *open `json:"open,omitempty"`
	}{}
	if p.Name != "" {
		data.Open = &open{p.Name, p.Text, p.Vary, p.Files}
	}
	text, err := json.Marshal(data) // < and > are escaped in it, so no script ends early
	if err != nil {
		return err
	}
	script := unpack + script
	sum := sha256.Sum256([]byte(script))
	policy := "default-src 'none'; script-src 'wasm-unsafe-eval' 'sha256-" + base64.StdEncoding.EncodeToString(sum[:]) + "'; worker-src blob:; child-src blob:; base-uri 'none'; form-action 'none'"
	_, err = strings.NewReplacer("{{policy}}", policy, "{{title}}", html.EscapeString(p.Title), "{{data}}", string(text), "{{worker}}", run.glue+"\n"+worker,
		"{{engine}}", base64.StdEncoding.EncodeToString(run.engine), "{{script}}", script).WriteString(w, page)
	return err
}
