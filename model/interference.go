package model

// InterferenceOf is the state of N machines that share c operators.
type InterferenceOf struct {
	Running float64 // share of the machines
	Waiting float64 // machines that wait for an operator, mean (Lq)
	Down    float64 // machines that do not run, mean (L)
	Calls   float64 // 1/s, of all machines
}

// Interference solves the machine interference model M/M/c//N: each running
// machine calls after an exponential time of rate lambda, an operator serves it
// in an exponential time of rate mu (1/s),
//
//	p(k)/p(k-1) = (N-k+1) lambda / (min(k, c) mu)
//
// (Palm 1947; Peck and Hazelwood, Finite Queuing Tables, 1958.)
func Interference(machines, operators int, lambda, mu float64) InterferenceOf {
	p := make([]float64, machines+1)
	p[0] = 1
	sum := 1.0
	for k := 1; k <= machines; k++ {
		p[k] = p[k-1] * float64(machines-k+1) * lambda / (float64(min(k, operators)) * mu)
		if sum += p[k]; sum > 1e200 { // only their ratios count
			for i := range k + 1 {
				p[i] /= sum
			}
			sum = 1
		}
	}
	var s InterferenceOf
	for k := range p {
		x := p[k] / sum
		s.Down += float64(k) * x
		s.Waiting += float64(max(0, k-operators)) * x
	}
	s.Running = 1 - s.Down/float64(machines)
	s.Calls = lambda * (float64(machines) - s.Down)
	return s
}
