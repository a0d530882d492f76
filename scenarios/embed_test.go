package scenarios

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"rollchange/model"
)

func TestShippedScenariosAreRightAndSilent(t *testing.T) {
	require.Len(t, Templates(), 10)
	for _, x := range Templates() {
		s, err := Parse(x.Name+".toml", x.Text, ".")
		require.NoError(t, err, x.Name)
		assert.Empty(t, s.Warnings, x.Name)
		assert.Equal(t, x.Title, s.Study.Title)
		assert.GreaterOrEqual(t, len(s.Study.Alternatives), 2, x.Name)
		first := s.Study.Alternatives[0]
		if x.Name != "bagger_speed" { // it is automatic already and asks for speed
			assert.Equal(t, model.Manual, first.Line.Unwind.Change, "%s begins by hand", x.Name)
		}
		assert.False(t, first.Investment.Given(), "%s: by hand costs nothing new", x.Name)
	}
}

// An undisturbed splice draws v²/(2 decel) + v dwell + v²/(2 accel), and the
// interlock keeps reserve + v²/(2 line.decel) (design, 3.3): the storages of
// the shipped scenarios hold that for their mean dwell.
func TestShippedStoragesHoldAMeanSplice(t *testing.T) {
	for _, x := range Templates() {
		s, err := Parse(x.Name+".toml", x.Text, ".")
		require.NoError(t, err)
		for _, a := range s.Study.Alternatives {
			u, p := a.Line.Unwind, a.Line.Process
			if u.Change != model.ZeroSpeed {
				continue
			}
			v := p.Speed
			need := v*v/(2*u.Decel) + v*u.Dwell.Mean() + v*v/(2*u.Accel) + u.Storage.Reserve + v*v/(2*p.Decel)
			assert.GreaterOrEqual(t, u.Storage.RunLevel, need, "%s, %s", x.Name, a.Name)
		}
	}
}
