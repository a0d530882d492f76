package main

import (
	"bytes"
	"context"
	"encoding/xml"
	"image/png"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"rollchange/out/report"
	"rollchange/scenarios"
	"rollchange/sim/effort"
)

var shortly = []string{"--replications", "3", "--horizon", "3 d"}

// A page has the same bytes whatever the workers, and the command that it names
// makes it again from the text that it holds.
func TestReportIsTheSameOnAnyNumberOfWorkers(t *testing.T) {
	if testing.Short() {
		t.Skip("long")
	}
	t.Chdir(t.TempDir())
	require.NoError(t, os.WriteFile("line.toml", []byte(template(t, "label_press")), 0o600))
	var pages [][]byte
	for _, workers := range []string{"1", "7", "2"}[:effort.Of(2, 2, 3)] {
		code, stdout, errs := call(t, "", append([]string{"report", "line.toml", "-o", "report.html", "--workers", workers, "--seed", "5", "--title", "Press 4: it's \"worth\" it?"}, shortly...)...)
		require.Equal(t, exitAnswered, code, errs)
		assert.Empty(t, stdout)
		data, err := os.ReadFile("report.html")
		require.NoError(t, err)
		pages = append(pages, data)
	}
	for _, page := range pages[1:] {
		assert.Equal(t, pages[0], page)
	}
	assert.Contains(t, string(pages[0]), `rollchange report line.toml -o report.html --horizon &#39;3 d&#39; --replications 3 --seed 5 --title &#39;Press 4: it&#39;\&#39;&#39;s &#34;worth&#34; it?&#39;`)
}

// Every shipped scenario has a page and all its pictures; the usual form looks at one.
func TestReportOfEveryShippedScenario(t *testing.T) {
	for _, x := range scenarios.Templates()[:effort.Of(0, 1, len(scenarios.Templates()))] {
		t.Run(x.Name, func(t *testing.T) {
			t.Chdir(t.TempDir())
			begin := effort.Processor(t)
			code, _, errs := callIn(together, string(x.Text), append([]string{"report", "-", "-o", "a.html", "--units", "imperial", "--plots", "p", "--xlsx", "a.xlsx"}, shortly...)...)
			require.Equal(t, exitAnswered, code, errs)
			info, err := os.Stat("a.html")
			require.NoError(t, err)
			assert.Less(t, info.Size(), int64(1<<20))
			book, err := os.ReadFile("a.xlsx")
			require.NoError(t, err)
			assert.Equal(t, "PK", string(book[:2]))
			if !effort.Race {
				assert.Less(t, effort.Processor(t)-begin, time.Minute)
			}
			drawn, err := filepath.Glob("p/*.svg")
			require.NoError(t, err)
			assert.GreaterOrEqual(t, len(drawn), len(report.Kinds())-3, "a line without storage, recorded period or list of orders has no picture of it")
		})
	}
}

