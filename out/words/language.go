package words

import (
	"fmt"
	"io/fs"
	"path"
	"slices"
	"strings"

	"github.com/BurntSushi/toml"
)

// Languages lists the languages of a page: the names of the TOML files in the folder
// "words" of its files, without their ends.
func Languages(files fs.ReadDirFS) []string {
	found, _ := files.ReadDir("words")
	var list []string
	for _, f := range found {
		list = append(list, strings.TrimSuffix(f.Name(), path.Ext(f.Name())))
	}
	return list
}

// Language reads what a page says itself, in one of its languages, into a pointer to a
// struct or map. Its error names the languages that there are, or what cannot be read.
func Language(files fs.ReadDirFS, lang string, into any) error {
	if all := Languages(files); !slices.Contains(all, lang) {
		return fmt.Errorf("no page in the language %q; choose %s", lang, strings.Join(all, ", "))
	}
	text, err := fs.ReadFile(files, "words/"+lang+".toml")
	if err != nil {
		return err
	}
	if _, err := toml.Decode(string(text), into); err != nil {
		return fmt.Errorf("words of %q: %w", lang, err)
	}
	return nil
}
