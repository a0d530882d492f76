package whatif

import "rollchange/sim/replicate"

// Progress is how far a question has come, in replications of one line.
type Progress struct {
	Done int
	Most int // that there will be at most; falls where fewer turn out to be enough

	// Of a search: which value is simulated, 1 the first, and how many there will be at
	// most, 0 while that is not known. Done and Most are then those of the value.
	Value, Values int
}

// meter counts the replications of a question whose stages are known before it begins.
type meter struct {
	tell  func(Progress) // may be nil
	done  int
	stage stage
	left  [stages]int // of each stage, at most
}

// stage is a part of a question.
type stage int

const (
	baseStage stage = iota
	screenStage
	swingStage
	chanceStage
	totalStage
	stages
)

// begin says which stage begins, and how many replications it takes at most; those
// before it are over.
func (m *meter) begin(s stage, most int) {
	clear(m.left[:s])
	m.stage, m.left[s] = s, most
}

// options are those of a simulation that is counted.
func (m *meter) options(workers int) replicate.Options {
	return replicate.Options{Workers: workers, Progress: func(int, int) {
		m.done++
		m.left[m.stage] = max(0, m.left[m.stage]-1)
		if m.tell == nil {
			return
		}
		most := m.done
		for _, n := range m.left {
			most += n
		}
		m.tell(Progress{Done: m.done, Most: most})
	}}
}

// expect lays out the stages of a question about so many inputs, at most so many of
// which are simulated in full.
func (e *evaluation) expect(inputs, full, least int) {
	lines, each := len(e.s.Study.Alternatives), e.s.Study.Run.Replications
	left := &e.meter.left
	left[baseStage] = lines * each
	if full < inputs {
		left[screenStage] = lines * (1 + 2*inputs)
	} else if e.q.Most == 0 && each > first {
		full = min(full, followed*len(e.q.Metrics))
		left[screenStage] = 2 * lines * inputs
	}
	left[swingStage] = 2 * lines * each * full
	if e.q.Chance && each >= leastPeriods {
		n := max(least, each)
		if e.most > 0 {
			n = min(n, e.most)
		}
		left[chanceStage] = lines * (max(0, n-each) + n*len(e.sources()))
	}
	left[totalStage] = lines * min(each, totalReplications) * e.q.Total
}

// unsimulated is how many replications the ends that are to go on may still take.
func (e *evaluation) unsimulated(list []*tried, on func(t *tried, k int) bool) int {
	n := 0
	for _, t := range list {
		for k, m := range t.moved {
			if m != nil && on(t, k) {
				n += (e.base.run.Replications - m.done) * len(m.other.Alternatives)
			}
		}
	}
	return n
}
