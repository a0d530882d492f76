package main

import (
	"fmt"
	"slices"

	"github.com/spf13/cobra"

	"rollchange/model"
	"rollchange/model/legible"
	"rollchange/scenarios"
)

// setAbove are the flags that say a key of the scenario in a word of their own.
var setAbove = []struct{ key, flag string }{
	{"run.seed", "seed"}, {"run.replications", "replications"}, {"run.horizon", "horizon"}, {"run.controls", "controls"}, {"run.records", "records"}, {"units", "units"},
}

// overrides are what the flags of a command lay over its scenario.
func (o *options) overrides(cmd *cobra.Command) ([]scenarios.Override, error) {
	var over []scenarios.Override
	for _, text := range o.set {
		x := scenarios.ParseSet(text)
		for _, f := range setAbove {
			if x.Key == f.key && cmd.Flags().Changed(f.flag) {
				return nil, fmt.Errorf("rollchange: --set %s: --%s sets it too; give one of them", legible.Visible(x.Key), f.flag)
			}
		}
		over = append(over, x)
	}
	for _, f := range setAbove {
		if cmd.Flags().Changed(f.flag) {
			over = append(over, scenarios.Override{Key: f.key, Value: cmd.Flags().Lookup(f.flag).Value.String()})
		}
	}
	return over, nil
}

// tellSet says on stderr what was set, where the answer has no place for it.
func (o *options) tellSet(cmd *cobra.Command, s *scenarios.Scenario) {
	if set := about(s).SetSentence(); set != "" && (o.csv || o.plots != "" || cmd.Name() == "plot") {
		fmt.Fprintln(cmd.ErrOrStderr(), set)
	}
}

// addBase adds the flag of a command that compares alternatives with the first.
func (o *options) addBase(cmd *cobra.Command) {
	cmd.Flags().StringVar(&o.base, "base", "", "compare with the alternative of this name instead of the first")
}

// arrange puts the alternative of --base first, and leaves of the others the one
// of --alternative.
func (o *options) arrange(study *model.Study) error {
	if o.base != "" {
		if err := toFront(study, o.base); err != nil {
			return err
		}
	}
	if o.alternative == "" {
		return nil
	}
	first := study.Alternatives[0]
	if err := keepAlternative(study, o.alternative); err != nil {
		return err
	}
	if o.base != "" && o.base != o.alternative {
		study.Alternatives = []model.Alternative{first, study.Alternatives[0]}
	}
	return nil
}

// toFront puts the alternative of a name first; the others stay as they come.
func toFront(study *model.Study, name string) error {
	all := study.Alternatives
	at := slices.IndexFunc(all, func(a model.Alternative) bool { return a.Name == name })
	if at < 0 {
		return noAlternative("--base", name, all)
	}
	study.Alternatives = slices.Concat(all[at:at+1], all[:at], all[at+1:])
	return nil
}

// noAlternative says which alternatives there are.
func noAlternative(flag, name string, all []model.Alternative) error {
	var names []string
	for _, a := range all {
		names = append(names, a.Name)
	}
	return fmt.Errorf("rollchange: %s: no alternative %q; the scenario has %q", flag, name, names)
}
