package sim

// sum is a running total that keeps what rounding cuts off, so that a year of
// web is right to the last digit (Kahan, Comm. ACM 8 (1965) 40). A line without
// chance rounds every cycle alike, and a plain total would drift.
type sum struct {
	value float64
	over  float64 // what value has too much
}

func (s *sum) add(x float64) {
	x -= s.over
	t := s.value + x
	s.over = (t - s.value) - x
	s.value = t
}
