package main

import (
	"slices"
	"strings"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"rollchange/model/legible"
	"rollchange/out/report"
	"rollchange/out/words"
	"rollchange/scenarios"
	"rollchange/scenarios/sheets"
	"rollchange/sim/metric"
	"rollchange/sim/replicate"
	"rollchange/sim/savings"
)

// completer offers what can stand where a shell asks; here is what is written so far.
type completer = func(cmd *cobra.Command, args []string, here string) ([]cobra.Completion, cobra.ShellCompDirective)

const (
	only     = cobra.ShellCompDirectiveNoFileComp
	goesOn   = cobra.ShellCompDirectiveNoFileComp | cobra.ShellCompDirectiveNoSpace
	ofEnding = cobra.ShellCompDirectiveFilterFileExt
)

// completeAll gives every command what a shell can complete: its words, and the
// values of its flags. A value that can be anything is not completed by files.
func completeAll(root *cobra.Command) {
	flags := map[string]completer{
		"alternative": alternatives, "group": crewGroups, "base": alternatives, "sweep": sweeps, "set": settings, "vary": varied, "solve": solved,
		"metric": severalOf(metrics), "precision": withEqual(metrics), "template": templates,
		"units": fixed("metric", "imperial"), "controls": fixed("draws", "none"), "records": fixed("observed", "none"), "around": fixed(sortedNames(around)...), "station": fixed("unwind", "rewind"), "count": fixed("failed"), "lang": fixed(report.Languages()...),
		"for":   fixed("npv 0", "payback 2 years", "discounted payback 3 years", "irr 15 %"),
		"dates": fixed("day-first", "month-first"), "decimal": fixed("comma", "point"), "recorded": fixed("stop", "work"), "into": endingIn("toml"),
		"xlsx": endingIn("xlsx"), "logo": endingIn("png", "jpg", "jpeg", "svg"), "plot": endingIn("svg", "png"), "resume": anyFile,
		"plots": func(*cobra.Command, []string, string) ([]cobra.Completion, cobra.ShellCompDirective) {
			return nil, cobra.ShellCompDirectiveFilterDirs
		},
	}
	outputs := map[string]completer{"plot": endingIn("svg", "png", "pdf"), "report": endingIn("html"), "live": endingIn("html")}
	first := map[string]completer{"new": endingIn("toml"), "fit": endingIn("csv", "xlsx", "txt"), "keys": everyKey, "merge": anyFile, "plot": kinds, "version": fixed()}
	each(root, func(cmd *cobra.Command) {
		cmd.Flags().VisitAll(func(f *pflag.Flag) {
			complete, known := flags[f.Name]
			switch {
			case f.Value.Type() == "bool":
				return
			case f.Name == "output":
				if complete, known = outputs[cmd.Name()]; !known {
					complete, known = anyFile, true
				}
			case !known:
				complete = fixed()
			}
			_ = cmd.RegisterFlagCompletionFunc(f.Name, begun(complete)) // fails for a second time only
		})
		if cmd.HasSubCommands() {
			return
		}
		word, known := first[cmd.Name()]
		if !known {
			word = endingIn("toml")
		}
		cmd.ValidArgsFunction = func(cmd *cobra.Command, args []string, here string) ([]cobra.Completion, cobra.ShellCompDirective) {
			switch {
			case cmd.Name() == "plot" && len(args) == 1:
				return endingIn("toml")(cmd, args, here)
			case len(args) > 0 && cmd.Name() != "merge" && cmd.Name() != "keys":
				return nil, only
			}
			return begun(word)(cmd, args, here)
		}
	})
}

// begun leaves what begins as is written already; not all shells do.
func begun(complete completer) completer {
	return func(cmd *cobra.Command, args []string, here string) ([]cobra.Completion, cobra.ShellCompDirective) {
		list, how := complete(cmd, args, here)
		if how != ofEnding {
			list = slices.DeleteFunc(slices.Clone(list), func(s string) bool { return !strings.HasPrefix(s, here) })
		}
		return list, how
	}
}

func fixed(list ...string) completer {
	return func(*cobra.Command, []string, string) ([]cobra.Completion, cobra.ShellCompDirective) {
		return list, only
	}
}

func endingIn(endings ...string) completer {
	return func(*cobra.Command, []string, string) ([]cobra.Completion, cobra.ShellCompDirective) {
		return endings, ofEnding
	}
}

func anyFile(*cobra.Command, []string, string) ([]cobra.Completion, cobra.ShellCompDirective) {
	return nil, cobra.ShellCompDirectiveDefault
}

