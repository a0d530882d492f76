package fit

import (
	"bytes"
	"encoding/csv"
	"errors"
	"fmt"
	"math"
	"math/rand/v2"
	"os/exec"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"rollchange/model"
	"rollchange/sim/effort"
)

// reference fits data sets, a line each, and writes the log-likelihood of the Weibull,
// gamma and lognormal law and of the Weibull law with all above the median cut off there;
// then the values of the patties of the paper, which are not in this repository.
const reference = `if (!suppressMessages(require(fitdistrplus, quietly = TRUE) && require(survival, quietly = TRUE))) quit(status = 3)
for (line in readLines(file("stdin"))) {
  x <- as.numeric(strsplit(line, " ")[[1]])
  ll <- sapply(c("weibull", "gamma", "lnorm"), function(d) fitdist(x, d, control = list(reltol = 1e-13, maxit = 5000))$loglik)
  cut <- median(x)
  s <- survreg(Surv(pmin(x, cut), x <= cut) ~ 1, dist = "weibull", control = survreg.control(rel.tolerance = 1e-13))
  cat(sprintf("%.10f", c(ll, s$loglik[1])), sep = ","); cat("\n")
}
data(groundbeef); cat(groundbeef$serving, sep = ","); cat("\n")
`

// noPackages is the status that reference ends with where R has not both packages.
const noPackages = 3

// 50 random data sets have the likelihoods that fitdistrplus and survival, packages of R,
// find, and those of groundbeef the printed ones.
func TestLikelihoodsOfAnotherProgram(t *testing.T) {
	if !effort.Long() {
		t.Skip("starts another program; published_test.go has what others found")
	}
	r := rand.New(rand.NewPCG(50, 1))
	var sets [][]float64
	var text strings.Builder
	for i := range 50 {
		c := curveAt(families[1+i%3], point{3 * r.Float64(), r.Float64() - 0.5})
		var x []float64
		for range 21 + 2*r.IntN(40) {
			x = append(x, c.draw(r))
		}
		for k, v := range x {
			if k > 0 {
				text.WriteByte(' ')
			}
			text.WriteString(strconv.FormatFloat(v, 'g', 17, 64))
		}
		text.WriteByte('\n')
		sets = append(sets, x)
	}
	run := exec.Command("Rscript", "-e", reference)
	run.Stdin = strings.NewReader(text.String())
	out, err := run.Output()
	var ended *exec.ExitError
	if errors.Is(err, exec.ErrNotFound) || errors.As(err, &ended) && ended.ExitCode() == noPackages {
		t.Skip("R with fitdistrplus and survival is not installed: nothing to compare with")
	}
	require.NoError(t, err)
	read := csv.NewReader(bytes.NewReader(out))
	read.FieldsPerRecord = -1
	rows, err := read.ReadAll()
	require.NoError(t, err)
	require.Len(t, rows, 51)
	number := func(s string) float64 {
		x, err := strconv.ParseFloat(strings.TrimSpace(s), 64)
		require.NoError(t, err)
		return x
	}
	laws := []model.Law{model.Weibull, model.Gamma, model.Lognormal}
	for i, x := range sets {
		list, _ := spans(exact(x...), 0)
		s := newSample(list, 0, 0)
		for k, law := range laws {
			f, ok := s.fitted(law)
			require.True(t, ok)
			assert.InDelta(t, number(rows[i][k]), f.LogLik, 1e-5, "set %d %s", i, law)
			assert.GreaterOrEqual(t, f.LogLik, number(rows[i][k])-1e-8, "set %d %s: a greater likelihood was found", i, law)
		}
		cut := observedOf(exact(x...), 0).at(0.5)
		var values []Value
		for _, v := range x {
			values = append(values, Value{X: min(v, cut), Open: v > cut})
		}
		list, _ = spans(values, 0)
		f, ok := newSample(list, 0, 0).fitted(model.Weibull)
		require.True(t, ok)
		assert.InDelta(t, number(rows[i][3]), f.LogLik, 1e-5, "set %d cut off", i)
	}
	// Delignette-Muller and Dutang, J. Statist. Softw. 64(4) (2015): Weibull shape 2.186, scale
	// 83.348, log-likelihood -1255 printed; solved again to more digits.
	var beef []float64
	for _, s := range rows[50] {
		beef = append(beef, number(s))
	}
	require.Len(t, beef, 254)
	list, _ := spans(exact(beef...), 0)
	s := newSample(list, 0, 0)
	for law, want := range map[model.Law]float64{model.Weibull: -1255.22471986, model.Gamma: -1253.62511369, model.Lognormal: -1261.31929868} {
		f, ok := s.fitted(law)
		require.True(t, ok)
		assert.InDelta(t, want, f.LogLik, 1e-6, law)
		if law == model.Weibull {
			assert.Equal(t, "2.186", fmt.Sprintf("%.3f", f.Dist.A))
			assert.InEpsilon(t, 83.3466688316, f.Dist.B, 1e-6)
			assert.Less(t, math.Abs(f.Dist.B-83.348), 0.01)
		}
	}
}
