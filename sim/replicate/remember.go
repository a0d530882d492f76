package replicate

import (
	"context"
	"fmt"
	"strings"
	"sync"

	"rollchange/model"
	"rollchange/sim"
)

// Memory keeps what replications came to, so that one that is asked for again, of
// the same line under the same chance, is not simulated again: questions of one
// scenario all begin at the same line. It changes no result. A Memory may be used
// from many goroutines.
type Memory struct {
	most int
	lock sync.Mutex
	kept map[occasion]*sim.Sample

	weights map[occasion]*sim.Weights
}

// NewMemory keeps at most so many replications, the first that come; one takes
// some kilobytes.
func NewMemory(most int) *Memory {
	return &Memory{most: most, kept: map[occasion]*sim.Sample{}, weights: map[occasion]*sim.Weights{}}
}

type memoryKey struct{}

// WithMemory returns a context whose simulations remember. Those that are watched
// do not.
func WithMemory(ctx context.Context, m *Memory) context.Context {
	return context.WithValue(ctx, memoryKey{}, m)
}

// Remembering returns a context whose simulations remember: ctx itself where they do,
// else with a new memory of so many replications.
func Remembering(ctx context.Context, most int) context.Context {
	if _, ok := ctx.Value(memoryKey{}).(*Memory); ok {
		return ctx
	}
	return WithMemory(ctx, NewMemory(most))
}

// occasion is all that a replication depends on.
type occasion struct {
	line string // its fingerprint
	sim.Replication
}

// remembered is the memory of a context and the fingerprints of the lines of a
// study; nil without a memory.
func remembered(ctx context.Context, study *model.Study) (*Memory, []string) {
	m, ok := ctx.Value(memoryKey{}).(*Memory)
	if !ok {
		return nil, nil
	}
	prints := make([]string, len(study.Alternatives))
	for i := range prints {
		prints[i] = fingerprint(study.Alternatives[i].Line)
	}
	return m, prints
}

// fingerprint is the same for lines that are simulated alike: all of a line but
// what things cost. A kind of change is told by its place in this process.
func fingerprint(line model.Line) string {
	var h strings.Builder
	if line.WebBreaks != nil {
		fmt.Fprintf(&h, "%#v", *line.WebBreaks)
	}
	if line.Jobs != nil {
		fmt.Fprintf(&h, "%#v", *line.Jobs)
	}
	line.WebBreaks, line.Jobs, line.Economics = nil, nil, model.Economics{}
	fmt.Fprintf(&h, "%#v", line)
	return h.String()
}

// recall is what a replication came to before, or nil.
func (m *Memory) recall(o occasion) *sim.Sample {
	m.lock.Lock()
	defer m.lock.Unlock()
	if x := m.kept[o]; x != nil {
		return x
	}
	o.Cycles = true // one that kept its cycles came to the same
	return m.kept[o]
}

// keep remembers what a replication came to. Samples are only read from then on.
func (m *Memory) keep(o occasion, x *sim.Sample) {
	m.lock.Lock()
	defer m.lock.Unlock()
	if len(m.kept) < m.most {
		m.kept[o] = x
	}
}

func (m *Memory) recallWeights(o occasion) (*sim.Weights, bool) {
	m.lock.Lock()
	defer m.lock.Unlock()
	w, ok := m.weights[o]
	return w, ok
}

func (m *Memory) keepWeights(o occasion, w *sim.Weights) {
	m.lock.Lock()
	defer m.lock.Unlock()
	if len(m.weights) < m.most {
		m.weights[o] = w
	}
}
