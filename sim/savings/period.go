package savings

// Period is what a year saves before tax if it went as one period did, whose good
// web, waste and splices are first (of the first alternative) and other, in the
// order of replicate.JointMetrics; prices at their means.
func (c *Case) Period(first, other [3]float64) float64 {
	v := c.mean
	for k := range first {
		v[int(good0)+k], v[int(good1)+k] = first[k], other[k]
	}
	a := c.account(&v)
	return a.total()
}
