package words

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
)

func TestWhatWasSetIsSaid(t *testing.T) {
	assert.Empty(t, About{Title: "line"}.SetSentence(), "nothing was set")
	a := About{Set: [][2]string{{"line.speed", "100 m/min"}, {"title", "a\nb"}, {"stop[0].name", strings.Repeat("x", 500)}}}
	assert.Equal(t, "Set on the command line: line.speed = 100 m/min; title = a b; stop[0].name = "+strings.Repeat("x", mostSetting-1)+"…", a.SetSentence())
}
