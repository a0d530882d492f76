package main

import (
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"
	"unicode"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"rollchange/model"
	"rollchange/sim"
	"rollchange/sim/metric"
)

// The flow is the import graph: cmd -> out -> sim -> model, scenarios -> model.
// In out the words stand first: tables, machine outputs, pictures, workbook and
// page each take what a person reads from out/words, and none of them another,
// but the page, which holds pictures. The model imports the standard library
// only. out/files knows files, and model/legible text, and neither what is in
// them.
func TestImportsRunOneWay(t *testing.T) {
	lines := []string{"model", "model/legible", "sim", "sim/estimate", "sim/match", "sim/metric", "sim/plan", "sim/replicate", "sim/savings", "sim/whatif"} // results and how they came about
	logs := []string{"scenarios/records", "scenarios/fit", "scenarios/learn"}                                                                               // what a stop log says
	shown := slices.Concat(lines, logs, []string{"model/finance", "out/words"})
	allowed := map[string][]string{
		"model":                           {"model/legible"},
		"model/finance":                   {},
		"model/legible":                   {},
		"model/portable":                  {}, // for whoever calculates, as package math
		"scenarios":                       {"model", "model/legible", "scenarios/cells", "scenarios/orders", "scenarios/written"},
		"scenarios/cells":                 {},
		"scenarios/sheets":                {"scenarios/cells"},
		"scenarios/written":               {"model/legible", "scenarios/cells"},
		"scenarios/orders":                {"model/legible", "scenarios/cells", "scenarios/written"},
		"scenarios/records":               {"model/legible", "scenarios/cells", "scenarios/written"},
		"scenarios/records/invented":      {}, // for tests only
		"scenarios/fit":                   {"model"},
		"scenarios/observed":              {"model", "scenarios/fit"},
		"scenarios/learn":                 {"model", "model/legible", "scenarios", "scenarios/fit", "scenarios/records", "scenarios/written"},
		"scenarios/random":                {"model", "scenarios"},
		"sim":                             {"model", "sim/estimate", "sim/metric"},
		"sim/plan":                        {"model", "sim", "sim/estimate", "sim/metric", "sim/replicate"},
		"sim/effort":                      {},
		"sim/estimate":                    {},
		"sim/invented":                    {"model"}, // for tests only
		"sim/kept":                        {},
		"sim/match":                       {"model", "sim", "sim/metric", "sim/replicate"},
		"sim/metric":                      {},
		"sim/parts":                       {"model/legible", "sim/replicate"},
		"sim/replicate":                   {"model", "sim", "sim/estimate", "sim/metric"},
		"sim/savings":                     {"model", "model/finance", "sim", "sim/estimate", "sim/metric", "sim/replicate"},
		"sim/whatif":                      {"model", "model/legible", "scenarios", "scenarios/fit", "sim", "sim/estimate", "sim/metric", "sim/replicate", "sim/savings"},
		"docs/examples":                   {},
		"cmd/browser":                     slices.Concat(shown, []string{"scenarios"}),
		"out/words":                       slices.Concat(lines, logs, []string{"model/finance"}),
		"out/table":                       shown,
		"out/machine":                     shown,
		"out/picture":                     shown,
		"out/workbook":                    shown,
		"out/report":                      slices.Concat(shown, []string{"out/picture", "scenarios"}),
		"out/files":                       {"model/legible"},
		"out/live":                        {"out/picture", "out/words"},
		"out/live/lzma":                   {},
		"out/live/make":                   {"out/live/lzma", "out/live/source"},
		"out/live/source":                 {},
		"out/invented":                    {"model", "out/files", "sim", "sim/estimate", "sim/plan", "sim/replicate", "sim/savings", "sim/whatif"}, // for tests only
		"out/invented/chromium":           {"sim/effort"},                                                                                          // for tests only
		"cmd/rollchange/testdata/answers": {"out/machine", "out/words", "scenarios", "sim/replicate", "sim/savings"},                               // for a test
		"cmd/archives":                    {"model/legible", "out/files", "out/live"},
		"cmd/rollchange": {"model", "model/legible", "scenarios", "scenarios/cells", "scenarios/fit", "scenarios/learn", "scenarios/observed", "scenarios/records", "scenarios/sheets", "sim", "sim/estimate", "sim/kept", "sim/match", "sim/metric", "sim/parts", "sim/plan", "sim/replicate", "sim/savings", "sim/whatif",
			"out/words", "out/table", "out/machine", "out/picture", "out/workbook", "out/files", "out/live", "out/report"},
	}
	eachFile(t, func(path string, lines int) {
		folder := filepath.ToSlash(filepath.Dir(path))
		f, err := parser.ParseFile(token.NewFileSet(), "../../"+path, nil, parser.ImportsOnly)
		require.NoError(t, err)
		rule, known := allowed[folder]
		if !assert.True(t, known, "%s: a folder without an import rule", path) || strings.HasSuffix(path, "_test.go") {
			return
		}
		for _, i := range f.Imports {
			name := strings.Trim(i.Path.Value, `"`)
			for library, only := range alone {
				if name == library || strings.HasPrefix(name, library+"/") {
					assert.Contains(t, only, folder, "%s imports %s: what needs it stands in %v alone", path, name, only)
				}
			}
			if own, ok := strings.CutPrefix(name, "rollchange/"); ok {
				assert.Contains(t, append(rule, "model/portable"), own, "%s imports %s", path, name)
			} else if strings.HasPrefix(folder, "model") {
				assert.NotContains(t, name, ".", "%s imports %s: the model needs the standard library only", path, name)
			}
		}
	})
}

