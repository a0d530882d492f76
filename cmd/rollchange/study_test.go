package main

import (
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"rollchange/sim/effort"
)

// The reports of the studies in docs/studies are what the tool makes of the
// shipped scenarios; go test ./cmd/... -update writes them. The usual form looks at
// one of them.
func TestReportsOfTheStudiesAreCurrent(t *testing.T) {
	if testing.Short() {
		t.Skip("long")
	}
	root, err := filepath.Abs("../..")
	require.NoError(t, err)
	studies := []string{"laminator_savings", "press_comparison", "bagger_speed", "label_press_learned", "label_week"}
	if !*update {
		studies = studies[:effort.Of(0, 1, len(studies))]
	}
	for _, name := range studies {
		t.Run(name, func(t *testing.T) {
			t.Chdir(t.TempDir())
			code, _, errs := call(t, "", "new", name+".toml", "--template", name)
			require.Equal(t, exitAnswered, code, errs)
			code, _, errs = callIn(together, "", "report", name+".toml", "-o", name+".html")
			require.Equal(t, exitAnswered, code, errs)
			made, err := os.ReadFile(name + ".html")
			require.NoError(t, err)
			path := filepath.Join(root, "docs", "studies", name+".html")
			if *update {
				require.NoError(t, os.WriteFile(path, made, 0o644))
			}
			kept, err := os.ReadFile(path)
			require.NoError(t, err)
			assert.True(t, string(kept) == string(made), "%s.html is not what the tool makes now: go test ./cmd/... -update writes it", name)
		})
	}
}