// severalOf completes the last of several that commas part.
func severalOf(one completer) completer {
	return func(cmd *cobra.Command, args []string, here string) ([]cobra.Completion, cobra.ShellCompDirective) {
		list, how := one(cmd, args, here)
		before := here[:strings.LastIndexByte(here, ',')+1]
		for i := range list {
			list[i] = before + list[i]
		}
		return list, how
	}
}

// withEqual completes a name that a value follows.
func withEqual(one completer) completer {
	return func(cmd *cobra.Command, args []string, here string) ([]cobra.Completion, cobra.ShellCompDirective) {
		list, _ := one(cmd, args, here)
		for i := range list {
			name, what, _ := strings.Cut(list[i], "\t")
			list[i] = described(name+"=", what)
		}
		return list, goesOn
	}
}

// described is a completion with what it means, where that is known.
func described(name, what string) cobra.Completion {
	if what == "" {
		return name
	}
	return cobra.CompletionWithDesc(name, what)
}

// scenarioOf reads the scenario that stands on the command line; nil when none
// does, or what stands there cannot be read. Standard input is left alone.
func scenarioOf(cmd *cobra.Command, args []string) *scenarios.Scenario {
	at := 0
	if cmd.Name() == "plot" {
		at = 1
	}
	if len(args) <= at || args[at] == "-" {
		return nil
	}
	anywhere, _ := cmd.Flags().GetBool("read-anywhere")
	s, err := scenarios.Files{Anywhere: anywhere, Workbook: sheets.Read}.Load(args[at], strings.NewReader(""))
	if err != nil {
		return nil
	}
	return s
}

// plainly says whether a name can stand in a line of completions.
func plainly(name string) bool { return name != "" && legible.Line(name) == name }

func alternatives(cmd *cobra.Command, args []string, _ string) (list []cobra.Completion, how cobra.ShellCompDirective) {
	if s := scenarioOf(cmd, args); s != nil {
		for _, a := range s.Study.Alternatives {
			if plainly(a.Name) {
				list = append(list, a.Name)
			}
		}
	}
	return list, only
}

func crewGroups(cmd *cobra.Command, args []string, _ string) (list []cobra.Completion, how cobra.ShellCompDirective) {
	if s := scenarioOf(cmd, args); s != nil {
		for _, g := range s.Study.Alternatives[0].Line.Crew.Groups {
			if plainly(g.Name) {
				list = append(list, g.Name)
			}
		}
	}
	return list, only
}

func sweeps(cmd *cobra.Command, args []string, _ string) (list []cobra.Completion, how cobra.ShellCompDirective) {
	if s := scenarioOf(cmd, args); s != nil {
		for _, x := range s.Study.Sweeps {
			if plainly(x.Name) {
				list = append(list, described(x.Name, legible.Line(x.Vary)))
			}
		}
	}
	return list, only
}

func templates(*cobra.Command, []string, string) (list []cobra.Completion, how cobra.ShellCompDirective) {
	for _, t := range templatesAndLog() {
		list = append(list, described(t.Name, t.Title))
	}
	return list, only
}

func kinds(*cobra.Command, []string, string) (list []cobra.Completion, how cobra.ShellCompDirective) {
	for _, k := range report.Kinds() {
		list = append(list, described(k.Name, k.Means))
	}
	return list, only
}

func everyKey(*cobra.Command, []string, string) (list []cobra.Completion, how cobra.ShellCompDirective) {
	for _, k := range scenarios.Keys() {
		list = append(list, described(k.Path, k.Meaning))
	}
	for _, l := range scenarios.FindLaws("") {
		list = append(list, described(l.Name, l.Meaning))
	}
	return list, only
}

// metrics are those that the scenario has, else all that are not one of a family;
// where alternatives are compared the figures of money too.
func metrics(cmd *cobra.Command, args []string, _ string) (list []cobra.Completion, how cobra.ShellCompDirective) {
	var names []string
	if s := scenarioOf(cmd, args); s != nil {
		for _, o := range replicate.OutlinesOf(&s.Study) {
			for _, m := range o.Metrics {
				if !slices.Contains(names, m.Name) && plainly(m.Name) {
					names = append(names, m.Name)
				}
			}
		}
	} else {
		for _, m := range metric.Table() {
			if !m.Family() {
				names = append(names, m.Name)
			}
		}
	}
	for _, name := range names {
		list = append(list, described(name, words.MetricLabel(name)))
	}
	if cmd.Flags().Lookup("metric") != nil {
		list = append(list, savings.FigureNames...)
	}
	return list, only
}

