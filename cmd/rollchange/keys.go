package main

import (
	"fmt"
	"io"
	"strings"

	"github.com/spf13/cobra"

	"rollchange/model/legible"
	"rollchange/out/table"
	"rollchange/scenarios"
)

func newKeys() *cobra.Command {
	var schema, markdown bool
	cmd := &cobra.Command{
		Use:   "keys [WORD]...",
		Short: "Print the reference of every scenario key",
		Long: `Keys prints the reference of every scenario key: meaning, how it is written, range,
default, when it is needed; then the distributions and source. With a WORD it prints
only the keys that contain it, or that the trade calls by that word: festoon,
turret, gsm. --schema prints a JSON Schema for editors.`,
		Example: "  rollchange keys\n  rollchange keys unwind.storage\n  rollchange keys accumulator\n  rollchange keys lognormal\n  rollchange keys --schema > rollchange.schema.json",
		RunE: func(cmd *cobra.Command, args []string) error {
			w := cmd.OutOrStdout()
			if schema {
				_, err := w.Write(scenarios.Schema())
				return err
			}
			word := strings.Join(args, " ")
			found, laws := scenarios.Find(word), scenarios.FindLaws(word)
			source, seen := word == "" || strings.EqualFold(word, "source"), word == "" || strings.EqualFold(word, "observed")
			if len(found)+len(laws) == 0 && !source {
				hint := scenarios.NearWord(word)
				if hint == "" {
					hint = "; rollchange keys lists all"
				}
				return fmt.Errorf("rollchange keys: no key or distribution contains %s%s", legible.Quote(word), hint)
			}
			if markdown {
				return keysMarkdown(w, found, laws)
			}
			return keysText(w, found, laws, source, seen, (&options{}).screen(cmd))
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

func keysText(w io.Writer, keys []scenarios.Key, laws []scenarios.LawInfo, source, seen bool, to table.Screen) error {
	var b strings.Builder
	section := "-"
	for i := range keys {
		k := &keys[i]
		name := k.Path
		t := ""
		if j := strings.LastIndexByte(name, '.'); j >= 0 {
			t, name = name[:j], name[j+1:]
		}
		if t != section {
			section = t
			head := "[" + t + "]"
			if list, ok := strings.CutSuffix(t, "[]"); ok {
				head = "[[" + list + "]]"
			}
			if t == "" {
				head = "(at the top)"
			}
			fmt.Fprintf(&b, "%s\n", head)
		}
		b.WriteString(to.Entry(name, k.Meaning, strings.Join(details(k), "; ")))
	}
	if len(laws) > 0 {
		b.WriteString("distributions, instead of a quantity that may vary\n")
	}
	for _, l := range laws {
		b.WriteString(to.Entry(l.Name, l.Meaning, params(l)+"; "+l.Example()))
	}
	if source {
		b.WriteString("source, in any table and in any distribution\n" + to.Entry("source", "Where the figures come from; the report shows it beside them", `text; source = "data sheet of the splicer, page 4"`))
	}
	if seen {
		b.WriteString("observed, in any distribution but those of prices\n" + to.Entry("observed", "How many values stand behind it; an empirical one has its own. With them every figure says what the records leave open (--records)", "whole number, 1 or above; observed = 37"))
	}
	_, err := io.WriteString(w, b.String())
	return err
}

// params are the parameters of a law, in words.
func params(l scenarios.LawInfo) string {
	text := strings.Join(l.Params, ", ")
	if len(l.Or) > 0 {
		text += "; or " + strings.Join(l.Or, ", ")
	}
	if len(l.May) > 0 {
		text += "; " + strings.Join(l.May, ", ") + " where it does not begin at 0 (a mean counts from 0, a scale from there)"
	}
	if l.Name == "empirical" {
		text += " (beside the scenario; column is a head or a number; give the unit in the head, as in \"dwell [s]\", or with unit)"
	}
	return text
}

func keysMarkdown(w io.Writer, keys []scenarios.Key, laws []scenarios.LawInfo) error {
	var b strings.Builder
	b.WriteString("| key | meaning | written as | range | default | needed | used by |\n|---|---|---|---|---|---|---|\n")
	for i := range keys {
		k := &keys[i]
		fmt.Fprintf(&b, "| `%s` | %s | %s | %s | %s | %s | %s |\n", k.Path, k.Meaning, strings.Join(details(k)[:1], ""), k.Range, code(k.Default), k.Needed, k.UsedBy)
	}
	b.WriteString("\n| distribution | what for | parameters | written as |\n|---|---|---|---|\n")
	for _, l := range laws {
		fmt.Fprintf(&b, "| `%s` | %s | %s | `%s` |\n", l.Name, l.Meaning, params(l), l.Example())
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
