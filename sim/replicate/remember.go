package replicate

import (
	"context"
	"fmt"
	"sync"
	"time"

	"rollchange/model"
	"rollchange/sim"
)

// Memory keeps what replications came to, so that one that is asked for again, of
// the same line under the same chance, is not simulated again: questions of one
// scenario all begin at the same line. It changes no result. A Memory may be used
// from many goroutines.
type Memory struct {
	most  int
	store Store
	lock  sync.Mutex
	kept  map[occasion]*sim.Sample

	weights map[occasion]*sim.Weights
}

// Store keeps bytes longer than a Memory, from one run of the program to the next. It
// may forget them at any time, and hands out nothing but what it was given by the same
// program. It may be used from many goroutines.
type Store interface {
	Find(line, what string) []byte // nil: not known; only to be read
	Keep(line, what string, data []byte)
}

// manyToKeep is how many events a replication in a store has at least: to read one
// takes as long as to simulate some hundred.
const manyToKeep = 1000

// NewMemory keeps at most so many replications, the first that come; one takes
// some kilobytes. What it does not know it looks up in the store, and keeps there;
// nil: there is none.
func NewMemory(most int, store Store) *Memory {
	return &Memory{most: most, store: store, kept: map[occasion]*sim.Sample{}, weights: map[occasion]*sim.Weights{}}
}

// Facts keeps what was found out of a line beyond its replications, in the store of a
// context. Without one it keeps nothing.
type Facts struct {
	store Store
	line  string
}

// FactsOf are those of a line.
func FactsOf(ctx context.Context, line *model.Line) *Facts {
	if m, ok := ctx.Value(memoryKey{}).(*Memory); ok && m.store != nil {
		return &Facts{m.store, Fingerprint(*line)}
	}
	return &Facts{}
}

// Find returns what was kept under a name, which says all that it hangs on beside the
// line; nil when it is not known.
func (f *Facts) Find(what string) []byte {
	if f.store == nil {
		return nil
	}
	return f.store.Find(f.line, "fact "+what)
}

// Keep keeps a fact under a name.
func (f *Facts) Keep(what string, data []byte) {
	if f.store != nil {
		f.store.Keep(f.line, "fact "+what, data)
	}
}

type memoryKey struct{}

// WithMemory returns a context whose simulations remember. Those that are watched
// do not.
func WithMemory(ctx context.Context, m *Memory) context.Context {
	return context.WithValue(ctx, memoryKey{}, m)
}

// WithoutStore returns a context whose simulations remember as those of ctx do, but
// for what a store knows.
func WithoutStore(ctx context.Context) context.Context {
	if m, ok := ctx.Value(memoryKey{}).(*Memory); ok {
		return WithMemory(ctx, NewMemory(m.most, nil))
	}
	return ctx
}

// Remembering returns a context whose simulations remember: ctx itself where they do,
// else with a new memory of so many replications.
func Remembering(ctx context.Context, most int) context.Context {
	if _, ok := ctx.Value(memoryKey{}).(*Memory); ok {
		return ctx
	}
	return WithMemory(ctx, NewMemory(most, nil))
}

// occasion is all that a replication depends on.
type occasion struct {
	line string // its fingerprint
	sim.Replication
}

// what tells what is kept of an occasion from all else of its line.
func (o *occasion) what(kept string) string { return fmt.Sprintf("%s %#v", kept, o.Replication) }

// remembered is the memory of a context and the fingerprints of the lines of a
// study; nil without a memory.
func remembered(ctx context.Context, study *model.Study) (*Memory, []string) {
	m, ok := ctx.Value(memoryKey{}).(*Memory)
	if !ok {
		return nil, nil
	}
	prints := make([]string, len(study.Alternatives))
	for i := range prints {
		prints[i] = Fingerprint(study.Alternatives[i].Line)
	}
	return m, prints
}

// Fingerprint is the same for lines that are simulated alike: all of a line but
// what things cost, and what it hands over to other calculations alone.
func Fingerprint(line model.Line) string { return string(appendPrint(nil, line)) }

func appendPrint(b []byte, line model.Line) []byte {
	text := func(s string) { b = append(append(b, s...), 0) }
	// A kind of change is a pointer, and another one in the next run of the program.
	text(line.Unwind.Change.String())
	text(line.Rewind.Change.String())
	if line.Orders != nil {
		o := *line.Orders
		o.Begin = time.Time{} // a clock for people
		line.Orders = &o
		for i := range line.Products {
			p := line.Products[i]
			text(p.Name)
			b = fmt.Appendf(b, "%v %#v %v ", p.Share, p.OrderLength, p.Line.Unwind.TapePerSplice) // tape is a figure of a product
			b = appendPrint(b, *p.Line)
		}
	}
	line.Products = nil
	line.Unwind.Change, line.Rewind.Change = model.ChangeKind{}, model.ChangeKind{}
	line.Economics = model.Economics{}
	line.Unwind.TapePerSplice, line.Web.RegisterRepeat = 0, 0
	if !line.Unwind.Roll.ByDiameter && !line.Rewind.Roll.ByDiameter {
		line.Web.Caliper = 0
	}
	return line.AppendValues(b)
}

// recall is what a replication came to before, or nil. One that is to keep its cycles
// may come without from a store.
func (m *Memory) recall(o occasion, stored bool) *sim.Sample {
	x := m.known(o)
	if x == nil && !o.Cycles {
		o.Cycles = true // one that kept its cycles came to the same
		x = m.known(o)
		stored = true
	}
	if x == nil && stored {
		o.Cycles = false
		x = m.stored(o)
	}
	return x
}

func (m *Memory) known(o occasion) *sim.Sample {
	m.lock.Lock()
	defer m.lock.Unlock()
	return m.kept[o]
}

// stored is what the store knows of a replication, or nil.
func (m *Memory) stored(o occasion) *sim.Sample {
	if m.store == nil {
		return nil
	}
	data := m.store.Find(o.line, o.what("sample"))
	if data == nil {
		return nil
	}
	x, err := sim.SampleKept(data)
	if err != nil {
		return nil
	}
	m.remember(o, x)
	return x
}

// keep remembers what a replication came to. Samples are only read from then on.
// The changes out of storage are in no store: they take more room than all else.
func (m *Memory) keep(o occasion, x *sim.Sample) {
	m.remember(o, x)
	if m.store != nil && x.Events >= manyToKeep {
		o.Cycles = false
		m.store.Keep(o.line, o.what("sample"), x.AppendKept(nil))
	}
}

func (m *Memory) remember(o occasion, x *sim.Sample) {
	m.lock.Lock()
	defer m.lock.Unlock()
	if len(m.kept) < m.most {
		m.kept[o] = x
	}
}

func (m *Memory) recallWeights(o occasion) (*sim.Weights, bool) {
	m.lock.Lock()
	w, ok := m.weights[o]
	m.lock.Unlock()
	if ok || m.store == nil {
		return w, ok
	}
	data := m.store.Find(o.line, o.what("weights"))
	if data == nil {
		return nil, false
	}
	w, err := sim.WeightsKept(data)
	if err != nil {
		return nil, false
	}
	m.rememberWeights(o, w)
	return w, true
}

func (m *Memory) keepWeights(o occasion, w *sim.Weights) {
	m.rememberWeights(o, w)
	if m.store != nil {
		m.store.Keep(o.line, o.what("weights"), w.AppendKept(nil))
	}
}

func (m *Memory) rememberWeights(o occasion, w *sim.Weights) {
	m.lock.Lock()
	defer m.lock.Unlock()
	if len(m.weights) < m.most {
		m.weights[o] = w
	}
}
