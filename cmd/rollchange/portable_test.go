package main

import (
	"go/ast"
	"go/parser"
	"go/token"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// exact are the functions of package math that give the same on every processor: what
// moves bits or is rounded correctly.
var exact = []string{"Abs", "Ceil", "Copysign", "FMA", "Float64bits", "Float64frombits", "Floor", "Frexp", "Inf", "IsInf", "IsNaN", "Ldexp", "Max", "Min", "Mod", "Modf", "NaN", "Nextafter", "Round", "RoundToEven", "Signbit", "Sqrt", "Trunc"}

var constants = []string{"MaxFloat64", "MaxInt", "MaxInt16", "MaxInt32", "MaxInt64", "MaxUint64", "MinInt64", "Pi", "SmallestNonzeroFloat64", "Sqrt2"}

// What a page comes to is what the command comes to: of package math, what calculates
// or says a figure uses these alone, and model/portable for all others. Pictures, the
// workbook and what tests invent are drawn here only.
func TestFiguresHangOnNoProcessor(t *testing.T) {
	if testing.Short() {
		t.Skip("long")
	}
	elsewhere := []string{"out/picture", "out/workbook", "out/invented", "scenarios/random", "scenarios/records/invented", "sim/kept"}
	looked := 0
	eachFile(t, func(path string, _ int) {
		folder := filepath.ToSlash(filepath.Dir(path))
		if strings.HasSuffix(path, "_test.go") || slices.Contains(elsewhere, folder) {
			return
		}
		f, err := parser.ParseFile(token.NewFileSet(), "../../"+path, nil, 0)
		require.NoError(t, err)
		ast.Inspect(f, func(n ast.Node) bool {
			call, is := n.(*ast.SelectorExpr)
			if !is {
				return true
			}
			if of, is := call.X.(*ast.Ident); is && of.Name == "math" && of.Obj == nil && ast.IsExported(call.Sel.Name) {
				looked++
				assert.True(t, slices.Contains(exact, call.Sel.Name) || slices.Contains(constants, call.Sel.Name), "%s: math.%s differs from processor to processor: model/portable", path, call.Sel.Name)
			}
			return true
		})
	})
	assert.Greater(t, looked, 300)
}
