package main

import (
	"os"
	"strconv"
	"strings"
	"testing"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"rollchange/scenarios"
	"rollchange/sim/effort"
)

// offered is what a shell is told, without what it means, and how it goes on.
func offered(t *testing.T, args ...string) (list []string, how string) {
	t.Helper()
	code, out, _ := call(t, "", with([]string{cobra.ShellCompRequestCmd}, args...)...)
	require.Equal(t, exitAnswered, code)
	for _, line := range strings.Split(strings.TrimRight(out, "\n"), "\n") {
		if rest, ok := strings.CutPrefix(line, ":"); ok {
			return list, rest
		}
		name, _, _ := strings.Cut(line, "\t")
		list = append(list, name)
	}
	t.Fatalf("%v: no directive in %q", args, out)
	return nil, ""
}

// The directives of cobra, as a shell reads them.
const anything, nothingElse, noSpace, byEnding, folders = "0", "4", "6", "8", "16"

func TestCompletion(t *testing.T) {
	inFolder(t)
	text := template(t, "label_press") + "\n[[sweep]]\nname = \"faster\"\nvary = \"line.speed=2 m/s\"\n"
	require.NoError(t, os.WriteFile("line.toml", []byte(text), 0o644))
	require.NoError(t, os.WriteFile("broken.toml", []byte("[line]\nspeed = 3\n"), 0o644))
	three := []string{"by hand", "automatic unwind", "automatic unwind and rewind"}
	for line, want := range map[string]struct {
		list []string
		how  string
	}{
		"run|":                                             {[]string{"toml"}, byEnding},
		"run|line.toml|":                                   {nil, nothingElse},
		"size|":                                            {[]string{"crew", "residual", "roll", "speed", "storage"}, nothingElse},
		"size|storage|":                                    {[]string{"toml"}, byEnding},
		"plot|c":                                           {[]string{"cash", "cycle"}, nothingElse},
		"plot|cash|":                                       {[]string{"toml"}, byEnding},
		"plot|cash|line.toml|":                             {nil, nothingElse},
		"plot|cash|line.toml|-o|":                          {[]string{"svg", "png", "pdf"}, byEnding},
		"plot|cash|line.toml|--base|by":                    {[]string{"by hand"}, nothingElse},
		"report|line.toml|-o|":                             {[]string{"html"}, byEnding},
		"run|line.toml|-o|":                                {nil, anything},
		"new|--template|lam":                               {[]string{"laminator", "laminator_savings"}, nothingElse},
		"new|":                                             {[]string{"toml"}, byEnding},
		"merge|part|":                                      {nil, anything},
		"keys|unwind.storage.c":                            {[]string{"unwind.storage.capacity"}, nothingElse},
		"keys|logn":                                        {[]string{"lognormal"}, nothingElse},
		"run|line.toml|--alternative|":                     {three, nothingElse},
		"compare|line.toml|--base|auto":                    {three[1:], nothingElse},
		"compare|line.toml|--base|x":                       {nil, nothingElse},
		"compare|--base|":                                  {nil, nothingElse},
		"compare|-|--base|":                                {nil, nothingElse},
		"compare|broken.toml|--base|":                      {nil, nothingElse},
		"sweep|line.toml|--sweep|":                         {[]string{"faster"}, nothingElse},
		"sweep|--vary|line.sp":                             {[]string{"line.speed="}, noSpace},
		"sweep|--vary|economics":                           {nil, noSpace},
		"sweep|--vary|line.speed=":                         {nil, nothingElse},
		"sweep|line.toml|--vary|stop[":                     {[]string{"stop[0].every=", "stop[plate cleaning].every=", "stop[0].every.mean=", "stop[plate cleaning].every.mean=", "stop[0].repair=", "stop[plate cleaning].repair=", "stop[0].scrap=", "stop[plate cleaning].scrap="}, noSpace},
		"payback|line.toml|--solve|stop[p":                 {[]string{"stop[plate cleaning].every=", "stop[plate cleaning].every.mean=", "stop[plate cleaning].repair=", "stop[plate cleaning].scrap="}, noSpace},
		"run|--set|unwind.change=":                         {[]string{"unwind.change=manual", "unwind.change=zero-speed", "unwind.change=flying"}, nothingElse},
		"run|--set|line.acc":                               {[]string{"line.accel="}, noSpace},
		"run|--set|line.speed=1 m/s|--set|line.dec":        {[]string{"line.decel="}, noSpace},
		"run|line.toml|--set|alternative[by hand].inv":     {[]string{"alternative[by hand].investment=", "alternative[by hand].investment_by_year="}, noSpace},
		"run|line.toml|--set|alternative[by hand].run":     {nil, noSpace},
		"sensitivity|--metric|n":                           {[]string{"npv"}, nothingElse},
		"sensitivity|line.toml|--metric|good_rate,waste.t": {[]string{"good_rate,waste.total", "good_rate,waste.transfer"}, nothingElse},
		"run|--precision|good_r":                           {[]string{"good_rate="}, noSpace},
		"payback|--solve|economics.pr":                     {[]string{"economics.price", "economics.price_change"}, noSpace},
		"payback|--solve|line.sp":                          {[]string{"line.speed="}, noSpace},
		"trace|--around|dep":                               {[]string{"depletion"}, nothingElse},
		"run|--units|":                                     {[]string{"metric", "imperial"}, nothingElse},
		"run|--seed|":                                      {nil, nothingElse},
		"run|--plots|":                                     {nil, folders},
		"size|storage|--station|u":                         {[]string{"unwind"}, nothingElse},
		"completion|":                                      {[]string{"bash", "fish", "powershell", "zsh"}, nothingElse},
	} {
		list, how := offered(t, strings.Split(line, "|")...)
		assert.Equal(t, want.list, list, line)
		assert.Equal(t, want.how, how, line)
	}
}

