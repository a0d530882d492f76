// Package parts writes, reads and joins the partial results of a run or sweep
// that was split over several processes or machines, or interrupted.
//
// A part is a text file of JSON lines: a header that says what it is a part of,
// one line for each unit of work (a replication of a run, a point of a sweep) and
// a last line that says how many there are, with the hash of all before it.
// Every number is written to the last bit, so that parts joined give the same
// bytes as the whole.
package parts

import (
	"encoding/json"
	"fmt"
	"strconv"
	"strings"

	"rollchange/model/legible"
	"rollchange/sim/replicate"
)

// Format is what the first line of a part file calls itself.
const Format = "rollchange part, 1"

// Header says what a part is a part of. Two parts belong together when all but
// Part is the same.
type Header struct {
	Format  string            `json:"format"`
	Version string            `json:"version"` // of the tool
	Command string            `json:"command"` // "run" or "sweep"
	Title   string            `json:"title"`
	File    string            `json:"file"`
	SHA256  string            `json:"sha256"` // of the scenario
	Run     replicate.RunInfo `json:"run"`
	Units   int               `json:"units"`   // of the whole
	Details json.RawMessage   `json:"details"` // what the command needs to go on
	Part    int               `json:"part"`    // 1-based
	Of      int               `json:"of"`
}

// Range is the units of a part, from first to before end: as even as can be, in order.
func (h *Header) Range() (first, end int) {
	return h.Units * (h.Part - 1) / h.Of, h.Units * h.Part / h.Of
}

// whole is the header less what differs between parts.
func (h Header) whole() string {
	h.Part = 0
	b, err := json.Marshal(h)
	if err != nil {
		return err.Error()
	}
	return string(b)
}

// foreign says in words why a part does not belong to the first.
func (h *Header) foreign(first *Header) string {
	r, q := h.Run, first.Run
	switch {
	case h.Format != first.Format:
		return "has another format"
	case h.Version != first.Version:
		return fmt.Sprintf("was made by version %s, not %s", legible.Short(h.Version), legible.Short(first.Version))
	case h.Command != first.Command:
		return fmt.Sprintf("is part of a %s, not of a %s", legible.Short(h.Command), legible.Short(first.Command))
	case h.SHA256 != first.SHA256:
		return "is of another scenario"
	case h.File != first.File:
		return fmt.Sprintf("was read from %s, not %s: the result names the file", legible.Short(h.File), legible.Short(first.File))
	case r.Seed != q.Seed:
		return fmt.Sprintf("has seed %d, not %d", r.Seed, q.Seed)
	case r.Replications != q.Replications:
		return fmt.Sprintf("has %d replications, not %d", r.Replications, q.Replications)
	case r.Horizon != q.Horizon:
		return fmt.Sprintf("has a horizon of %g h, not %g h", r.Horizon/3600, q.Horizon/3600)
	case h.Of != first.Of:
		return fmt.Sprintf("is one of %d parts, not of %d", h.Of, first.Of)
	case h.whole() != first.whole():
		return "was made with other settings: alternatives, what was set, data files, varied keys or limits"
	}
	return ""
}

// ParsePart reads "K/N": part K of N, 1-based.
func ParsePart(s string) (part, of int, err error) {
	k, n, ok := strings.Cut(s, "/")
	part, errK := strconv.Atoi(strings.TrimSpace(k))
	of, errN := strconv.Atoi(strings.TrimSpace(n))
	switch {
	case !ok || errK != nil || errN != nil:
		return 0, 0, fmt.Errorf("%q: write K/N, part K of N, as in 2/7", s)
	case of < 1 || of > mostParts:
		return 0, 0, fmt.Errorf("%q: the number of parts must be 1 to %d", s, mostParts)
	case part < 1 || part > of:
		return 0, 0, fmt.Errorf("%q: there is no part %d of %d", s, part, of)
	}
	return part, of, nil
}
