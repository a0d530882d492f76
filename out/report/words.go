package report

import (
	"embed"
	"fmt"
	"path"
	"slices"
	"strings"

	"github.com/BurntSushi/toml"
)

//go:embed words/*.toml
var wordFiles embed.FS

// phrases are all that the page says itself, in one language: one file each in
// words/. Labels of metrics and sentences about them come from package words.
type phrases struct {
	Lang                    string `toml:"-"`
	Skip, Contents          string
	Made, Appendix          string
	First                   map[string]string
	Question                map[string]string
	Answer, Why, Money      map[string]string
	Change, Found, Cautions map[string]string
	Again, Figure           map[string]string
	Match, Log, Plan        map[string]string
	Limits                  struct {
		Head string
		List []string
	}
}

// Languages lists the languages that a page can be written in.
func Languages() []string {
	files, _ := wordFiles.ReadDir("words")
	var list []string
	for _, f := range files {
		list = append(list, strings.TrimSuffix(f.Name(), path.Ext(f.Name())))
	}
	return list
}

// wordsOf reads the words of a language.
func wordsOf(lang string) (*phrases, error) {
	if !slices.Contains(Languages(), lang) {
		return nil, fmt.Errorf("no page in the language %q; choose %s", lang, strings.Join(Languages(), ", "))
	}
	text, err := wordFiles.ReadFile("words/" + lang + ".toml")
	if err != nil {
		return nil, err
	}
	w := &phrases{Lang: lang}
	if _, err := toml.Decode(string(text), w); err != nil {
		return nil, fmt.Errorf("words of %q: %w", lang, err)
	}
	return w, nil
}