// What is wrong with the flags is said before any simulation, and no file is
// touched or left behind.
func TestReportSaysWhatIsWrong(t *testing.T) {
	t.Chdir(t.TempDir())
	require.NoError(t, os.WriteFile("line.toml", []byte(template(t, "label_press")), 0o600))
	require.NoError(t, os.WriteFile("logo.gif", []byte("GIF89a"), 0o600))
	require.NoError(t, os.WriteFile("old.html", []byte("as it was"), 0o600))
	for _, x := range []struct {
		args []string
		says string
	}{
		{[]string{"report", "line.toml"}, "name the page: -o NAME.html"},
		{[]string{"report", "line.toml", "-o", "a.pdf"}, "ends in .html"},
		{[]string{"report", "line.toml", "-o", "old.html", "--lang", "xx"}, `no page in "xx"; choose en`},
		{[]string{"report", "line.toml", "-o", "old.html", "--logo", "logo.gif"}, "not a PNG, JPEG or SVG"},
		{[]string{"report", "line.toml", "-o", "old.html", "--logo", "none.png"}, "cannot be read"},
		{[]string{"report", "line.toml", "-o", "old.html", "--xlsx", "a.ods"}, "must end in .xlsx"},
		{[]string{"report", "line.toml", "-o", "no/such/a.html"}, "cannot be written"},
		{[]string{"report", "line.toml", "-o", "old.html", "--alternative", "nobody"}, `no alternative "nobody"`},
		{[]string{"report", "none.toml", "-o", "old.html"}, "no such file"},
		{[]string{"report", "-o", "old.html"}, "one scenario file"},
		{[]string{"plot", "hours"}, "a kind of picture and one scenario file"},
		{[]string{"plot", "pie", "line.toml", "-o", "a.svg"}, `no picture "pie"; choose from hours`},
		{[]string{"plot", "hours", "line.toml"}, "name the picture"},
		{[]string{"plot", "hours", "line.toml", "-o", "a.gif"}, ".svg, .png or .pdf"},
		{[]string{"plot", "hours", "line.toml", "-o", "a.svg", "--width", "wide"}, "--width"},
		{[]string{"plot", "hours", "line.toml", "-o", "a.svg", "--height", "9 km"}, "--height"},
	} {
		code, stdout, errs := call(t, "", x.args...)
		assert.Equal(t, exitBad, code, "%v", x.args)
		assert.Empty(t, stdout)
		assert.Contains(t, errs, x.says, "%v", x.args)
	}
	old, err := os.ReadFile("old.html")
	require.NoError(t, err)
	assert.Equal(t, "as it was", string(old))
	left, err := os.ReadDir(".")
	require.NoError(t, err)
	assert.Len(t, left, 3, "nothing is left behind")
}

// An interrupted report leaves what stood there.
func TestInterruptedReportLeavesNothing(t *testing.T) {
	t.Chdir(t.TempDir())
	require.NoError(t, os.WriteFile("old.html", []byte("as it was"), 0o600))
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	var o, e bytes.Buffer
	code := execute(ctx, []string{"report", "-", "-o", "old.html"}, strings.NewReader(template(t, "laminator")), &o, &e)
	assert.Equal(t, exitInterrupted, code)
	old, _ := os.ReadFile("old.html")
	assert.Equal(t, "as it was", string(old))
	left, _ := os.ReadDir(".")
	assert.Len(t, left, 1)
}

// Each kind of picture alone, in each format, at the size that was asked for.
func TestPlotOfEveryKind(t *testing.T) {
	effort.NotInRace(t)
	t.Chdir(t.TempDir())
	text := template(t, "label_press_learned")
	for i, k := range effort.Some(report.Kinds(), 1) {
		text := text
		if k.Name == "plan" {
			text = template(t, "label_week")
		}
		format := []string{"svg", "png", "pdf"}[i%3]
		args := append([]string{"plot", k.Name, "-", "-o", "a." + format, "--width", "4 in"}, shortly...)
		if (i > 0 || testing.Short()) && k.Name != "plan" {
			args = append(args, "--alternative", "automatic unwind") // which is found by its worth else
		}
		code, _, errs := callIn(together, text, args...)
		require.Equal(t, exitAnswered, code, "%s: %s", k.Name, errs)
		data, err := os.ReadFile("a." + format)
		require.NoError(t, err)
		switch format {
		case "svg":
			assert.Contains(t, string(data[:200]), `width="288pt"`, k.Name)
			assert.NoError(t, xml.Unmarshal(data, new(struct{})), k.Name)
		case "png":
			size, err := png.DecodeConfig(bytes.NewReader(data))
			require.NoError(t, err)
			assert.InDelta(t, 4*96, size.Width, 1, k.Name)
		case "pdf":
			assert.Equal(t, "%PDF-", string(data[:5]), k.Name)
		}
	}
	code, _, errs := call(t, template(t, "slitter"), append([]string{"plot", "storage", "-", "-o", "b.svg"}, shortly...)...)
	assert.Equal(t, exitBad, code)
	assert.Contains(t, errs, "no alternative uses a storage")
	code, _, errs = call(t, template(t, "slitter"), append([]string{"plot", "plan", "-", "-o", "b.svg"}, shortly...)...)
	assert.Equal(t, exitBad, code)
	assert.Contains(t, errs, "the scenario has no list of orders")
	_, err := os.Stat("b.svg")
	assert.Error(t, err)
}