// alone are the libraries that one room needs, so that what is small stays so
// without it.
var alone = map[string][]string{
	"gonum.org/v1/plot":           {"out/picture"},
	"github.com/xuri/excelize/v2": {"out/workbook", "scenarios/sheets"}, // the one reader of sheets, which no browser needs
	"gonum.org/v1/gonum":          {},                                   // for tests only: its figures hang on the processor
	"crypto":                      {"cmd/archives", "cmd/rollchange", "sim/kept", "sim/parts", "out/files", "out/live", "out/live/source"},
	"regexp":                      {"scenarios", "scenarios/random", "out/files", "out/workbook", "out/picture"}, // scenarios quotes with it and matches nothing
}

// The name of a metric stands in its table; elsewhere it is a constant, so that a
// misspelt one does not build.
func TestNameOfAMetricStandsOnce(t *testing.T) {
	if testing.Short() {
		t.Skip("long")
	}
	seen, holds := 0, sim.CausesOfStops(&model.Line{Orders: &model.Orders{}})
	eachFile(t, func(path string, lines int) {
		slash := filepath.ToSlash(path)
		if strings.HasSuffix(path, "_test.go") || strings.HasPrefix(slash, "sim/metric/") || strings.HasPrefix(slash, "out/invented/") {
			return
		}
		f, err := parser.ParseFile(token.NewFileSet(), "../../"+path, nil, 0)
		require.NoError(t, err)
		ast.Inspect(f, func(n ast.Node) bool {
			if x, ok := n.(*ast.BasicLit); ok && x.Kind == token.STRING {
				seen++
				text, _ := strconv.Unquote(x.Value)
				_, is := metric.Of(text)
				is = is || slices.Contains(holds, text)
				assert.False(t, is && strings.ContainsAny(text, "._"), "%s says %s: package metric has a constant for it", path, x.Value)
			}
			return true
		})
	})
	assert.Greater(t, seen, 2000)
}

// What a person reads stands in out/words: the rooms that lay results out, and
// the savings that they are of, hold no text of two words or more but in errors,
// which are for the command line.
func TestWordsStandInOutWords(t *testing.T) {
	rooms := []string{"out/table", "out/picture", "out/workbook", "sim/savings"}
	allowed := map[string]int{} // how often each is there
	for _, text := range noWords {
		allowed[text] = 0
	}
	seen := 0
	eachFile(t, func(path string, _ int) {
		if !slices.Contains(rooms, filepath.ToSlash(filepath.Dir(path))) || strings.HasSuffix(path, "_test.go") {
			return
		}
		f, err := parser.ParseFile(token.NewFileSet(), "../../"+path, nil, 0)
		require.NoError(t, err)
		ast.Inspect(f, func(n ast.Node) bool {
			switch x := n.(type) {
			case *ast.CallExpr: // an error that is made
				if call, ok := x.Fun.(*ast.SelectorExpr); ok && (call.Sel.Name == "Errorf" || call.Sel.Name == "New") {
					return false
				}
			case *ast.FuncDecl: // the text of one
				return x.Name.Name != "Error"
			case *ast.BasicLit:
				if x.Kind != token.STRING {
					return true
				}
				seen++
				text, _ := strconv.Unquote(x.Value)
				if _, ok := allowed[text]; ok {
					allowed[text]++
				} else {
					assert.False(t, saysWords(text), "%s says %s: it belongs into out/words", path, x.Value)
				}
			}
			return true
		})
	})
	assert.Greater(t, seen, 500)
	for text, n := range allowed {
		assert.NotZero(t, n, "%q is allowed and nowhere", text)
	}
	for text, want := range map[string]bool{"low – high": true, "net, %s of it": true, "%s, now %s": false, "economics.price": false, "head-figures": false, "%d of %d": false, "a b": false, "SUM(%s)*IF(x>0,good,1)": false} {
		assert.Equal(t, want, saysWords(text), text)
	}
}

// noWords are texts that look like words and are none that a person reads.
var noWords = []string{
	`style="font-family:Liberation Sans;`, `style="font-family:Liberation Sans,Arial,Helvetica,sans-serif;`,
	`width="[^"]*pt" height="[^"]*pt"`, `width="%.5gpt" height="%.5gpt"`, `<(?:Override|Default) [^>]*>(?:</(?:Override|Default)>)?`,
	"yyyy-mm-dd hh:mm", // the format of a date in a cell
	// the names of streams of random numbers
	"good web of the first", "waste of the first", "splices of the first", "good web of the alternative", "waste of the alternative", "splices of the alternative",
}

// saysWords says whether a text has two words or more: letters between spaces,
// verbs of a format apart.
func saysWords(text string) bool {
	n := 0
	for _, field := range strings.Fields(text) {
		letters, most, verb := 0, 0, false
		for _, r := range field {
			switch {
			case r == '%':
				verb, letters = !verb, 0
			case verb:
				verb = !unicode.IsLetter(r)
			case unicode.IsLetter(r):
				letters++
				most = max(most, letters)
			default:
				letters = 0
			}
		}
		if most > 1 {
			n++
		}
	}
	return n > 1
}

// One rule for size: a file says one thing, in 400 lines at most.
func TestNoFileIsLongerThan400Lines(t *testing.T) {
	eachFile(t, func(path string, lines int) { assert.LessOrEqual(t, lines, 400, path) })
}

func eachFile(t *testing.T, check func(path string, lines int)) {
	t.Helper()
	n := 0
	require.NoError(t, filepath.WalkDir("../..", func(path string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() || filepath.Ext(path) != ".go" {
			return err
		}
		text, err := os.ReadFile(path)
		if err != nil {
			return err
		}
		rel, _ := filepath.Rel("../..", path)
		check(rel, strings.Count(string(text), "\n"))
		n++
		return nil
	}))
	assert.Greater(t, n, 40)
}
