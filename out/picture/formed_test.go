package picture

import (
	"bytes"
	"encoding/xml"
	"io"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"rollchange/model"
	"rollchange/out/invented"
	"rollchange/sim/effort"
)

func TestPicturesAreWellFormedHarmlessAndTheSameEachTime(t *testing.T) {
	effort.NotInRace(t)
	records, line := invented.Log()
	trace, err := Trace(records, 0, line, model.Metric)
	require.NoError(t, err)
	rs := invented.HostileTwo()
	for name, p := range map[string]*Picture{"hours": Hours(rs), "waste": Waste(rs), "output": Output(rs, model.Metric),
		"storage": Storage(rs.Alternatives[1].Lowest, "low", line, false, model.Metric), "trace": trace} {
		var a, b bytes.Buffer
		require.NoError(t, p.Write(&a, "svg"))
		require.NoError(t, p.Write(&b, "svg"))
		assert.Equal(t, a.String(), b.String(), name)
		assert.NotContains(t, a.String(), "<script", name)
		d := xml.NewDecoder(&a)
		for {
			if _, err = d.Token(); err != nil {
				break
			}
		}
		assert.ErrorIs(t, err, io.EOF, name)
		b.Reset()
		require.NoError(t, p.Write(&b, "png"))
		assert.Greater(t, b.Len(), 2000, name)
	}
}

func TestTooShortALogCannotBeDrawn(t *testing.T) {
	_, err := Trace(nil, 0, &model.Line{}, model.Metric)
	assert.Error(t, err)
}
