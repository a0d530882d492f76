package report

import (
	"embed"

	"rollchange/out/words"
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
func Languages() []string { return words.Languages(wordFiles) }

// wordsOf reads the words of a language.
func wordsOf(lang string) (*phrases, error) {
	w := &phrases{Lang: lang}
	return w, words.Language(wordFiles, lang, w)
}
