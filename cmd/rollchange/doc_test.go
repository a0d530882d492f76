package main

import (
	"bytes"
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
				code := execute(together, splitWords(strings.TrimPrefix(line, "$ rollchange")), strings.NewReader(""), stdout, &stderr)
				require.Less(t, code, exitBad, "%s\n%s", line, stderr.String())
				ran[line] = stdout
			}
			var printed []string
			if stdout.Len() > 0 {
				printed = strings.Split(strings.TrimRight(stdout.String(), "\n"), "\n")
			}
			switch {
			case elided(shown) && *update:
				out = append(out, refreshed(shown, printed)...)
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

// refreshed is a block with … in it as it should be now: each stretch between
// two … is replaced by the stretch of what is printed that is most like it, figures
// not looked at, after the stretch before it.
func refreshed(shown, printed []string) []string {
	shape := func(line string) string {
		return strings.Join(strings.FieldsFunc(line, func(c rune) bool { return strings.ContainsRune("0123456789.,±−+-~ ", c) }), " ")
	}
	var out, stretch []string
	flush := func() {
		best, at := -1, 0
		for i := 0; i+len(stretch) <= len(printed); i++ {
			alike := 0
			for k, line := range stretch {
				switch {
				case line == printed[i+k]:
					alike += 3
				case shape(line) == shape(printed[i+k]):
					alike += 2
				}
			}
			if alike > best {
				best, at = alike, i
			}
		}
		if best >= 0 {
			out = append(out, printed[at:at+len(stretch)]...)
			printed = printed[at+len(stretch):]
		}
		stretch = nil
	}
	for _, line := range shown {
		if strings.TrimSpace(line) != "…" {
			stretch = append(stretch, line)
			continue
		}
		flush()
		out = append(out, line)
	}
	flush()
	return out
}

func TestABlockWithGapsIsRefreshed(t *testing.T) {
	printed := strings.Split("head\na   1.5 m\n  x 2\nb 3\nc 4 ± 1\ntail", "\n")
	shown := strings.Split("head\n…\n  x 1\n…\nc 9 ± 3\n…", "\n")
	got := refreshed(shown, printed)
	assert.Equal(t, strings.Split("head\n…\n  x 2\n…\nc 4 ± 1\n…", "\n"), got)
	assert.True(t, matches(got, printed))
}
