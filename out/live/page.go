package live

import (
	"bytes"
	"crypto/sha256"
	"embed"
	"encoding/base64"
	"encoding/json"
	"fmt"
	"html/template"
	"io"

	"rollchange/out/picture"
	"rollchange/out/words"
)

//go:embed page.html style.css worker.js script/*.js
var pageFiles embed.FS

//go:embed words/*.toml
var wordFiles embed.FS

// scripts are the scripts of the page, in the order in which they are read.
var scripts = []string{"dom", "state", "unpack", "engine", "fills", "bars", "curves", "figures", "answer", "keep", "fields", "groups", "run", "save", "lookup", "open", "main"}

// mostTitle is the longest title of a page, in characters.
const mostTitle = 120

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
	engine   []byte // a WebAssembly module, packed by package lzma
	glue     string // script that defines Go, as the Go distribution has it
	licences string // of what others wrote in both
}

// dataOf is what the scripts read: words, fills, and the scenario to open.
type dataOf struct {
	Words map[string]map[string]string `json:"words"`
	Fills picture.Fills                `json:"fills"`
	Title string                       `json:"title"`
	Open  *opened                      `json:"open,omitempty"`
}

type opened struct {
	Name string   `json:"name"`
	Text string   `json:"text"`
	Vary []string `json:"vary"`

	Files map[string][]byte `json:"files,omitempty"` // in base 64
}

// write writes the page around an engine.
func (p Page) write(w io.Writer, run parts) error {
	lang := p.Lang
	if lang == "" {
		lang = "en"
	}
	said, err := wordsOf(lang)
	if err != nil {
		return err
	}
	title := words.Line(p.Title, mostTitle)
	if title == "" {
		title = "rollchange"
	}
	data := dataOf{Words: said, Fills: picture.AllFills(), Title: title}
	if p.Name != "" {
		data.Open = &opened{p.Name, p.Text, p.Vary, p.Files}
	}
	text, err := json.Marshal(data) // < and > are escaped in it, so no script ends early
	if err != nil {
		return err
	}
	style, script := fileOf("style.css"), scriptOf()
	t, err := template.ParseFS(pageFiles, "page.html")
	if err != nil {
		return err
	}
	return t.Execute(w, map[string]any{
		"Lang": lang, "Title": title, "W": said, "Policy": policy(style, script),
		"Style": template.CSS(style), "Script": template.JS(script), "Data": template.JS(text),
		"Worker": template.HTML(run.glue + "\n" + fileOf("worker.js")),
		"Engine": template.HTML(base64.StdEncoding.EncodeToString(run.engine)), "Licences": run.licences,
		"Made": fmt.Sprintf(said["page"]["made"], p.Version),
	})
}

// policy is the Content-Security-Policy of the page: what is inlined, by its hash,
// a compiled engine, a worker of the page's own text, and nothing else.
func policy(style, script string) string {
	return "default-src 'none'; script-src 'wasm-unsafe-eval' " + hash(script) + "; style-src " + hash(style) +
		"; worker-src blob:; child-src blob:; img-src data:; base-uri 'none'; form-action 'none'"
}

func hash(text string) string {
	sum := sha256.Sum256([]byte(text))
	return "'sha256-" + base64.StdEncoding.EncodeToString(sum[:]) + "'"
}

// scriptOf is all scripts in one, in a scope of their own.
func scriptOf() string {
	var b bytes.Buffer
	b.WriteString("\"use strict\";\n(() => {\n")
	for _, name := range scripts {
		b.WriteString(fileOf("script/" + name + ".js"))
	}
	b.WriteString("})();\n")
	return b.String()
}

// fileOf is one of the files of the page, which are there: a test reads all.
func fileOf(name string) string {
	text, err := pageFiles.ReadFile(name)
	if err != nil {
		panic(err)
	}
	return string(text)
}

// wordsOf reads the words of a language.
func wordsOf(lang string) (map[string]map[string]string, error) {
	said := map[string]map[string]string{}
	return said, words.Language(wordFiles, lang, &said)
}
