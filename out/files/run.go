package files

import (
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"sync"

	"rollchange/model/legible"
)

// Run is the files of one run of a command.
type Run struct {
	ctx    context.Context
	system string // that the files are on, by its name in Go

	mu      sync.Mutex
	over    bool // abandoned: nothing more is written
	inputs  []input
	outputs []*output
	beside  map[string]*os.File // temporary files that are there
	made    []string            // folders that this run has made
	kept    string              // the file that keeps what is finished; empty: none
	takes   map[string]bool     // folders that take a file

	stdout *stream
	stderr place
}

type input struct {
	place
	what string // "the scenario"
}

// is says whether the input is a file, as it was when the run began or as it is now.
func (in input) is(o place) bool {
	if !in.kept() {
		return false
	}
	if in.same(o) {
		return true
	}
	if in.path == "" { // standard input
		return false
	}
	now, err := placeOf(in.name)
	return err == nil && now.kept() && now.same(o)
}

// state is how far an output has come.
type state int

const (
	planned state = iota
	begun         // in part where it is written straight, else nothing
	whole
)

type output struct {
	place
	what  string // the flag that asks for it
	state state
	cut   bool // begun and written straight: what is there is a part
}

// stream is standard output, with what has gone through it.
type stream struct {
	ctx    context.Context
	w      io.Writer
	place  place // of the file that it goes to, when it is one
	mu     sync.Mutex
	began  bool
	whole  bool
	asked  bool // the answer is to go there
	named  bool // as an output, by a name of its own
	closed bool
}

// New is the files of a run with its standard streams. An interrupt of ctx ends
// the writing.
func New(ctx context.Context, stdin io.Reader, stdout, stderr io.Writer) *Run {
	r := &Run{ctx: ctx, system: system, beside: map[string]*os.File{}, takes: map[string]bool{}, stdout: &stream{ctx: ctx, w: stdout}}
	r.stdout.place, r.stderr = opened(stdout), opened(stderr)
	if p := opened(stdin); p.regular() {
		r.inputs = append(r.inputs, input{p, "standard input"})
	}
	return r
}

// opened is the file that a standard stream is; one without info when it is none.
func opened(stream any) place {
	p := place{fd: -1}
	if f, ok := stream.(*os.File); ok && f != nil {
		if info, err := f.Stat(); err == nil {
			p.info = info
		}
	}
	return p
}

// goesTo says whether an output is the file that a standard stream goes to.
func (p place) goesTo(o place) bool { return p.info != nil && o.info != nil && p.same(o) }

// Stdout is standard output.
func (r *Run) Stdout() io.Writer { return r.stdout }

// Unwrap is what standard output is.
func (s *stream) Unwrap() io.Writer { return s.w }

func (s *stream) Write(p []byte) (int, error) {
	s.mu.Lock()
	closed := s.closed || !s.began && s.ctx.Err() != nil // what has begun gets a moment to end
	if closed {
		s.mu.Unlock()
		return 0, context.Canceled
	}
	s.began = s.began || len(p) > 0
	s.mu.Unlock()
	return s.w.Write(p)
}

// Reads says that the run reads a file, what it is to it. It is an error when an
// output of the run is the same file.
func (r *Run) Reads(name, what string) error {
	if name == "-" {
		return nil // New knows it
	}
	p, err := placeOf(name)
	if err != nil {
		return nil // whoever reads it says what is wrong
	}
	r.mu.Lock()
	defer r.mu.Unlock()
	in := input{p, what}
	r.inputs = append(r.inputs, in)
	for _, o := range r.outputs {
		if err := o.against(in); err != nil {
			return err
		}
	}
	if r.stdout.asked && r.stdout.place.info != nil && in.is(r.stdout.place) {
		return fmt.Errorf("standard output goes to %s, which is read, as %s: give it a file of its own", legible.Visible(name), what)
	}
	return nil
}

// against is an error when the output is a file that is read.
func (o *output) against(in input) error {
	if !in.is(o.place) {
		return nil
	}
	return fmt.Errorf("%s: %s is read too, as %s: an output needs a file of its own", o.what, legible.Visible(o.name), in.what)
}

