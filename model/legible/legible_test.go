package legible

import (
	"bytes"
	"encoding/json"
	"strings"
	"testing"
	"unicode"
	"unicode/utf8"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// hostile are what may do harm on a terminal, of each kind.
var hostile = map[string]string{
	"escape sequence": "a\x1b[2Jb", "bell": "a\ab", "backspace": "a\bb", "carriage return": "a\rb", "C1 control sequence": "a\u009b31mb",
	"raw C1 byte": "a\x9b31mb", "delete": "a\x7fb", "override": "a\u202eb", "isolate": "a\u2067b", "mark of direction": "a\u200fb", "Arabic mark": "a\u061cb",
	"zero-width space": "a\u200bb", "zero-width joiner": "a\u200db", "byte order mark": "a\ufeffb", "word joiner": "a\u2060b", "soft hyphen": "a\u00adb",
	"line separator": "a\u2028b", "paragraph separator": "a\u2029b", "tag": "a\U000e0041b", "filler": "a\u3164b", "far variation selector": "a\U000e0101b",
}

// sound says whether a text holds nothing hidden, and is UTF-8.
func sound(s string) bool {
	return utf8.ValidString(s) && !strings.ContainsFunc(s, func(r rune) bool { return Hidden(r) && r != '\n' && r != '\t' })
}

func TestNothingHiddenPasses(t *testing.T) {
	for what, s := range hostile {
		assert.True(t, sound(Line(s)), what)
		assert.True(t, strings.HasPrefix(Line(s), "a") && strings.HasSuffix(Line(s), "b"), what)
		assert.True(t, sound(Visible(s)), what)
		assert.Contains(t, Visible(s), `\`, "%s: a message shows that it is there", what)
		for _, cut := range []int{0, 1, 2, 3, 4} { // whatever is written at a time
			var b bytes.Buffer
			w := NewWriter(&b, false)
			for _, p := range []string{s[:min(cut, len(s))], s[min(cut, len(s)):]} {
				n, err := w.Write([]byte(p))
				require.NoError(t, err)
				assert.Equal(t, len(p), n)
			}
			require.NoError(t, w.Flush())
			assert.Equal(t, Visible(s), b.String(), "%s, cut at %d", what, cut)
		}
	}
	assert.Equal(t, `a\u202eb`, Visible("a\u202eb"))
	assert.Equal(t, `a\x9bb`, Visible("a\x9bb"))
	assert.Equal(t, `a\nb`, Visible("a\nb"), "a name of two lines is shown in one")
	assert.Equal(t, "a b", Line("a\nb"))
}

// Letters of every script, marks on them and signs stay as they are.
func TestWhatIsTextStays(t *testing.T) {
	for _, s := range []string{"Étiqueteuse n° 4 · 120 m/min", "מכבש", "مرحبا", "自動", "हिन्दी", "naïve", "½ µm ²", "⚠️", "\u0000"[1:]} {
		assert.Equal(t, s, Line(s))
		assert.Equal(t, s, Visible(s))
		assert.Equal(t, s, string(Bytes([]byte(s))))
	}
	assert.Equal(t, "a\u0301\u0301\u0301", Line("a"+strings.Repeat("\u0301", 50)))
}

func TestWriterPassesLinesAndItsOwnBold(t *testing.T) {
	for _, bold := range []bool{false, true} {
		for cut := range 9 {
			text := "\x1b[1mhead\x1b[0m\n\ta"
			var b bytes.Buffer
			w := NewWriter(&b, bold)
			_, _ = w.Write([]byte(text[:cut]))
			_, _ = w.Write([]byte(text[cut:]))
			want := text
			if !bold {
				want = `\u001b[1mhead\u001b[0m` + "\n\ta"
			}
			assert.Equal(t, want, b.String())
		}
	}
	var b bytes.Buffer
	w := NewWriter(&b, true)
	_, _ = w.Write([]byte("\x1b[2J\x1b["))
	require.NoError(t, w.Flush())
	assert.Equal(t, `\u001b[2J\u001b[`, b.String(), "no other sequence")
}

// JSON says the same after the writer.
func TestJSONStaysTheSame(t *testing.T) {
	for what, s := range hostile {
		before, err := json.Marshal(s)
		require.NoError(t, err)
		var want, got string
		require.NoError(t, json.Unmarshal(before, &want))
		after := Bytes(before)
		require.NoError(t, json.Unmarshal(after, &got))
		assert.Equal(t, want, got, what)
		assert.True(t, sound(string(after)), what)
	}
}

func TestMessagesShowNoMoreThan80Characters(t *testing.T) {
	for _, s := range []string{strings.Repeat("x", 1<<20), strings.Repeat("\x1b", 300), strings.Repeat("é", 90), strings.Repeat("\u0301", 4000)} {
		assert.Equal(t, Most, utf8.RuneCountInString(Short(s)))
		assert.True(t, utf8.ValidString(Short(s)))
		assert.LessOrEqual(t, utf8.RuneCountInString(List([]string{s, s, s})), Most+3)
	}
	assert.Equal(t, strings.Repeat("x", Most), Short(strings.Repeat("x", Most)))
	assert.Equal(t, `"a", "b \" c"`, List([]string{"a", `b " c`}))
	assert.LessOrEqual(t, utf8.RuneCountInString(List(strings.Split(strings.Repeat("abc ", 1000), " "))), Most+3)
}

func FuzzWriter(f *testing.F) {
	for _, s := range hostile {
		f.Add(s, 1)
	}
	f.Fuzz(func(t *testing.T, s string, cut int) {
		var b bytes.Buffer
		w := NewWriter(&b, false)
		cut = min(max(cut, 0), len(s))
		_, _ = w.Write([]byte(s[:cut]))
		_, _ = w.Write([]byte(s[cut:]))
		_ = w.Flush()
		if !sound(b.String()) {
			t.Fatalf("%q becomes %q", s, b.String())
		}
		if got := string(Bytes([]byte(s))); got != b.String() {
			t.Fatalf("%q in two is %q, in one %q", s, b.String(), got)
		}
		if utf8.ValidString(s) && !strings.ContainsFunc(s, unicode.IsControl) && sound(s) && b.String() != s {
			t.Fatalf("%q was changed into %q", s, b.String())
		}
	})
}
