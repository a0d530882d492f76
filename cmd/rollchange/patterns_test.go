package main

import (
	"os"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func TestPatternsAreWrittenOutWhereTheShellDoesNot(t *testing.T) {
	t.Chdir(t.TempDir())
	for _, name := range []string{"part-2.jsonl", "part-1.jsonl", "other.jsonl"} {
		require.NoError(t, os.WriteFile(name, nil, 0o644))
	}
	names := []string{"other.jsonl", "part-*.jsonl", "none-?.jsonl", "part-[1].jsonl"}
	assert.Equal(t, []string{"other.jsonl", "part-1.jsonl", "part-2.jsonl", "none-?.jsonl", "part-[1].jsonl"}, expanded("windows", names))
	assert.Equal(t, names, expanded("linux", names))
}
