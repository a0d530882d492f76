package learn

import (
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"

	"rollchange/scenarios/records"
)

// Whatever is written into --map and --columns, and however causes are spelt: an answer or
// an error, what is read is what was written, and a proposal can be given back as a flag.
func FuzzFlags(f *testing.F) {
	for _, s := range []string{"Bahnriss=web_breaks", "a=b=stop", "=stop", "x=", "start=Begin,end=4,cause=Reason", "start=1,start=2", "Rollenwechsel\x00", "\xff=not a stop", "roll change=rewind.change_time", "A=1=,"} {
		f.Add(s, "Rollenwechsel")
	}
	f.Fuzz(func(t *testing.T, flag, cause string) {
		if text, to, err := ParseMap(flag); err == nil {
			again, same, err := ParseMap(text + "=" + string(to))
			assert.NoError(t, err)
			assert.Equal(t, text, again)
			assert.Equal(t, to, same)
		} else {
			assert.NotEmpty(t, err.Error())
		}
		if _, err := records.ParseColumns(flag); err != nil {
			assert.NotEmpty(t, err.Error())
		}
		assert.Equal(t, alike(flag, cause), alike(cause, flag))
		l := &Line{Causes: []Cause{{Text: flag}, {Text: cause}}}
		for _, p := range l.Propose() {
			if p.Same != "" {
				assert.True(t, alike(p.Same, p.Cause))
				continue
			}
			assert.True(t, slices.Contains(Targets(), p.Is))
			_, to, err := ParseMap(p.Cause + "=" + string(p.Is))
			assert.NoError(t, err)
			assert.Equal(t, p.Is, to)
		}
	})
}
