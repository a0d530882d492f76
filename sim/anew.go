package sim

import (
	"slices"
	"strings"

	"rollchange/model"
)

// streams is where the sources of one replication get their streams from.
type streams struct {
	seed        uint64
	replication int
	anew        string          // the source that is drawn anew, all others staying; "": none
	seen        map[string]bool // filled with the sources that vary; may be nil
}

// source prepares a source under its name.
func (c streams) source(d model.Dist, name string) source {
	s := newSource(d, c.seedOf(name), c.replication, name)
	if c.seen != nil && s.law != model.Fixed {
		c.seen[sourceKey(name)] = true
	}
	return s
}

// restart begins a source that was prepared for another replication.
func (c streams) restart(s *source) {
	if s.varies {
		s.stream, s.sum, s.n = newStream(c.seedOf(s.name), c.replication, s.name), 0, 0
	}
}

func (c streams) seedOf(name string) uint64 {
	if c.anew != "" && sourceKey(name) == c.anew {
		return mix(c.seed ^ 0x5851f42d4c957f2d) // any other chance
	}
	return c.seed
}

// sourceKey is the source that a stream belongs to: that of all lines, and
// whatever the task is that a reaction or a repair belongs to.
func sourceKey(name string) string {
	if i := strings.Index(name, "\tline "); i >= 0 {
		name = name[:i]
	}
	if strings.HasPrefix(name, "reaction ") {
		return "crew.reaction"
	}
	for _, end := range []string{" joining", " run-out"} {
		if key, ok := strings.CutSuffix(name, end); ok && strings.HasSuffix(key, ".recover") {
			return key
		}
	}
	return name
}

// SourcesOf lists the sources of chance of a line, in order of their names: what
// is a distribution, and what happens or not by chance. A name is that of the
// key ("unwind.dwell", "web_breaks"); of a stop "stop.every NAME", "stop.repair
// NAME", "stop.scrap NAME", of a duty "every duty NAME", "takes duty NAME".
func SourcesOf(line *model.Line) []string {
	seen := map[string]bool{}
	newRunOf(line, streams{seen: seen}, 1, 0, nil)
	certain := func(p float64) bool { return p <= 0 || p >= 1 }
	for key, never := range map[string]bool{
		"unwind.splice_success":   line.Unwind.Change == model.Manual || certain(line.Unwind.SpliceSuccess),
		"unwind.splice_breaks":    certain(line.Unwind.SpliceBreaks),
		"rewind.transfer_success": line.Rewind.Change == model.Manual || line.Rewind.Change == model.None || certain(line.Rewind.TransferSuccess),
		"web_breaks":              line.WebBreaks == nil || !(line.WebBreaks.MeanLength > 0 && line.WebBreaks.MeanLength < maxLength),
	} {
		if never {
			delete(seen, key)
		}
	}
	var list []string
	for key := range seen {
		list = append(list, key)
	}
	slices.Sort(list)
	return list
}

// maxLength is beyond any length of web: a mean above it is none.
const maxLength = 1e300