// What is offered is taken: each key of --set and of --vary, each key of money.
func TestWhatIsOfferedIsTaken(t *testing.T) {
	inFolder(t)
	s, err := scenarios.Files{}.Load("line.toml", nil)
	require.NoError(t, err)
	settings, _ := offered(t, "run", "line.toml", "--set", "")
	own, _ := offered(t, "run", "line.toml", "--set", "alternative[automatic unwind].")
	require.Greater(t, len(settings), 100)
	require.Greater(t, len(own), 100)
	for i, x := range append(settings, own...) {
		if i%effort.Of(10, 8, 1) > 0 {
			continue
		}
		_, err := scenarios.Files{}.Load("line.toml", nil, scenarios.ParseSet(x+"?"))
		if err != nil { // the value is none, the key is one
			for _, never := range []string{"no such key", "cannot be set", "is a table", "belongs to", "not a distribution", "say which"} {
				assert.NotContains(t, err.Error(), never, x)
			}
		}
	}
	keys, _ := offered(t, "sweep", "line.toml", "--vary", "")
	require.Greater(t, len(keys), 50)
	for _, x := range keys {
		key := strings.TrimSuffix(x, "=")
		path, of, err := s.PathOf(key)
		require.NoError(t, err, x)
		_, err = scenarios.Numeric(path)
		assert.NoError(t, err, x)
		assert.True(t, of == "" && s.Uses(path), x)
	}
	solve, _ := offered(t, "payback", "--solve", "")
	args := with([]string{"payback", "line.toml"}, short...)
	for _, x := range solve {
		if !strings.HasSuffix(x, "=") {
			args = append(args, "--solve", x)
		}
	}
	require.Greater(t, len(args), 30)
	if testing.Short() {
		args = args[:12] // three of them
	}
	must(t, with(args, "--draws", strconv.Itoa(effort.Of(1000, 1000, 10000)))...)
}

// No value is completed by the files of the folder unless it is a file.
func TestEveryFlagCompletes(t *testing.T) {
	files := []string{"output", "resume"}
	each(newRoot(), func(cmd *cobra.Command) {
		cmd.Flags().VisitAll(func(f *pflag.Flag) {
			if f.Value.Type() == "bool" {
				return
			}
			complete, known := cmd.GetFlagCompletionFunc(f.Name)
			if assert.True(t, known, "%s --%s", cmd.Name(), f.Name) {
				if _, how := complete(cmd, nil, ""); how == cobra.ShellCompDirectiveDefault {
					assert.Contains(t, files, f.Name, cmd.Name())
				}
			}
		})
	})
}

func TestEveryShellHasACompletion(t *testing.T) {
	for _, shell := range []string{"bash", "zsh", "fish", "powershell"} {
		assert.Contains(t, must(t, "completion", shell), "__complete", shell)
	}
}
