package files

import (
	"bufio"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"

	"rollchange/model/legible"
)

// cannot is the error of a file that cannot be written.
func cannot(name string, err error) error {
	var p *fs.PathError
	var l *os.LinkError
	var h *heldError
	switch {
	case errors.As(err, &h):
		err = h
	case errors.As(err, &p):
		err = p.Err
	case errors.As(err, &l):
		err = l.Err
	}
	return fmt.Errorf("%s: cannot be written: %w", legible.Visible(name), err)
}

// writable says, before a long run, whether a file can be written under a name:
// its folder is there and takes a file, the file may be written, and it is no
// folder. What runs that were killed have left beside it is taken away, and
// nothing is left behind.
func (r *Run) writable(name string) (place, error) {
	if err := r.takesName(name); err != nil {
		return place{}, err
	}
	p, err := placeOf(name)
	if err != nil {
		return p, cannot(name, err)
	}
	switch {
	case p.info != nil && p.info.IsDir() || p.info == nil && endsInSeparator(name):
		return p, cannot(name, errors.New("it is a folder, not a file"))
	case p.fd >= 0 && p.info == nil:
		return p, cannot(name, errors.New("nothing is open there"))
	case p.info != nil && !p.info.Mode().IsRegular() || p.fd >= 0:
		return p, nil // opened when there is something to write: a pipe waits for its reader
	case p.info != nil && !r.stdout.place.goesTo(p): // else it is open, and is written there
		if err := mayReplace(p.path); err != nil {
			return p, cannot(name, err)
		}
	}
	folder := filepath.Dir(p.path)
	if r.takes[folder] {
		return p, nil
	}
	clean(folder)
	f, err := temporary(folder, 0o600)
	if err != nil {
		return p, cannot(name, err)
	}
	r.takes[folder] = true
	if err := discard(f); err != nil {
		return p, cannot(name, err)
	}
	return p, nil
}

// Save writes a file whole or not at all, keeping its mode and owner, or those
// of the umask for a new one. An output that was not said to be written before
// is checked like one that was. What is no regular file is written straight.
func (r *Run) Save(name string, write func(io.Writer) error) error {
	o, err := r.declared(name)
	if err != nil {
		return err
	}
	r.mu.Lock()
	over := r.over || r.ctx.Err() != nil
	o.state = begun
	r.mu.Unlock()
	switch {
	case over:
		return errInterrupted
	case o.fd == 1 || r.stdout.place.goesTo(o.place):
		r.stdout.mu.Lock()
		r.stdout.named = true
		r.stdout.mu.Unlock()
		return r.through(o, r.stdout, write)
	case o.fd >= 0:
		f, err := again(o.fd)
		if err != nil {
			return cannot(name, err)
		}
		defer f.Close()
		return r.through(o, f, write)
	case o.info != nil && !o.regular():
		f, err := os.OpenFile(o.path, os.O_WRONLY, 0)
		if err != nil {
			return cannot(name, err)
		}
		defer f.Close()
		return r.through(o, f, write)
	}
	return r.replace(o, write)
}

// declared is the output of a name as it is now: what it points to may have
// become another file in the meantime, even one that is read.
func (r *Run) declared(name string) (*output, error) {
	r.mu.Lock()
	at := -1
	for i, o := range r.outputs {
		if o.name == name {
			at = i
		}
	}
	r.mu.Unlock()
	if at < 0 {
		o, err := r.declare(name, "output")
		return o, err
	}
	now, err := placeOf(name)
	if err != nil {
		return nil, cannot(name, err)
	}
	r.mu.Lock()
	defer r.mu.Unlock()
	o := r.outputs[at]
	o.place = now
	for _, in := range r.inputs {
		if err := o.against(in); err != nil {
			return nil, err
		}
	}
	for i, other := range r.outputs {
		if i != at && other.state != planned && o.kept() && o.same(other.place) {
			return nil, fmt.Errorf("%s: %s is written by %s too: each output needs a file of its own", o.what, legible.Visible(name), other.what)
		}
	}
	return o, nil
}

// through writes an output where it is, without a temporary file.
func (r *Run) through(o *output, w io.Writer, write func(io.Writer) error) error {
	r.set(o, begun, true)
	b := bufio.NewWriter(w)
	err := write(b)
	if err == nil {
		err = b.Flush()
	}
	if err != nil {
		return cannot(o.name, err)
	}
	r.set(o, whole, false)
	return nil
}

func (r *Run) set(o *output, s state, cut bool) {
	r.mu.Lock()
	defer r.mu.Unlock()
	o.state, o.cut = s, cut
}

// replace writes an output into a temporary file beside it, which then takes its name.
func (r *Run) replace(o *output, write func(io.Writer) error) error {
	mode := fs.FileMode(0o666) // less the umask
	if o.info != nil {
		mode = 0o600 // until it is that of the file which it replaces
	}
	f, err := r.begin(filepath.Dir(o.path), mode)
	if err != nil {
		return cannot(o.name, err)
	}
	defer r.drop(f)
	b := bufio.NewWriter(f)
	if err := write(b); err != nil {
		return cannot(o.name, err)
	}
	steps := []func() error{b.Flush}
	if o.info != nil {
		steps = append(steps, func() error { keepOwner(f, o.info); return f.Chmod(o.info.Mode().Perm()) })
	}
	for _, step := range append(steps, f.Sync) {
		if err := step(); err != nil {
			return cannot(o.name, err)
		}
	}
	r.mu.Lock()
	defer r.mu.Unlock()
	if r.over || r.ctx.Err() != nil {
		return errInterrupted
	}
	if err := settle(f, o.path); err != nil {
		return cannot(o.name, err)
	}
	delete(r.beside, f.Name())
	o.state = whole
	return nil
}

// begin makes a temporary file that Abandon knows of.
func (r *Run) begin(folder string, mode fs.FileMode) (*os.File, error) {
	r.mu.Lock()
	defer r.mu.Unlock()
	if r.over || r.ctx.Err() != nil {
		return nil, errInterrupted
	}
	f, err := temporary(folder, mode)
	if err == nil {
		r.beside[f.Name()] = f
	}
	return f, err
}

// drop takes a temporary file away that did not get its name.
func (r *Run) drop(f *os.File) {
	f.Close()
	r.mu.Lock()
	defer r.mu.Unlock()
	if r.beside[f.Name()] != nil {
		_ = os.Remove(f.Name())
		delete(r.beside, f.Name())
	}
}
