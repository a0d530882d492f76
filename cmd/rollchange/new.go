package main

import (
	"fmt"
	"io"
	"os"
	"sort"
	"strings"

	"github.com/spf13/cobra"

	"rollchange/model/legible"
	"rollchange/scenarios"
)

func newNew() *cobra.Command {
	var template string
	var force bool
	names := templateNames()
	cmd := &cobra.Command{
		Use:   "new [FILE]",
		Short: "Write a commented scenario to start from",
		Long: "New writes a commented scenario, or a stop log, to FILE or to standard output. Templates:\n" +
			templateList(),
		Example: "  rollchange new line.toml\n  rollchange new line.toml --template laminator",
		Args:    cobra.MaximumNArgs(1),
		RunE: func(cmd *cobra.Command, args []string) error {
			for _, t := range templatesAndLog() {
				if t.Name != template {
					continue
				}
				write := func(w io.Writer) error {
					_, err := w.Write(t.Text)
					return err
				}
				if len(args) == 0 || args[0] == "-" {
					return write(cmd.OutOrStdout())
				}
				if _, err := os.Stat(args[0]); err == nil && !force {
					return fmt.Errorf("rollchange new: %s exists already; --force overwrites it", legible.Visible(args[0]))
				}
				if err := writes(cmd, args[0], ""); err != nil {
					return err
				}
				if err := saveText(cmd, args[0], write); err != nil {
					return err
				}
				fmt.Fprintf(cmd.ErrOrStderr(), "wrote %s; next: rollchange %s %[1]s\n", legible.Visible(args[0]), next(t))
				return nil
			}
			return fmt.Errorf("rollchange new: no template %q; choose from %s", template, strings.Join(names, ", "))
		},
	}
	cmd.Flags().StringVar(&template, "template", "label_press", "which template: "+strings.Join(names, ", "))
	cmd.Flags().BoolVar(&force, "force", false, "overwrite an existing file")
	return cmd
}

// templatesAndLog are the shipped scenarios and the shipped stop log with its production.
func templatesAndLog() []scenarios.Template {
	return append(scenarios.Templates(), scenarios.StopLog(), scenarios.Production())
}

// next is the command that reads a template.
func next(t scenarios.Template) string {
	switch t.Name {
	case scenarios.StopLog().Name:
		return "fit"
	case scenarios.Production().Name:
		return "fit LOG --into SCENARIO -o NEW.toml --production"
	}
	return "check"
}

func templateNames() []string {
	var names []string
	for _, t := range templatesAndLog() {
		names = append(names, t.Name)
	}
	return names
}

func templateList() string {
	var b strings.Builder
	for _, t := range templatesAndLog() {
		fmt.Fprintf(&b, "  %-22s %s\n", t.Name, t.Title)
	}
	return b.String()
}

// sortedNames lists the keys of a map in order.
func sortedNames[T any](m map[string]T) []string {
	var list []string
	for k := range m {
		list = append(list, k)
	}
	sort.Strings(list)
	return list
}
