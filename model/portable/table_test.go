package portable

import (
	"flag"
	"fmt"
	"go/format"
	"math"
	"math/big"
	"os"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

var update = flag.Bool("update", false, "write table.go anew")

// cut is x to so many bits after the point, and rest is what that took.
func cut(x *big.Float, bits int) (float64, float64) {
	y := num(0).SetMantExp(x, bits)
	whole, _ := y.Add(y, num(math.Copysign(0.5, float64(y.Sign())))).Int(nil)
	f, exact := num(0).SetMantExp(num(0).SetInt(whole), -bits).Float64()
	if exact != big.Exact {
		panic("does not fit")
	}
	rest, _ := sub(x, num(f)).Float64()
	return f, rest
}

func nearestTo(x *big.Float) float64 { f, _ := x.Float64(); return f }

func tables() string {
	var s strings.Builder
	say := func(format string, args ...any) { fmt.Fprintf(&s, format, args...) }
	say("package portable\n\n// Written by the test of this package with -update.\n\n")
	ln2, ln2Lo := cut(bigLn2, 42)
	stepHi, _ := cut(bigLn2, 41-7)
	stepHi /= cells
	log10e := div(num(1), bigLog(num(10)))
	say("const (\nln2Hi = %x // so that a whole multiple up to 2048 is exact\nln2Lo = %x\n", ln2, ln2Lo)
	say("perStep = %x // 128 / log 2\nstepHi = %x // log 2 / 128, so that a multiple up to 2^18 is exact\nstepLo = %x\n", nearestTo(div(num(cells), bigLn2)), stepHi, nearestTo(sub(div(bigLn2, num(cells)), num(stepHi))))
	say("log10e = %x\nlog10eRest = %x\n)\n\n", nearestTo(log10e), nearestTo(sub(log10e, num(nearestTo(log10e)))))

	say("// logCell is c, 16 bits, and -log c: 42 bits after the point, and the rest.\ntype logCell struct{ c, hi, lo float64 }\n\nvar logTable = [cells]logCell{\n")
	for i := range uint64(cells) {
		from, to := math.Float64frombits(lowest+i<<45), math.Float64frombits(lowest+(i+1)<<45)
		c, _ := cut(div(num(2), num(from+to)), 15)
		hi, lo := cut(mul(num(-1), bigLog(num(c))), 42)
		if from == 1 || to == 1 {
			c, hi, lo = 1, 0, 0
		}
		say("{%x, %x, %x},\n", c, hi, lo)
	}
	say("}\n\n// expRow is 2^(i/128): its bits, and what rounding took of it, as a share.\ntype expRow struct {\nbits uint64\ntail float64\n}\n\nvar expTable = [cells]expRow{\n")
	for i := range cells {
		y := bigExp(mul(div(num(float64(i)), num(cells)), bigLn2))
		near := nearestTo(y)
		say("{%#x, %x},\n", math.Float64bits(near), nearestTo(div(sub(y, num(near)), num(near))))
	}
	const terms = 27
	say("}\n\n// lgammaTable is the series of the logarithm of the gamma function about 2, by s, from\n// its last term: (-1)^k (zeta(k) - 1) / k, and 1 less Euler's constant.\nvar lgammaTable = [%d]float64{\n", terms)
	for k := terms; k > 1; k-- {
		c := div(sub(bigZeta(k), num(1)), num(float64(k)))
		if k%2 == 1 {
			c = mul(num(-1), c)
		}
		say("%x,\n", nearestTo(c))
	}
	// Euler's constant is the limit of the logarithm of the gamma function beside 1.
	say("%x,\n}\n", nearestTo(add(num(1), oneEuler())))
	return s.String()
}

// oneEuler is Euler's constant, negative: the slope of the logarithm of the gamma
// function at 1, from its values on both sides.
func oneEuler() *big.Float {
	h := num(0x1p-60)
	x := div(sub(bigLgamma(add(num(1), h)), bigLgamma(sub(num(1), h))), mul(num(2), h))
	return x
}

// The tables are those of numbers of 300 bits.
func TestTables(t *testing.T) {
	text, err := format.Source([]byte(tables()))
	require.NoError(t, err)
	if *update {
		require.NoError(t, os.WriteFile("table.go", text, 0o644))
	}
	is, err := os.ReadFile("table.go")
	require.NoError(t, err)
	assert.Equal(t, string(text), string(is), "go test ./model/portable -update writes it")
	// The value of Euler's constant: Abramowitz and Stegun, table 1.1.
	assert.InDelta(t, -0.57721566490153286061, nearestTo(oneEuler()), 1e-16)
	assert.InDelta(t, 1.2020569031595942854, nearestTo(bigZeta(3)), 3e-16) // table 23.3
}
