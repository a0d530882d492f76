package main

import (
	"bytes"
	"context"
	"flag"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

var update = flag.Bool("update", false, "write what the commands print into the documents")

// Every command that a document shows runs here, in a fresh folder, and prints
// what the document says. A block of commands begins with ```console; a line
// that begins with "$ rollchange" is a command, what follows up to the next is
// what it prints on standard output; a line with only … stands for any lines.
func TestDocumentsShowWhatTheToolPrints(t *testing.T) {
	if testing.Short() {
		t.Skip("long")
	}
	root, err := filepath.Abs("../..")
	require.NoError(t, err)
	documents, err := filepath.Glob(filepath.Join(root, "docs", "*.md"))
	require.NoError(t, err)
	studies, err := filepath.Glob(filepath.Join(root, "docs", "studies", "*.md"))
	require.NoError(t, err)
	for _, path := range append(append(documents, studies...), filepath.Join(root, "README.md")) {
		t.Run(filepath.Base(path), func(t *testing.T) {
			text, err := os.ReadFile(path)
			require.NoError(t, err)
			t.Chdir(t.TempDir())
			changed := runDocument(t, string(text))
			if *update && changed != string(text) {
				require.NoError(t, os.WriteFile(path, []byte(changed), 0o644))
			}
		})
	}
}

// runDocument runs the commands of a document and returns it with what they print.
func runDocument(t *testing.T, text string) string {
	var out []string
	inside := false
	ran := map[string]*bytes.Buffer{}
	lines := strings.Split(text, "\n")
	for i := 0; i < len(lines); i++ {
		line := lines[i]
		out = append(out, line)
		switch {
		case strings.HasPrefix(line, "```console"):
			inside = true
		case strings.HasPrefix(line, "```"):
			inside = false
		case inside && strings.HasPrefix(line, "$ rollchange"):
			var shown []string
			for i+1 < len(lines) && !strings.HasPrefix(lines[i+1], "$ ") && !strings.HasPrefix(lines[i+1], "```") {
				i++
				shown = append(shown, lines[i])
			}
			stdout, again := ran[line] // a document shows parts of one answer in several places
			if !again {
				var stderr bytes.Buffer
				stdout = &bytes.Buffer{}
				code := execute(context.Background(), splitWords(strings.TrimPrefix(line, "$ rollchange")), strings.NewReader(""), stdout, &stderr)
				require.Less(t, code, exitBad, "%s\n%s", line, stderr.String())
				ran[line] = stdout
			}
			var printed []string
			if stdout.Len() > 0 {
				printed = strings.Split(strings.TrimRight(stdout.String(), "\n"), "\n")
			}
			switch {
			case elided(shown):
				assert.True(t, matches(shown, printed), "%s prints otherwise:\n%s", line, stdout.String())
				out = append(out, shown...)
			case *update:
				out = append(out, printed...)
			default:
				assert.Equal(t, strings.Join(shown, "\n"), strings.Join(printed, "\n"), line)
			}
		}
	}
	return strings.Join(out, "\n")
}

// splitWords splits a command line at spaces outside double quotes.
func splitWords(s string) []string {
	quoted := false
	fields := strings.FieldsFunc(s, func(c rune) bool {
		if c == '"' {
			quoted = !quoted
		}
		return c == ' ' && !quoted
	})
	for i := range fields {
		fields[i] = strings.ReplaceAll(fields[i], `"`, "")
	}
	return fields
}

func elided(lines []string) bool {
	return slices.ContainsFunc(lines, func(l string) bool { return strings.TrimSpace(l) == "…" })
}

// matches says whether printed is shown, where … stands for any lines.
func matches(shown, printed []string) bool {
	for i, s := range shown {
		if strings.TrimSpace(s) == "…" {
			for skip := 0; skip <= len(printed); skip++ {
				if matches(shown[i+1:], printed[skip:]) {
					return true
				}
			}
			return false
		}
		if len(printed) == 0 || printed[0] != s {
			return false
		}
		printed = printed[1:]
	}
	return len(printed) == 0
}
