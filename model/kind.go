package model

// ChangeKind is how a station changes its roll: one of the kinds below, or the
// zero value, not given. No other can be made. What a kind needs, does and holds
// is said here; what it does in time stands in package sim, one file a kind.
type ChangeKind struct{ k *kind }

// The kinds of roll change. None is for a rewind only: the process consumes the web.
var (
	Manual = ChangeKind{&kind{name: "manual", ends: [2]bool{true, true}, stops: true,
		needs: [2][]string{{"change_time"}, {"change_time"}}}}
	ZeroSpeed = ChangeKind{&kind{name: "zero-speed", ends: [2]bool{true, true}, ahead: true, storage: true,
		needs: [2][]string{{"load", "prepare", "dwell", "decel", "accel", "max_speed"}, {"doff", "load_core", "dwell", "decel", "accel", "max_speed"}}}}
	Flying = ChangeKind{&kind{name: "flying", ends: [2]bool{true, true}, ahead: true, stops: true,
		needs: [2][]string{{"load", "prepare"}, {"doff", "load_core"}}}}
	None = ChangeKind{&kind{name: "none", ends: [2]bool{false, true}}}
)

// kinds are all of them, in the order of the reference.
var kinds = []ChangeKind{Manual, ZeroSpeed, Flying, None}

// kind describes a kind of roll change.
type kind struct {
	name    string
	ends    [2]bool     // an unwind, a rewind can be of it
	needs   [2][]string // keys that an unwind, a rewind of it needs
	ahead   bool        // the crew prepares the next roll or core while this one runs
	stops   bool        // a change, or one that is late, stops the line for itself
	storage bool        // it changes at rest, out of a storage, and stops the line only when that is at its end
}

// End is an end of the line: Unwinding 0, Rewinding 1.
type End int

// The ends.
const (
	Unwinding End = iota
	Rewinding
)

// KindOf is the kind of a name at an end; the zero value when there is none.
func KindOf(name string, end End) ChangeKind {
	for _, k := range kinds {
		if k.k.name == name && k.k.ends[end] {
			return k
		}
	}
	return ChangeKind{}
}

// KindNames are the names of the kinds that an end can be of.
func KindNames(end End) []string {
	var names []string
	for _, k := range kinds {
		if k.k.ends[end] {
			names = append(names, k.k.name)
		}
	}
	return names
}

// Given says whether it is a kind at all.
func (c ChangeKind) Given() bool { return c.k != nil }

// String is the name of the kind as a scenario has it, "" when it is not given.
func (c ChangeKind) String() string {
	if c.k == nil {
		return ""
	}
	return c.k.name
}

// Needs are the keys that a station of the kind needs at the end, without their
// table.
func (c ChangeKind) Needs(end End) []string {
	if c.k == nil {
		return nil
	}
	return c.k.needs[end]
}

// Ahead says whether the crew prepares the next roll or core while this one runs.
func (c ChangeKind) Ahead() bool { return c.k != nil && c.k.ahead }

// Stops says whether a change, or one that is late, stops the line for itself.
func (c ChangeKind) Stops() bool { return c.k != nil && c.k.stops }

// Stores says whether the station changes at rest, out of a storage.
func (c ChangeKind) Stores() bool { return c.k != nil && c.k.storage }

// MarshalBinary is the name, so that a line can be hashed.
func (c ChangeKind) MarshalBinary() ([]byte, error) { return []byte(c.String()), nil }
