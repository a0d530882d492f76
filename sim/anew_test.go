package sim

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"rollchange/model"
	"rollchange/sim/invented"
)

// All that varies is a source, once, whatever the line and the task; what
// cannot happen is none.
func TestSourcesOfALine(t *testing.T) {
	l := invented.EveryChance()
	assert.Equal(t, []string{"crew.reaction", "every duty patrol", "line.restart_scrap", "stop.every jam", "stop.repair jam", "takes duty patrol", "unwind.dwell", "unwind.load", "unwind.recover",
		"unwind.roll_length", "unwind.splice_success", "web_breaks", "web_breaks.repair"}, SourcesOf(&l))
	l.WebBreaks, l.Stops, l.Crew.Duties, l.Unwind.SpliceSuccess = nil, nil, nil, 1
	assert.Equal(t, []string{"crew.reaction", "line.restart_scrap", "unwind.dwell", "unwind.load", "unwind.recover", "unwind.roll_length"}, SourcesOf(&l))
}

// Drawn anew is one source alone, on both lines: every other draw stays.
func TestOneSourceIsDrawnAnew(t *testing.T) {
	l := invented.EveryChance()
	for _, anew := range SourcesOf(&l) {
		for _, name := range []string{"unwind.dwell", "unwind.dwell\tline 2", "unwind.recover", "unwind.recover joining", "unwind.recover run-out\tline 2", "reaction stop jam", "stop.every jam", "web_breaks", "web_breaks.repair", "every duty patrol", "unwind.splice_success"} {
			was, now := streams{seed: 3, replication: 4}, streams{seed: 3, replication: 4, anew: anew}
			d := model.Dist{Law: model.Uniform, A: 0, B: 1}
			a, b := was.source(d, name), now.source(d, name)
			assert.Equal(t, sourceKey(name) == anew, a.draw() != b.draw(), "%s anew, %s", anew, name)
		}
	}
}
