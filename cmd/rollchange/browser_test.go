package main

import (
	"bytes"
	"context"
	"encoding/json"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"rollchange/sim/effort"
)

// A page that holds the engine has to open from a mail: the program with what it
// needs is below 7.5 MB before it is packed, 1.6 MB after it. What made it larger stands in DEVELOPERS.md.
func TestEngineForABrowserIsSmall(t *testing.T) {
	if testing.Short() {
		t.Skip("builds for another system")
	}
	programs := map[string]int64{"../browser": 7_500_000}
	if effort.Long() {
		programs["./testdata/answers"] = 7_000_000 // scenarios, engine, savings, words and JSON alone
	}
	for program, most := range programs {
		to := filepath.Join(t.TempDir(), "browser.wasm")
		build := exec.Command("go", "build", "-trimpath", "-ldflags", "-s -w", "-o", to, program)
		build.Env = append(os.Environ(), "GOOS=js", "GOARCH=wasm")
		said, err := build.CombinedOutput()
		require.NoError(t, err, "%s", said)
		is, err := os.Stat(to)
		require.NoError(t, err)
		assert.Less(t, is.Size(), most, program)
		assert.Greater(t, is.Size(), int64(3_500_000), "nothing of the engine is in "+program)
	}
}

// The least program answers as the command does.
func TestLeastProgramAnswers(t *testing.T) {
	if !effort.Long() {
		t.Skip("builds another program")
	}
	text, err := os.ReadFile("../../scenarios/laminator_savings.toml")
	require.NoError(t, err)
	cmd := exec.Command("go", "run", "./testdata/answers")
	cmd.Stdin = bytes.NewReader(text)
	said, err := cmd.Output()
	require.NoError(t, err)
	type answer struct {
		Alternatives []struct {
			Name    string
			Metrics map[string]struct{ Mean float64 }
		}
	}
	var least, whole answer
	words, figures, _ := strings.Cut(string(said), "\n{")
	assert.Contains(t, words, "a year")
	require.NoError(t, json.Unmarshal([]byte("{"+figures), &least))
	var out bytes.Buffer
	require.Equal(t, exitAnswered, execute(context.Background(), []string{"compare", "-", "--json"}, bytes.NewReader(text), &out, io.Discard))
	require.NoError(t, json.Unmarshal(out.Bytes(), &whole))
	assert.Equal(t, whole, least)
	assert.NotEmpty(t, least.Alternatives)
}
