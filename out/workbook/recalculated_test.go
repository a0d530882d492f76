package workbook

import (
	"archive/zip"
	"bytes"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"github.com/xuri/excelize/v2"

	"rollchange/model"
	"rollchange/out/invented"
	"rollchange/sim/effort"
	"rollchange/sim/replicate"
)

var heldValue = regexp.MustCompile(`(<c [^>]*><f>[^<]*</f>)<v>[^<]*</v>`)

// unheld takes the values out of the formula cells, so that whoever opens the
// workbook has to calculate them.
func unheld(t *testing.T, data []byte) []byte {
	t.Helper()
	in, err := zip.NewReader(bytes.NewReader(data), int64(len(data)))
	require.NoError(t, err)
	var b bytes.Buffer
	z := zip.NewWriter(&b)
	for _, f := range in.File {
		r, err := f.Open()
		require.NoError(t, err)
		part, err := io.ReadAll(r)
		require.NoError(t, err)
		if strings.HasPrefix(f.Name, "xl/worksheets/sheet") {
			part = heldValue.ReplaceAll(part, []byte("$1"))
		}
		w, err := z.Create(f.Name)
		require.NoError(t, err)
		_, err = w.Write(part)
		require.NoError(t, err)
	}
	require.NoError(t, z.Close())
	return b.Bytes()
}

// recalculate lets LibreOffice calculate workbooks anew.
func recalculate(t *testing.T, books map[string][]byte) map[string]*excelize.File {
	t.Helper()
	office, err := exec.LookPath("soffice")
	if err != nil {
		if os.Getenv("ROLLCHANGE_FULL") == "1" {
			t.Fatal("soffice is not installed, and ROLLCHANGE_FULL=1 asks for it: apt-get install libreoffice-calc-nogui")
		}
		t.Skip("soffice is not installed: the workbook is not recalculated (apt-get install libreoffice-calc-nogui)")
	}
	dir := t.TempDir()
	args := []string{"--headless", "-env:UserInstallation=file://" + filepath.Join(dir, "profile"), "--convert-to", "xlsx:Calc MS Excel 2007 XML", "--outdir", filepath.Join(dir, "out")}
	for name, data := range books {
		path := filepath.Join(dir, strings.ReplaceAll(name, " ", "_")+".xlsx")
		require.NoError(t, os.WriteFile(path, unheld(t, data), 0o644))
		args = append(args, path)
	}
	text, err := exec.Command(office, args...).CombinedOutput()
	require.NoError(t, err, string(text))
	files := map[string]*excelize.File{}
	for name := range books {
		f, err := excelize.OpenFile(filepath.Join(dir, "out", strings.ReplaceAll(name, " ", "_")+".xlsx"))
		require.NoError(t, err, string(text))
		t.Cleanup(func() { f.Close() })
		files[name] = f
	}
	return files
}

// The workbook, recalculated by LibreOffice, equals the JSON to 1e-9; and with another price,
// life and investment typed into it, or with every input typed anew, it equals the JSON of
// that scenario. In the long form alone: in the others the formulas are calculated by the
// library that writes them (TestWorkbookFormulasCalculateTheSame).
func TestWorkbookRecalculated(t *testing.T) {
	if !effort.Long() {
		t.Skip("seconds of another program: " + effort.Variable + "=1")
	}
	books, want := map[string][]byte{}, map[string]map[string]*float64{}
	for what, c := range cases(t) {
		books[what], want[what] = c.data, c.want
	}
	c, rs := invented.Case(t, invented.Cases()["between"])
	f := open(t, workbookOf(t, c, rs))
	for name, x := range map[string]float64{"price": 0.4, "life_years": 6, "alternative_investment": 300000, "demand": 26e3} {
		sheet, cell := cellOf(t, f, name)
		require.NoError(t, f.SetCellFloat(sheet, cell, x, -1, 64))
	}
	var b bytes.Buffer
	require.NoError(t, f.Write(&b))
	books["typed"] = b.Bytes()
	c, _ = invented.Case(t, func(s *model.Study, rs *replicate.Results) {
		invented.Prices(func(e *model.Economics) {
			e.Demand, e.Price, e.Life = model.Const(26e6), model.Const(0.4), model.Const(6)
		})(s, rs)
		s.Alternatives[1].Investment = model.Const(300000)
	})
	want["typed"] = figures(t, c, model.Metric)
	edits := edits(t)
	for what, e := range edits {
		books[what], want[what] = e.data, e.want
	}
	for what, f := range recalculate(t, books) { // all at once: the program takes seconds to start
		agree(t, what, f, want[what])
		if _, has := edits[what]; !has {
			continue
		}
		n, err := strconv.ParseFloat(named(t, f, "inputs_differ"), 64)
		require.NoError(t, err)
		assert.Greater(t, n, 40., "%s: inputs differ from those of the run", what)
	}
}
