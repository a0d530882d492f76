package scenarios

import (
	goflag "flag"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"rollchange/model/legible"
)

var update = goflag.Bool("update", false, "write the messages in testdata/bad anew")

const badInputs = "../testdata/bad"

// Each testdata/bad/NAME.toml has one fault (several_at_once has more);
// NAME.txt is the whole message.
func TestBadInputs(t *testing.T) {
	files, err := filepath.Glob(badInputs + "/*.toml")
	require.NoError(t, err)
	require.NotEmpty(t, files)
	for _, file := range files {
		name := filepath.Base(file)
		t.Run(strings.TrimSuffix(name, ".toml"), func(t *testing.T) {
			text, err := os.ReadFile(file)
			require.NoError(t, err)
			_, err = Parse(name, text, badInputs)
			var all *Errors
			require.ErrorAs(t, err, &all)
			golden := strings.TrimSuffix(file, ".toml") + ".txt"
			if *update {
				require.NoError(t, os.WriteFile(golden, []byte(err.Error()+"\n"), 0o644))
			}
			want, readErr := os.ReadFile(golden)
			require.NoError(t, readErr)
			assert.Equal(t, string(want), err.Error()+"\n")
			for i, p := range all.Problems {
				assert.NotEmpty(t, p.What)
				if i > 0 {
					assert.GreaterOrEqual(t, p.Line, all.Problems[i-1].Line, "errors stand in the order of the lines")
				}
			}
		})
	}
}

func TestFilesThatAreNoScenario(t *testing.T) {
	dir := t.TempDir()
	write := func(name, text string) string {
		path := filepath.Join(dir, name)
		require.NoError(t, os.WriteFile(path, []byte(text), 0o644))
		return path
	}
	for _, path := range []string{
		filepath.Join(dir, "missing.toml"), dir, write("empty.toml", " \n"), write("binary.toml", "a = 1\x00\x01"),
		write("latin.toml", "title = \"\xe9\""), write("large.toml", strings.Repeat("# rubbish\n", 200000)),
	} {
		_, err := Files{}.Load(path, nil)
		if assert.Error(t, err, path) {
			first, _, _ := strings.Cut(err.Error(), "\n")
			assert.True(t, strings.HasPrefix(first, path+": "), first)
		}
	}
	_, err := Files{}.Load("-", strings.NewReader("nonsense"))
	assert.ErrorContains(t, err, "standard input:1")
}

// Whatever the text, Parse either makes a study or says what is wrong, in 2 s and
// 200 MB, and what it says can be shown on a terminal.
func FuzzParse(f *testing.F) {
	for _, x := range Templates() {
		f.Add(string(x.Text))
	}
	files, _ := filepath.Glob(badInputs + "/*.toml")
	for _, file := range files {
		text, err := os.ReadFile(file)
		if err != nil {
			f.Fatal(err)
		}
		f.Add(string(text))
	}
	for _, text := range blowUps() {
		f.Add(text[:min(len(text), 2000)])
	}
	dir := f.TempDir()
	f.Fuzz(func(t *testing.T, text string) {
		var s *Scenario
		var err error
		took, bytes := cost(t, func() { s, err = Parse("fuzz.toml", []byte(text), dir) })
		if took > mostTime || bytes > mostMemory {
			t.Fatalf("took %v and %d MB", took, bytes>>20)
		}
		if err != nil {
			if strings.TrimSpace(err.Error()) == "" {
				t.Fatal("an error without words")
			}
			if strings.ContainsFunc(err.Error(), func(r rune) bool { return legible.Hidden(r) && r != '\n' }) {
				t.Fatalf("an error that moves a terminal: %q", err)
			}
			return
		}
		if len(s.Study.Alternatives) == 0 || !(s.Study.Run.Horizon > 0) || s.Study.Run.Replications < 1 {
			t.Fatalf("accepted a study that cannot run: %+v", s.Study.Run)
		}
		for _, a := range s.Study.Alternatives {
			if p := a.Line.Process; !(p.Speed > 0 && p.Accel > 0 && p.Decel > 0) {
				t.Fatalf("accepted a line that cannot run: %+v", p)
			}
		}
	})
}
