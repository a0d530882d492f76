package main

import (
	"errors"
	"fmt"
	"slices"
	"strings"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"rollchange/model/legible"
	"rollchange/scenarios"
)

// otherWords are words that people try for a command.
var otherWords = map[string]string{
	"simulate": "run", "start": "run", "init": "new", "create": "new", "template": "new", "validate": "check", "lint": "check", "verify": "check", "test": "check",
	"diff": "compare", "vs": "compare", "graph": "plot", "chart": "plot", "draw": "plot", "picture": "plot", "html": "report", "interactive": "live", "slider": "live", "sliders": "live", "browser": "live", "pdf": "report", "page": "report",
	"roi": "payback", "npv": "payback", "savings": "payback", "cost": "payback", "money": "payback", "vary": "sweep", "scan": "sweep", "log": "trace", "events": "trace",
	"schema": "keys --schema", "reference": "keys", "docs": "keys", "tornado": "sensitivity", "optimize": "size", "optimise": "size", "storage": "size storage",
	"speed": "size speed", "crew": "size crew", "residual": "size residual", "ridge": "size roll", "join": "merge",
}

// knownCommand refuses words that name no command before any flag is read: a
// flag of a command that is not there says nothing.
func knownCommand(root *cobra.Command, args []string) error {
	at := root
	for i, word := range args {
		if word == "--" && at == root {
			continue
		}
		if word == "--" || word == cobra.ShellCompRequestCmd || word == cobra.ShellCompNoDescRequestCmd {
			return nil
		}
		if strings.HasPrefix(word, "-") && (word != "-" || at != root) {
			if at == root && i == 0 && word != "-h" && word != "--help" && len(args) > 1 {
				return fmt.Errorf("rollchange: the command comes first, then its flags: rollchange COMMAND FILE %s; see rollchange help", legible.Short(word))
			}
			return nil
		}
		next := sub(at, word)
		switch {
		case next != nil:
			at = next
		case at.Name() == "help" && at.Parent() == root:
			return knownCommand(root, args[i:])
		case at == root || at.Name() == "completion" && at.Parent() == root:
			return fmt.Errorf("%s: no command %s; %s", at.CommandPath(), legible.Quote(word), nearCommand(at, word))
		default:
			return nil
		}
	}
	return nil
}

func sub(cmd *cobra.Command, name string) *cobra.Command {
	for _, c := range cmd.Commands() {
		if c.Name() == name || c.HasAlias(name) {
			return c
		}
	}
	return nil
}

// nearCommand says which command is near a word, or which there are.
func nearCommand(cmd *cobra.Command, word string) string {
	var names, near []string
	for _, c := range cmd.Commands() {
		if names = append(names, c.Name()); len(word) > 1 && strings.HasPrefix(c.Name(), strings.ToLower(word)) {
			near = append(near, c.Name())
		}
	}
	if other := otherWords[strings.ToLower(word)]; other != "" && cmd == cmd.Root() {
		near = []string{other}
	}
	if hint := scenarios.DidYouMean(word, names); len(near) == 0 && hint != "" && len(word) > 2 {
		return strings.TrimPrefix(hint, "; ")
	}
	if len(near) > 0 {
		return "did you mean " + strings.Join(near, " or ") + "?"
	}
	return "there are " + strings.Join(names, ", ")
}

// flagError says what is wrong with a flag, which one is near, and which
// command has it when this one does not.
func flagError(cmd *cobra.Command, err error) error {
	what, hint := legible.Visible(err.Error()), ""
	var unknown *pflag.NotExistError
	var invalid *pflag.InvalidValueError
	switch {
	case errors.As(err, &unknown):
		hint = nearFlag(cmd, unknown)
	case errors.As(err, &invalid):
		kind := map[string]string{"int": "a whole number", "float64": "a number", "bool": "true or false"}[invalid.GetFlag().Value.Type()]
		if kind != "" {
			what = fmt.Sprintf("--%s: %s is not %s", invalid.GetFlag().Name, legible.Quote(invalid.GetValue()), kind)
		}
	}
	if hint == "" {
		hint = fmt.Sprintf("; see %s --help", cmd.CommandPath())
	}
	return fmt.Errorf("%s: %s%s", cmd.CommandPath(), what, hint)
}

func nearFlag(cmd *cobra.Command, e *pflag.NotExistError) string {
	name := e.GetSpecifiedName()
	if short := e.GetSpecifiedShortnames(); len(short) > 1 { // -json
		name, _, _ = strings.Cut(short, "=")
	}
	var names []string
	cmd.Flags().VisitAll(func(f *pflag.Flag) {
		if !f.Hidden {
			names = append(names, f.Name)
		}
	})
	if slices.Contains(names, name) {
		return "; did you mean --" + name + "?"
	}
	var others []string
	each(cmd.Root(), func(c *cobra.Command) {
		if c.Flags().Lookup(name) != nil && name != "help" && len(name) > 1 {
			others = append(others, c.CommandPath())
		}
	})
	near := scenarios.DidYouMean(name, names)
	switch {
	case len(others) > 3:
		return fmt.Sprintf("; it is a flag of %s and others", strings.Join(others[:3], ", "))
	case len(others) > 0:
		return "; it is a flag of " + strings.Join(others, ", ")
	case near != "" && len(name) > 2:
		return strings.Replace(near, "did you mean ", "did you mean --", 1)
	}
	return ""
}

func each(cmd *cobra.Command, visit func(*cobra.Command)) {
	visit(cmd)
	for _, c := range cmd.Commands() {
		each(c, visit)
	}
}
