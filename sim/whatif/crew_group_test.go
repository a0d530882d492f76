package whatif

import (
	"context"
	"fmt"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"rollchange/model"
	"rollchange/scenarios"
	"rollchange/sim/effort"
	"rollchange/sim/metric"
)

// inGroups is the line of TestCrewIsMachineInterference, whose stops a group mends
// that does nothing else. Those who change rolls have nothing to do in 400 days.
var inGroups = strings.Replace(stopping, "operators = 1", "operators = 2", 1) + `
[[crew.group]]
name = "changers"
operators = 1
tasks = ["unwind changes"]
[[crew.group]]
name = "menders"
operators = 1
tasks = ["stops"]
`

// menders is that line, simulated for less time where less is tried.
func menders(t *testing.T) *scenarios.Scenario {
	return scenario(t, inGroups, over("run.horizon", fmt.Sprint(effort.Of(240, 240, 400), " d")), over("run.replications", strconv.Itoa(effort.Of(8, 20, 20))))
}

// The fewest of a group are the fewest of a crew that does what the group does: M3 and
// M4 as in TestCrewIsMachineInterference.
func TestSizeOfAGroup(t *testing.T) {
	t.Parallel()
	free := 6.0 / 11
	for _, c := range []struct {
		operators int
		down      float64 // printed
	}{{1, 0.8451}, {2, 0.5661}}[:effort.Of(1, 2, 2)] {
		lost := 1 - (6-c.down)/(6-free)
		for _, x := range []struct {
			factor float64
			want   int
		}{{1.25, c.operators}, {0.75, c.operators + 1}} {
			a, err := SizeCrew(context.Background(), menders(t), CrewQuestion{Lost: lost * x.factor, Group: "menders"}, Options{})
			require.NoError(t, err)
			assert.Equal(t, float64(x.want), a.Value, "%g", x.factor)
			assert.Equal(t, "menders", a.Group)
			assert.Equal(t, 1.0, a.Now)
			assert.Nil(t, a.ClosedForm, "it is of a whole crew")
			for _, trial := range a.Evidence {
				m := model.Interference(6, int(trial.X), 1./20, 1./2)
				busy := trial.Metrics[metric.CrewBusyBy+"menders"]
				assert.InEpsilon(t, (m.Down-m.Waiting)/trial.X, busy.Mean, 0.03, "%g of them", trial.X)
			}
		}
	}
	if testing.Short() {
		return
	}
	a, err := SizeCrew(context.Background(), menders(t), CrewQuestion{Lost: 0.01, Group: "changers"}, Options{})
	require.NoError(t, err)
	assert.Equal(t, 1.0, a.Value, "nothing is to be changed")
	a, err = SizeCrew(context.Background(), menders(t), CrewQuestion{Lost: 0.06, Lines: true}, Options{})
	require.NoError(t, err)
	want := 0
	one := model.Interference(1, 1, 1./20, 1./2).Running
	for n := 1; 1-model.Interference(n, 1, 1./20, 1./2).Running/one <= 0.06; n++ {
		want = n
	}
	assert.Equal(t, float64(want), a.Value, "the most lines for all groups as they are")
}

func TestWhichGroup(t *testing.T) {
	for group, says := range map[string]string{
		"":        `the crew is in groups: --group says of which, "changers", "menders"`,
		"mender":  `--group: no [[crew.group]] is called "mender"; did you mean menders?`,
		"packers": `--group: no [[crew.group]] is called "packers"`,
	} {
		_, err := SizeCrew(context.Background(), scenario(t, inGroups), CrewQuestion{Lost: 0.01, Group: group}, Options{})
		require.EqualError(t, err, says)
	}
	_, err := SizeCrew(context.Background(), scenario(t, stopping), CrewQuestion{Lost: 0.01, Group: "menders"}, Options{})
	require.EqualError(t, err, "--group: the crew has no [[crew.group]]")
}

// What helps against rolls that come late is another operator of those who prepare
// them; against a crew that is too busy, of those who are busiest.
func TestLeversOfGroups(t *testing.T) {
	s := scenario(t, inGroups)
	crew := &s.Study.Alternatives[0].Line.Crew
	crew.Groups[1].Operators, crew.Groups[1].Tasks = 2, []string{"preparing rolls"}
	q := &search{s: s}
	assert.Equal(t, &Lever{"crew.group[1].operators", model.Number, 3, 2, "menders"}, q.lever("unwind", NotReady, nil, Bound{}))
	crew.Groups = nil
	crew.Operators = 4
	assert.Equal(t, &Lever{"crew.operators", model.Number, 5, 4, ""}, q.lever("rewind", NotReady, nil, Bound{}))
}
