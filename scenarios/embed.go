package scenarios

import (
	"embed"
	"strings"
)

//go:embed *.toml label_press_stops.csv label_press_production.csv
var shipped embed.FS

// Template is a shipped scenario to start from. All figures in it are invented.
type Template struct {
	Name  string // "label_press"
	Title string // as the scenario gives it
	Text  []byte
}

// Templates are the shipped scenarios, in the order in which they are listed.
func Templates() []Template {
	var all []Template
	for _, name := range []string{"label_press", "laminator", "bagger", "slitter", "press_comparison", "laminator_savings", "bagger_speed", "label_press_learned", "label_week", "bag_machines"} {
		text := read(name + ".toml")
		all = append(all, Template{Name: name, Title: titleOf(string(text)), Text: text})
	}
	return all
}

// StopLog is the shipped stop log, as CSV. No row of it is of a real line.
func StopLog() Template {
	return csv("label_press_stops", "Three weeks of stops of a label press, as CSV")
}

// Production is the shipped table of production figures of the days of the stop log, as
// CSV.
func Production() Template {
	return csv("label_press_production", "What the label press made on these days, as CSV")
}

func csv(name, title string) Template {
	return Template{Name: name, Title: title, Text: read(name + ".csv")}
}

// read is a shipped file.
func read(name string) []byte {
	text, err := shipped.ReadFile(name)
	if err != nil {
		panic(err) // the directive above embeds each of them
	}
	return text
}

// titleOf is the title in the text of a shipped scenario, which has it on a
// line of its own.
func titleOf(text string) string {
	for line := range strings.Lines(text) {
		if rest, ok := strings.CutPrefix(line, "title = "); ok {
			return strings.Trim(strings.TrimSpace(rest), `"`)
		}
	}
	return ""
}
