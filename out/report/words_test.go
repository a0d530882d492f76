package report

import (
	"reflect"
	"regexp"
	"strings"
	"testing"

	"github.com/BurntSushi/toml"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"rollchange/scenarios"
	"rollchange/sim/effort"
)

var verb = regexp.MustCompile(`%[^%]`)

// Every language has every word, with the same things to fill in; the page asks
// for no word that is not there, and none stands there for nothing.
func TestWords(t *testing.T) {
	require.Contains(t, Languages(), "en")
	want, err := wordsOf("en")
	require.NoError(t, err)
	for _, lang := range Languages() {
		text, err := wordFiles.ReadFile("words/" + lang + ".toml")
		require.NoError(t, err)
		var w phrases
		meta, err := toml.Decode(string(text), &w)
		require.NoError(t, err)
		assert.Empty(t, meta.Undecoded(), lang)
		a, b := reflect.ValueOf(*want), reflect.ValueOf(w)
		for i := range a.NumField() {
			name := a.Type().Field(i).Name
			x, ok := a.Field(i).Interface().(map[string]string)
			if !ok {
				continue
			}
			y := b.Field(i).Interface().(map[string]string)
			assert.Len(t, y, len(x), "%s: %s", lang, name)
			for key, s := range x {
				assert.NotEmpty(t, y[key], "%s: %s.%s", lang, name, key)
				assert.Equal(t, verb.FindAllString(s, -1), verb.FindAllString(y[key], -1), "%s: %s.%s", lang, name, key)
			}
		}
	}
	_, err = wordsOf("../en")
	assert.Error(t, err)
}

func TestTheWordsOfAPageAreWhole(t *testing.T) {
	data := written(t, made(t, shipped(t, "label_press")))
	assert.NotContains(t, string(data), "%!", "a word with something left to fill in")
	assert.NotContains(t, string(data), "<no value>")
}

// What a manager reads has words and no keys; the scenario at the end of the page has
// the keys. A command that is named may have flags.
func TestThePageHasNoKeys(t *testing.T) {
	for _, name := range effort.Some([]string{"label_press", "laminator", "bagger"}, 1) {
		text := withoutScenario(parsed(t, written(t, made(t, shipped(t, name)))))
		for _, k := range scenarios.Keys() {
			for _, part := range []string{k.Path, strings.Replace(k.Path, "[]", "[0]", 1)} {
				if strings.ContainsAny(part, "._") {
					assert.NotContains(t, text, part, name)
				}
			}
		}
	}
}
