package invented

import (
	"math"

	"rollchange/model"
	"rollchange/sim/replicate"
)

// Recorded are results of which the records leave a share of every figure open: four
// fifths of the variance by 60 changeovers, a tenth by 37 repairs.
func Recorded(rs *replicate.Results, share float64) {
	n, k := len(rs.Alternatives), len(replicate.JointMetrics)
	rs.Open = &replicate.Open{Draws: 30, Records: []model.Record{{Key: "jobs.changeover", Observed: 60}, {Key: "stop[plate cleaning].repair", Observed: 37}, {Key: "web_breaks.scrap", Observed: 9}}}
	rs.Open.Joint = make([][]float64, k*n)
	if rs.Joint == nil {
		rs.Joint = &replicate.Joint{N: rs.Run.Replications, Cov: make([][]float64, k*n)}
		for a := range rs.Joint.Cov {
			rs.Joint.Cov[a] = make([]float64, k*n)
			sd := rs.Alternatives[a/k].Metrics[replicate.JointMetrics[a%k]].SD
			rs.Joint.Cov[a][a] = sd * sd
		}
	}
	for i := range rs.Alternatives {
		for _, m := range []replicate.Metrics{rs.Alternatives[i].Metrics, rs.Differences[i]} {
			for name, e := range m {
				e.Left = share * math.Abs(e.Mean)
				m[name] = e
			}
		}
		of := replicate.OpenOf{SD: share / 2 * rs.Alternatives[i].Metrics["good_rate"].Mean, Parts: []float64{0.8, 0.1, 0.01}}
		rs.Open.Good, rs.Open.Against = append(rs.Open.Good, of), append(rs.Open.Against, of)
		for j, name := range replicate.JointMetrics {
			rs.Open.Joint[k*i+j] = make([]float64, k*n)
			sd := share / 2 * rs.Alternatives[i].Metrics[name].Mean
			rs.Open.Joint[k*i+j][k*i+j] = sd * sd
		}
	}
}
