package savings

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"rollchange/model"
	"rollchange/sim/estimate"
	"rollchange/sim/replicate"
)

// threeWays is the study with a second alternative of so much good web, m/s; sd
// is that of the good web of both alternatives between replications.
func threeWays(good, sd float64) (*model.Study, *replicate.Results) {
	study, rs := studyOf()
	a := study.Alternatives[1]
	a.Name = "other"
	study.Alternatives = append(study.Alternatives, a)
	m, d := replicate.Metrics{}, replicate.Metrics{}
	for k, e := range rs.Alternatives[1].Metrics {
		m[k], d[k] = e, rs.Differences[1][k]
	}
	set := func(m replicate.Metrics, mean float64) {
		e := m["good_rate"]
		e.Mean, e.SD = mean, sd
		m["good_rate"] = e
	}
	set(m, good)
	set(d, good-2)
	set(rs.Alternatives[1].Metrics, 3)
	set(rs.Differences[1], 1)
	rs.Alternatives = append(rs.Alternatives, replicate.Result{Alternative: "other", Metrics: m})
	rs.Differences = append(rs.Differences, d)
	return study, rs
}

func ranked(t *testing.T, study *model.Study, rs *replicate.Results) (Ranking, []*Case) {
	t.Helper()
	opt := Options{Draws: 1000}
	cases := make([]*Case, len(study.Alternatives))
	for i := 1; i < len(cases); i++ {
		c, err := New(study, rs, i, opt)
		require.NoError(t, err)
		cases[i] = c
	}
	return Rank(study, rs, cases, opt), cases
}

func TestRankingNeedsMoreThanNoise(t *testing.T) {
	study, rs := threeWays(3.5, 0.01)
	r, _ := ranked(t, study, rs)
	assert.Equal(t, 2, r.Best)
	assert.Equal(t, []int{1}, r.Behind)
	assert.Empty(t, r.Rivals)
	assert.True(t, r.Gains)
	assert.False(t, r.Losses)
	assert.Greater(t, r.Lead.Low, 0.)

	study, rs = threeWays(3.001, 0.05)
	r, cases := ranked(t, study, rs)
	assert.Greater(t, cases[2].Random.NPV.Mean, cases[1].Random.NPV.Mean)
	assert.Equal(t, []int{1}, r.Rivals, "0.001 of 3 m/s is within the noise")
	assert.Empty(t, r.Behind)
}

// What both hang on cancels: with a price that nobody knows the two values
// overlap by far, and the better one is better at every price.
func TestRankingIsPaired(t *testing.T) {
	study, rs := threeWays(3.2, 0.01)
	economics(func(e *model.Economics) { e.Price = model.Dist{Law: model.Uniform, A: 0.05, B: 0.5} })(study, rs)
	r, cases := ranked(t, study, rs)
	assert.Less(t, cases[2].Random.NPV.Low, cases[1].Random.NPV.High)
	assert.Equal(t, []int{1}, r.Behind)
}

// The draws of the joint covariance: two alternatives that move as one are told
// apart although each is noisy.
func TestRankingUsesWhatMovesTogether(t *testing.T) {
	study, rs := threeWays(3.05, 0.5)
	n := len(replicate.JointMetrics)
	j := &replicate.Joint{N: 20, Cov: make([][]float64, 3*n)}
	for a := range j.Cov {
		j.Cov[a] = make([]float64, 3*n)
	}
	j.Cov[n][n], j.Cov[2*n][2*n], j.Cov[n][2*n], j.Cov[2*n][n] = 0.25, 0.25, 0.2499, 0.2499
	rs.Joint = j
	r, _ := ranked(t, study, rs)
	assert.Equal(t, []int{1}, r.Behind)
	j.Cov[n][2*n], j.Cov[2*n][n] = 0, 0
	r, _ = ranked(t, study, rs)
	assert.Equal(t, []int{1}, r.Rivals)
}

func TestRankingOfLossesAndOfOneReplication(t *testing.T) {
	study, rs := threeWays(3.5, 0.01)
	for i := range study.Alternatives[1:] {
		study.Alternatives[i+1].Investment = model.Const(2e7)
	}
	r, _ := ranked(t, study, rs)
	assert.True(t, r.Losses)
	assert.False(t, r.Gains)
	study, rs = threeWays(3.5, 0.01)
	rs.Run.Replications = 1
	r, _ = ranked(t, study, rs)
	assert.True(t, r.Once)
	assert.False(t, r.Gains)
	assert.Equal(t, []int{1}, r.Rivals, "one replication shows nothing")
	assert.Equal(t, 0, Rank(study, rs, make([]*Case, 3), Options{}).Best)
}

// Nothing is shown of a difference that few events carry, unless it is so many standard
// errors from 0 that they cannot turn it: one replication out of the ordinary does not
// hide a fortune.
func TestRankingOfWhatFewEventsCarry(t *testing.T) {
	few := func(sd float64) Ranking {
		study, rs := threeWays(3.5, sd)
		d := rs.Differences[2]["good_rate"]
		d.Why, d.Low, d.High, d.HalfWidth = estimate.TooFew, math.NaN(), math.NaN(), math.NaN()
		rs.Differences[2]["good_rate"] = d
		r, _ := ranked(t, study, rs)
		return r
	}
	r := few(1)
	assert.Equal(t, 2, r.Best)
	assert.False(t, r.Gains)
	assert.Equal(t, []int{1}, r.Rivals)
	r = few(0.001)
	assert.True(t, r.Gains)
	assert.Equal(t, []int{1}, r.Behind)
}

// An alternative with prices of its own is not held against the best.
func TestRankingLeavesOutWhatIsNotAlike(t *testing.T) {
	study, rs := threeWays(3.5, 0.01)
	_, cases := ranked(t, study, rs)
	study.Alternatives[1].Line.Economics.Price = model.Const(1)
	assert.Equal(t, []int{1}, Rank(study, rs, cases, Options{Draws: 100}).Unlike)
}
