package main

import (
	"testing"

	"github.com/stretchr/testify/assert"
)

// A word or flag that there is none of is named as that, with what is near.
func TestWrongWordsAndFlags(t *testing.T) {
	for _, c := range []struct {
		args []string
		says string
	}{
		{[]string{"qux", "x.toml", "-o", "y"}, `rollchange: no command "qux"; there are check, compare, `},
		{[]string{"rum", "x.toml", "--json"}, `rollchange: no command "rum"; did you mean run?`},
		{[]string{"compar"}, "did you mean compare?"},
		{[]string{"Simulate", "x.toml"}, "did you mean run?"},
		{[]string{"ridge"}, "did you mean size roll?"},
		{[]string{"schema"}, "did you mean keys --schema?"},
		{[]string{"help", "qux"}, `no command "qux"`},
		{[]string{"help", "reprot"}, "did you mean report?"},
		{[]string{"completion", "foo"}, `rollchange completion: no command "foo"; there are bash`},
		{[]string{"--json", "run", "x.toml"}, "the command comes first"},
		{[]string{"-o", "y"}, "the command comes first"},
		{[]string{"--", "qux"}, `no command "qux"`},
		{[]string{"-"}, `no command "-"`},
		{[]string{"size", "stroage", "x", "--risk", "1"}, "did you mean storage?"},
		{[]string{"size", "storage", "--riks", "2", "x"}, "rollchange size storage: unknown flag: --riks; did you mean --risk?"},
		{[]string{"run", "x.toml", "--replicatons", "3"}, "rollchange run: unknown flag: --replicatons; did you mean --replications?"},
		{[]string{"run", "x.toml", "-json"}, "did you mean --json?"},
		{[]string{"run", "--xlsx", "a", "x.toml"}, "it is a flag of rollchange payback, rollchange plan, rollchange report"},
		{[]string{"run", "--workers", "two", "x.toml"}, `--workers: "two" is not a whole number`},
		{[]string{"run", "--no\nsuch\x1b[2J"}, `unknown flag: --no\nsuch\u001b[2J`},
		{[]string{"l\x1bv\u202e"}, `no command "l\u001bv\u202e"`},
	} {
		code, out, errs := call(t, "", c.args...)
		assert.Equal(t, exitBad, code, "%v", c.args)
		assert.Empty(t, out, "%v", c.args)
		assert.Contains(t, errs, c.says, "%v", c.args)
		assert.NotContains(t, errs, "rollchange rollchange")
	}
	for _, args := range [][]string{{"help"}, {"help", "size", "storage"}, {"--help"}, {"run", "--help"}, {"completion"}, {"completion", "bash"}, {"__complete", "ru"}, {}} {
		code, out, errs := call(t, "", args...)
		assert.Equal(t, exitAnswered, code, "%v: %s", args, errs)
		assert.NotEmpty(t, out)
	}
}
