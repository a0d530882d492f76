package portable

import (
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// On a processor that multiplies and adds in one step no function does: a product
// that is not rounded by a conversion would be taken for one.
func TestNothingIsFused(t *testing.T) {
	if testing.Short() {
		t.Skip("builds for another processor")
	}
	built := filepath.Join(t.TempDir(), "portable.a")
	build := exec.Command("go", "build", "-o", built, ".")
	build.Env = append(os.Environ(), "GOOS=linux", "GOARCH=arm64", "GOFLAGS=")
	said, err := build.CombinedOutput()
	require.NoError(t, err, "%s", said)
	code, err := exec.Command("go", "tool", "objdump", built).Output()
	require.NoError(t, err)
	assert.Regexp(t, `FMULD`, string(code), "nothing is multiplied: this looks for the wrong words")
	assert.Empty(t, regexp.MustCompile(`.*\sFN?M(ADD|SUB)D\s.*`).FindAllString(string(code), -1))
}
