package replicate

import "math"

// WithRecords are the results with limits that hold what the records leave open too:
// those that a person decides by. They are the results themselves where that was not
// looked for.
func (rs *Results) WithRecords() *Results {
	if rs == nil || rs.Open == nil {
		return rs
	}
	wide := *rs
	wide.Alternatives = append([]Result(nil), rs.Alternatives...)
	for i := range wide.Alternatives {
		wide.Alternatives[i].Metrics = withRecords(wide.Alternatives[i].Metrics)
	}
	wide.Differences = make([]Metrics, len(rs.Differences))
	for i, m := range rs.Differences {
		if m != nil {
			wide.Differences[i] = withRecords(m)
		}
	}
	if j := rs.Joint; j != nil && rs.Open.Joint != nil {
		k := *j
		k.Cov = make([][]float64, len(j.Cov))
		for a := range j.Cov {
			k.Cov[a] = make([]float64, len(j.Cov))
			for b := range j.Cov {
				k.Cov[a][b] = j.Cov[a][b] + float64(j.N)*rs.Open.Joint[a][b]
			}
		}
		wide.Joint = &k
	}
	return &wide
}

func withRecords(m Metrics) Metrics {
	wide := Metrics{}
	for name, e := range m {
		wide[name] = e.WithRecords()
	}
	return wide
}

// together is the covariance that the records leave of the JointMetrics of all
// alternatives: their correlation over the draws, with the variances that are left of
// them. nil where one of them is not known.
func (o *opening) together() [][]float64 {
	var means [][]float64
	var sds []float64
	for i := range o.lines {
		for _, name := range JointMetrics {
			for k, m := range o.lines[i].metrics {
				if m.Name == name {
					sd, x := o.left(i, k, -1)
					if len(x) != len(o.off) || math.IsNaN(sd) {
						return nil
					}
					means, sds = append(means, centred(x)), append(sds, sd)
				}
			}
		}
	}
	if len(means) != len(JointMetrics)*len(o.lines) {
		return nil
	}
	cov := make([][]float64, len(means))
	for a := range cov {
		cov[a] = make([]float64, len(means))
		for b := range cov[a] {
			if n := norm(means[a]) * norm(means[b]); n > 0 {
				cov[a][b] = dot(means[a], means[b]) / n * sds[a] * sds[b]
			}
		}
	}
	return cov
}