// Answers says that the answer goes to standard output.
func (r *Run) Answers() error {
	r.mu.Lock()
	defer r.mu.Unlock()
	r.stdout.asked = true
	for _, o := range r.outputs {
		if o.kept() && r.stdout.place.goesTo(o.place) {
			return fmt.Errorf("%s: %s is where standard output goes: an output needs a file of its own", o.what, legible.Visible(o.name))
		}
	}
	for _, in := range r.inputs {
		if r.stdout.place.info != nil && in.is(r.stdout.place) {
			return fmt.Errorf("standard output goes to a file that is read, as %s: give it a file of its own", in.what)
		}
	}
	return nil
}

// Writes says that the run will write a file, by which flag. It is an error when
// that cannot be, or would destroy an input or another output; nothing is left
// behind.
func (r *Run) Writes(name, what string) error {
	_, err := r.declare(name, what)
	return err
}

func (r *Run) declare(name, what string) (*output, error) {
	r.mu.Lock()
	defer r.mu.Unlock()
	p, err := r.writable(name)
	if err != nil && what != "" {
		err = fmt.Errorf("%s: %w", what, err)
	}
	var open *heldError // maybe by this run itself, which is said instead
	if err != nil && !errors.As(err, &open) {
		return nil, err
	}
	o := &output{place: p, what: what}
	for _, in := range r.inputs {
		if err := o.against(in); err != nil {
			return nil, err
		}
	}
	for _, other := range r.outputs {
		if o.kept() && o.same(other.place) {
			if what == other.what {
				return nil, fmt.Errorf("%s: %s is written twice: each output needs a file of its own", what, legible.Visible(name))
			}
			return nil, fmt.Errorf("%s: %s is written by %s too: each output needs a file of its own", what, legible.Visible(name), other.what)
		}
	}
	for _, x := range []struct {
		goes bool
		what string
	}{{r.stdout.asked && r.stdout.place.goesTo(p), "standard output"}, {p.fd < 0 && r.stderr.regular() && r.stderr.goesTo(p), "standard error"}} {
		if x.goes && o.kept() {
			return nil, fmt.Errorf("%s: %s is where %s goes: an output needs a file of its own", what, legible.Visible(name), x.what)
		}
	}
	if open != nil {
		return nil, err
	}
	r.outputs = append(r.outputs, o)
	return o, nil
}

// Keeps says that what is finished is kept in a file, should the run be interrupted.
func (r *Run) Keeps(name string) {
	r.mu.Lock()
	defer r.mu.Unlock()
	r.kept = name
}

// Folder makes a folder for outputs, when it is not there.
func (r *Run) Folder(name string) error {
	if why := Refused(r.system, name); why != "" {
		return fmt.Errorf("%s: cannot be made a folder: %s", legible.Visible(name), why)
	}
	var missing []string
	for path := filepath.Clean(name); ; path = filepath.Dir(path) {
		if _, err := os.Lstat(path); err == nil || path == filepath.Dir(path) {
			break
		}
		missing = append(missing, path)
	}
	if err := os.MkdirAll(name, 0o777); err != nil {
		return fmt.Errorf("%s: cannot be made a folder", legible.Visible(name))
	}
	r.mu.Lock()
	defer r.mu.Unlock()
	r.made = append(missing, r.made...) // the inmost first
	return nil
}

// Whole says that the answer is on standard output, to its end.
func (r *Run) Whole() {
	r.stdout.mu.Lock()
	defer r.stdout.mu.Unlock()
	r.stdout.whole = true
}

// Close takes away folders that this run has made and left empty, unless all went well.
func (r *Run) Close(well bool) {
	r.mu.Lock()
	defer r.mu.Unlock()
	if !well {
		r.tidy()
	}
}

// tidy takes away what a run that failed should not leave.
func (r *Run) tidy() {
	for _, f := range r.beside {
		_ = discard(f)
	}
	for _, folder := range r.made {
		_ = os.Remove(folder) // one that is not empty stays
	}
}

// Abandon ends all writing: temporary files go, and nothing is begun or gets its
// name any more.
func (r *Run) Abandon() {
	r.mu.Lock()
	defer r.mu.Unlock()
	r.over = true
	r.stdout.mu.Lock()
	r.stdout.closed = true
	r.stdout.mu.Unlock()
	r.tidy()
}

var errInterrupted = errors.New("interrupted")