// keysOf are the keys that fit, of the reference and of a scenario, where there is
// one: elements of arrays by their number and by their name, and the mean and the
// standard deviation of what is a distribution there.
func keysOf(s *scenarios.Scenario, fits func(key string) bool) (list []cobra.Completion) {
	meaning := map[string]string{}
	for _, k := range scenarios.Keys() {
		meaning[k.Path] = k.Meaning
		if !strings.Contains(k.Path, "[]") && fits(k.Path) {
			list = append(list, described(k.Path, k.Meaning))
		}
	}
	if s == nil {
		return list
	}
	seen := map[string]bool{}
	for i := range s.Study.Alternatives {
		for _, g := range s.Given(i) {
			if seen[g.Key] || strings.HasPrefix(g.Key, "alternative") {
				continue
			}
			seen[g.Key] = true
			name := s.NameOf(g.Key)
			add := func(key string) {
				list = append(list, described(key, words.KeyOf(key, name)))
				if from, to := strings.IndexByte(key, '[')+1, strings.IndexByte(key, ']'); plainly(name) && !strings.ContainsAny(name, "[]=") {
					list = append(list, described(key[:from]+name+key[to:], words.KeyWords(key)))
				}
			}
			if strings.Contains(g.Key, "[") && fits(g.Key) {
				add(g.Key)
			}
			for _, p := range []string{".mean", ".sd"} {
				if s.Varies(g.Key+p) && fits(g.Key+p) {
					add(g.Key + p)
				}
			}
		}
	}
	return list
}

// varied are the keys that a sweep can vary, of a scenario those that it uses.
func varied(cmd *cobra.Command, args []string, here string) ([]cobra.Completion, cobra.ShellCompDirective) {
	if strings.Contains(here, "=") {
		return nil, only
	}
	s := scenarioOf(cmd, args)
	fits := func(key string) bool {
		_, err := scenarios.Numeric(key)
		return err == nil && (s == nil || s.Uses(key))
	}
	return withEqual(func(*cobra.Command, []string, string) ([]cobra.Completion, cobra.ShellCompDirective) {
		return keysOf(s, fits), only
	})(cmd, args, here)
}

// solved are the keys of the line, which a range follows, and those of money,
// which stand alone.
func solved(cmd *cobra.Command, args []string, here string) ([]cobra.Completion, cobra.ShellCompDirective) {
	list, how := varied(cmd, args, here)
	if how == goesOn {
		for _, k := range scenarios.Keys() {
			if name, ok := strings.CutPrefix(k.Path, "alternative[]."); ok && savings.Solves(name) {
				list = append(list, described(name, k.Meaning))
			} else if strings.HasPrefix(k.Path, "economics.") && savings.Solves(k.Path) {
				list = append(list, described(k.Path, k.Meaning))
			}
		}
	}
	return list, how
}

// settings are all keys, also those of one alternative once it is begun, and
// behind the = what a choice can be.
func settings(cmd *cobra.Command, args []string, here string) (list []cobra.Completion, how cobra.ShellCompDirective) {
	key, _, value := strings.Cut(here, "=")
	if value {
		path := key[strings.LastIndex(key, "].")+1:]
		for _, k := range scenarios.Keys() {
			choices := k.Choices
			if k.Kind == "true or false" {
				choices = []string{"true", "false"}
			}
			if k.Path == strings.TrimPrefix(path, ".") {
				for _, c := range choices {
					list = append(list, key+"="+c)
				}
			}
		}
		return list, only
	}
	s := scenarioOf(cmd, args)
	list = keysOf(s, func(string) bool { return true })
	if s != nil && strings.HasPrefix(here, "alternative") {
		all := list
		list = nil
		for _, a := range s.Study.Alternatives {
			if !plainly(a.Name) || a.Name == "base" {
				continue
			}
			own := "alternative[" + a.Name + "]."
			for _, name := range scenarios.OfAlternative() {
				if name == "name" {
					continue
				}
				list = append(list, own+name)
			}
			for _, x := range all {
				if !strings.HasPrefix(x, "run.") && !strings.HasPrefix(x, "records.") && !strings.HasPrefix(x, "report.") && !strings.HasPrefix(x, "orders.") && !strings.HasPrefix(x, "units\t") && !strings.HasPrefix(x, "title\t") {
					list = append(list, own+x)
				}
			}
		}
	}
	return withEqual(func(*cobra.Command, []string, string) ([]cobra.Completion, cobra.ShellCompDirective) {
		return list, only
	})(cmd, args, here)
}
