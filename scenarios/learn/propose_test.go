package learn

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"rollchange/scenarios/cells"
	"rollchange/scenarios/records"
)

func TestMeantBy(t *testing.T) {
	for text, want := range map[string]Target{
		"Web break": WebBreak, "paper tear": WebBreak, "Bahnriß": WebBreak, "Papierriss": WebBreak, "casse bande": WebBreak, "rotura de papel": WebBreak, "ROTTURA NASTRO": WebBreak, "banbrott": WebBreak, "zerwanie wstęgi": WebBreak, "Break at web guide": WebBreak,
		"Roll change": ChangeTime, "Rollenwechsel": ChangeTime, "changement de bobine": ChangeTime, "cambio bobina": ChangeTime, "reel change unwind": ChangeTime,
		"Changeover": Changeover, "make-ready": Changeover, "Umrüsten": Changeover, "Auftragswechsel": Changeover, "cambio de formato": Changeover,
		"No order": NotAStop, "Kein Auftrag": NotAStop,
		"": "", "lunch break": "", "Knife jam": "", "belt broke": "", "rewind roll change": RewindTime, "Rollenwechsel Aufwickler": RewindTime, "change of finished rolls": RewindTime, "rewind core change": "", "rewind jam": "", "core change": "", "break": "", "web guide": "", "roller cleaned": "",
	} {
		assert.Equal(t, want, meantBy(text), text)
	}
}

func TestAlike(t *testing.T) {
	for _, x := range []struct {
		a, b string
		is   bool
	}{
		{"Knife jam", "Knive jam", true}, {"knife-jam", "Knife Jam", true}, {"Knife jam", "Kinfe jam", true}, {"Bahnriß", "Bahnriss", true}, {"Register lost", "Register losst", true}, {"Registerfehler", "Regsterfehlr", true},
		{"Station 1 jam", "Station 2 jam", false}, {"jam", "jar", false}, {"Knife jam", "Web break", false}, {"", "", false}, {"Knife jam", "Knife jammed", false},
	} {
		assert.Equal(t, x.is, alike(x.a, x.b), "%q %q", x.a, x.b)
		assert.Equal(t, x.is, alike(x.b, x.a), "%q %q", x.b, x.a)
	}
	// The example of the paper that Levenshtein's distance is known by (from memory).
	assert.Equal(t, 3, distance([]rune("kitten"), []rune("sitting")))
	assert.Equal(t, 1, distance([]rune("ab"), []rune("ba")))
	assert.Equal(t, 2, distance(nil, []rune("ab")))
}

const mixed = `start,minutes,cause
2026-03-02 06:10,3,Knife jam
2026-03-02 07:10,3,Web break
2026-03-02 08:10,5,Bahnriss
2026-03-02 09:10,30,Knive jam
2026-03-02 10:10,3,web break
2026-03-02 11:10,3,Splice table
`

// Nothing is joined or mapped by itself; what is said is not proposed again, and joined
// causes have all their stops.
func TestProposeAndJoin(t *testing.T) {
	l := lineOf(t, mixed, Options{}, records.Options{})
	assert.Len(t, l.Causes, 5)
	assert.Equal(t, []Proposal{{Cause: "Web break", Is: WebBreak}, {Cause: "Bahnriss", Is: WebBreak}, {Cause: "Knife jam", Same: "Knive jam"}}, sorted(l.Propose()))

	l = lineOf(t, mixed, Options{Is: map[string]Target{"Web break": WebBreak}}, records.Options{Same: map[string]string{"bahnriss": "Web break", "Knive jam": "Knife jam"}})
	assert.Empty(t, l.Propose())
	require.Len(t, l.Causes, 3)
	for _, c := range l.Causes {
		switch c.Text {
		case "Web break":
			assert.Equal(t, []int{3, 3}, []int{c.Stops, len(l.Log.StopsOf("web  break"))})
			assert.Equal(t, []string{"Bahnriss", "web break"}, c.Spellings)
			assert.Equal(t, WebBreak, c.Is)
			assert.InDelta(t, 11*60, c.Lost, 1e-9)
		case "Knife jam":
			assert.Equal(t, 2, c.Stops)
			assert.Len(t, l.Log.Gaps("Knife jam"), 2, "between them and after the last: the log begins with the first")
		}
	}
	table, err := cells.Read("log.csv", []byte(mixed))
	require.NoError(t, err)
	_, err = records.Read(table, records.Options{Same: map[string]string{"tear": "Web break", "Bahnriss": "Web break", "Web break": "x"}})
	assert.ErrorContains(t, err, `no stop has the cause "tear"`)
	assert.ErrorContains(t, err, `"Web break" is said to be another cause itself`)
}

// sorted puts proposals of keys first, by the order of the log's words.
func sorted(list []Proposal) []Proposal {
	var keys, others []Proposal
	for _, p := range list {
		if p.Is != "" {
			keys = append(keys, p)
		} else {
			others = append(others, p)
		}
	}
	return append(keys, others...)
}
