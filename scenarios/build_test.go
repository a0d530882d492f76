package scenarios

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"rollchange/model"
)

// A finished roll with a seam: the table is read, laid over by alternatives, and
// changes nothing else of the line.
func TestBuildOfARoll(t *testing.T) {
	text := plain[:len(plain)-len("[rewind]\nchange = \"none\"\n")] + printedWeb + "[rewind]\nchange = \"manual\"\nchange_time = \"1 min\"\nroll_length = \"500 m\"\ncore_diameter = \"76 mm\"\n"
	without := parsed(t, text).Study.Alternatives[0].Line
	assert.Equal(t, model.Build{}, without.Rewind.Build)
	s := parsed(t, text+"[rewind.build]\nseam_thickness = \"20 um\"\nridge = \"5 mm\"\nseam_width = \"8 mm\"\n[[alternative]]\nname = \"still\"\n[[alternative]]\nname = \"moved\"\nrewind.build.oscillation = \"8 mm\"\n")
	still, moved := s.Study.Alternatives[0].Line, s.Study.Alternatives[1].Line
	assert.Equal(t, model.Build{SeamWidth: 8e-3, SeamThickness: 2e-5, Ridge: 5e-3}, still.Rewind.Build)
	assert.Equal(t, 8e-3, moved.Rewind.Build.Oscillation)
	still.Rewind.Build = model.Build{}
	assert.Equal(t, without, still)
}
