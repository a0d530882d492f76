package main

import (
	"fmt"
	"io"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"rollchange/scenarios"
)

func newKeys() *cobra.Command {
	var schema, markdown bool
	cmd := &cobra.Command{
		Use:   "keys [WORD]",
		Short: "The reference of every scenario key",
		Long: `Keys prints the reference of every scenario key, from the table that the tool
itself reads scenarios by: meaning, how it is written, range, default, when it
is needed. With a WORD only the keys that hold it. --schema prints a JSON Schema
for editors.`,
		Example: "  rollchange keys\n  rollchange keys unwind.storage\n  rollchange keys --schema > rollchange.schema.json",
		Args:    cobra.MaximumNArgs(1),
		RunE: func(cmd *cobra.Command, args []string) error {
			w := cmd.OutOrStdout()
			if schema {
				_, err := w.Write(scenarios.Schema())
				return err
			}
			word := strings.Join(args, "")
			found := slices.DeleteFunc(scenarios.Keys(), func(k scenarios.Key) bool { return !strings.Contains(k.Path, word) })
			if len(found) == 0 {
				return fmt.Errorf("rollchange keys: no key holds %q; rollchange keys lists all", word)
			}
			if markdown {
				return keysMarkdown(w, found)
			}
			return keysText(w, found)
		},
	}
	cmd.Flags().BoolVar(&schema, "schema", false, "print a JSON Schema of scenarios")
	cmd.Flags().BoolVar(&markdown, "markdown", false, "print a Markdown table")
	cmd.MarkFlagsMutuallyExclusive("schema", "markdown")
	return cmd
}

// details are the facts of a key beside its meaning, in words.
func details(k *scenarios.Key) []string {
	kind := k.Kind
	if len(k.Choices) > 0 {
		kind = "one of " + strings.Join(k.Choices, ", ")
	}
	d := []string{kind}
	if k.Dim != "" {
		if units := k.Dim.Units(); units != "" {
			d = append(d, "in "+units)
		}
	}
	for _, x := range []struct{ head, text string }{{"", k.Range}, {"default ", k.Default}, {"needed ", k.Needed}, {"used by ", k.UsedBy}} {
		if x.text != "" {
			d = append(d, x.head+x.text)
		}
	}
	return d
}

func keysText(w io.Writer, keys []scenarios.Key) error {
	var b strings.Builder
	table := "-"
	for i := range keys {
		k := &keys[i]
		name := k.Path
		t := ""
		if j := strings.LastIndexByte(name, '.'); j >= 0 {
			t, name = name[:j], name[j+1:]
		}
		if t != table {
			table = t
			head := "[" + t + "]"
			if list, ok := strings.CutSuffix(t, "[]"); ok {
				head = "[[" + list + "]]"
			}
			if t == "" {
				head = "(at the top)"
			}
			fmt.Fprintf(&b, "%s\n", head)
		}
		fmt.Fprintf(&b, "  %-18s %s\n  %-18s   %s\n", name, k.Meaning, "", strings.Join(details(k), "; "))
	}
	_, err := io.WriteString(w, b.String())
	return err
}

func keysMarkdown(w io.Writer, keys []scenarios.Key) error {
	var b strings.Builder
	b.WriteString("| key | meaning | written as | range | default | needed | used by |\n|---|---|---|---|---|---|---|\n")
	for i := range keys {
		k := &keys[i]
		fmt.Fprintf(&b, "| `%s` | %s | %s | %s | %s | %s | %s |\n", k.Path, k.Meaning, strings.Join(details(k)[:1], ""), k.Range, code(k.Default), k.Needed, k.UsedBy)
	}
	_, err := io.WriteString(w, b.String())
	return err
}

func code(s string) string {
	if s == "" {
		return ""
	}
	return "`" + s + "`"
}
