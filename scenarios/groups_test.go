package scenarios

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"rollchange/model"
)

// inGroups is the plain line with two groups, and more behind.
func inGroups(more string) []byte {
	return []byte(plain + `
[[crew.group]]
name = "handlers"
operators = 2
tasks = ["preparing rolls", "packing"]
shifts = [1, 2]
days = "Mon to friday, Sunday"

[[crew.group]]
name = "setters"
operators = 1
` + more)
}

func TestGroups(t *testing.T) {
	s, err := Parse("test.toml", inGroups(""), ".")
	require.NoError(t, err)
	crew := s.Study.Alternatives[0].Line.Crew
	assert.Equal(t, 3, crew.Operators, "the sum")
	assert.Equal(t, []model.Group{{Name: "handlers", Operators: 2, Tasks: []string{"preparing rolls", "packing"}, Shifts: []int{1, 2}, Days: []int{0, 1, 2, 3, 4, 6}},
		{Name: "setters", Operators: 1}}, crew.Groups)
	assert.InDelta(t, 2*12./21+1, crew.Present(), 1e-12)
	assert.Equal(t, 0.0, crew.Begins)

	given := map[string]string{}
	for _, g := range s.Given(0) {
		given[g.Key] = g.Text
	}
	assert.Equal(t, "preparing rolls, packing", given["crew.group[0].tasks"])
	assert.Equal(t, "1, 2", given["crew.group[0].shifts"])

	s, err = Parse("test.toml", inGroups(""), ".", ParseSet("crew.first_day=Saturday"))
	require.NoError(t, err)
	assert.Equal(t, 5*model.Day, s.Study.Alternatives[0].Line.Crew.Begins)
}

// Groups of an alternative stand for the operators of the base; operators of an
// alternative beside groups of the base must be their sum. No groups are an empty list.
func TestGroupsOfAlternatives(t *testing.T) {
	group := "\n[[alternative.crew.group]]\nname = \"all\"\noperators = 5\n"
	s, err := Parse("test.toml", []byte(plain+"\n[[alternative]]\nname = \"today\"\n[[alternative]]\nname = \"more\"\n"+group), ".", Override{Key: "crew.operators", Value: "2", Of: "today"})
	require.NoError(t, err)
	assert.Equal(t, 2, s.Study.Alternatives[0].Line.Crew.Operators)
	assert.Equal(t, 5, s.Study.Alternatives[1].Line.Crew.Operators)

	_, err = Parse("test.toml", inGroups("\n[[alternative]]\nname = \"today\"\n[[alternative]]\nname = \"more\"\n[alternative.crew]\noperators = 4\n"), ".")
	require.ErrorContains(t, err, `crew.operators: contradicts the groups, which have 3 (alternative "more")`)

	s, err = Parse("test.toml", inGroups("\n[[alternative]]\nname = \"today\"\n[[alternative]]\nname = \"free\"\n[alternative.crew]\noperators = 4\ngroup = []\n"), ".")
	require.NoError(t, err)
	assert.Len(t, s.Study.Alternatives[0].Line.Crew.Groups, 2)
	assert.Empty(t, s.Study.Alternatives[1].Line.Crew.Groups)
	assert.Equal(t, 4, s.Study.Alternatives[1].Line.Crew.Operators)
}

// Who sets the operators of a group need not set their sum too.
func TestSettingAGroup(t *testing.T) {
	for _, given := range []string{"", "\n[crew]\noperators = 3\n"} {
		for _, o := range []Override{ParseSet("crew.group[handlers].operators=4"), {Key: "crew.group[0].operators", Value: "4"}} {
			s, err := Parse("test.toml", append([]byte(nil), append(inGroups(""), given...)...), ".", o)
			require.NoError(t, err)
			assert.Equal(t, 5, s.Study.Alternatives[0].Line.Crew.Operators)
		}
	}
	_, err := Parse("test.toml", inGroups(""), ".", ParseSet("crew.operators=4"))
	assert.ErrorContains(t, err, "--set crew.operators=4: contradicts the groups, which have 3\n  write: --set crew.operators=3, or nothing: it is their sum")
	s, err := Parse("test.toml", inGroups(""), ".", ParseSet(`crew.group[setters].days=Sat to Sun`), ParseSet(`crew.group[setters].tasks=["stops", "web breaks"]`))
	require.NoError(t, err)
	assert.Equal(t, []int{5, 6}, s.Study.Alternatives[0].Line.Crew.Groups[1].Days)
	assert.Equal(t, []string{"stops", "web breaks"}, s.Study.Alternatives[0].Line.Crew.Groups[1].Tasks)
}

func TestDays(t *testing.T) {
	for text, want := range map[string][]int{"Monday": {0}, "sat to mon": {0, 5, 6}, " Tuesday , Thu to Thu": {1, 3}, "Monday to Sunday": {0, 1, 2, 3, 4, 5, 6}} {
		got, err := readDays(text)
		require.NoError(t, err, text)
		assert.Equal(t, want, got, text)
	}
	for _, text := range []string{"", ",", "Monday,", "Monday to", "1", "Mo", "Monday to Friday to Sunday", "weekend"} {
		_, err := readDays(text)
		assert.Error(t, err, text)
	}
}
