package scenarios

import (
	"bytes"
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/BurntSushi/toml"
	"github.com/santhosh-tekuri/jsonschema/v6"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"rollchange/sim/effort"
)

func compile(t *testing.T) *jsonschema.Schema {
	t.Helper()
	doc, err := jsonschema.UnmarshalJSON(bytes.NewReader(Schema()))
	require.NoError(t, err)
	c := jsonschema.NewCompiler()
	require.NoError(t, c.AddResource("scenario.json", doc))
	schema, err := c.Compile("scenario.json")
	require.NoError(t, err)
	return schema
}

// asJSON is a TOML text as the JSON value that an editor checks.
func asJSON(t *testing.T, text string) any {
	t.Helper()
	var raw map[string]any
	_, err := toml.Decode(text, &raw)
	require.NoError(t, err)
	return throughJSON(t, raw)
}

func throughJSON(t *testing.T, raw map[string]any) any {
	t.Helper()
	b, err := json.Marshal(raw)
	require.NoError(t, err)
	v, err := jsonschema.UnmarshalJSON(bytes.NewReader(b))
	require.NoError(t, err)
	return v
}

func TestSchemaAcceptsShippedScenarios(t *testing.T) {
	schema := compile(t)
	for _, x := range Templates() {
		assert.NoError(t, schema.Validate(asJSON(t, string(x.Text))), x.Name)
	}
	assert.NoError(t, schema.Validate(asJSON(t, "[unwind.storage]\ncapacity = \"60 m\"\nrun_level = \"90 %\"\n[run]\nwarm_up = \"auto\"\n[line]\naccel = \"1 m/s²\"")))
}

func TestSchemaRefuses(t *testing.T) {
	schema := compile(t)
	for _, text := range []string{
		"line = { speeed = \"1 m/s\" }",
		"line = { speed = 150 }",
		"line = { speed = \"150 m\" }",
		"unwind = { change = \"by magic\" }",
		"unwind = { dwell = { dist = \"uniform\", min = \"1 s\" } }",
		"unwind = { dwell = { dist = \"gamma\", shape = 0, scale = \"1 s\" } }",
		"run = { replications = 0 }",
		"[[stop]]\nevery = \"1 h\"\nrepair = \"1 min\"",
		"[[alternative]]\ninvestment = 1",
		"[[alternative]]\nname = \"a\"\nrun = { seed = 2 }",
		"crew = { duty = [ { name = \"x\", per_roll = false, takes = \"1 min\" } ] }",
		"line = { speed = \"-110 m/min\" }",
		"line = { speed = \"0 m/min\" }",
		"line = { speed = \"0.0e5 m/min\" }",
		"unwind = { splice_success = \"199 %\" }",
		"unwind = { splice_success = \"100.1 %\" }",
		"unwind = { splice_success = \"-1 %\" }",
		"unwind = { dwell = \"-8 s\" }",
		"unwind = { dwell = { dist = \"normal\", mean = \"-8 s\", sd = \"1 s\" } }",
		"unwind = { dwell = { dist = \"normal\", mean = \"8 s\" } }",
		"unwind = { dwell = { dist = \"normal\", mean = \"8 s\", sd = \"1 s\", shape = 2 } }",
		"unwind = { dwell = { dist = \"empirical\", values = [\"8 s\", \"-1 s\"] } }",
		"unwind = { dwell = { dist = \"empirical\", file = \"a.csv\", values = [\"8 s\"] } }",
		"unwind = { storage = { run_level = \"120 %\" } }",
		"unwind = { storage = { strands = 0 } }",
		"run = { confidence = \"150 %\" }",
		"run = { confidence = 95 }",
		"run = { warm_up = \"-1 h\" }",
		"economics = { price = -0.5 }",
		"economics = { price = \"-0.5 /m2\" }",
		"economics = { life = 0 }",
		"economics = { discount_rate = \"199 %\" }",
		"[[alternative]]\nname = \"a\"\nline = { speed = \"-110 m/min\" }",
		"[[alternative]]\nname = \"a\"\ninvestment = -5",
	} {
		assert.Error(t, schema.Validate(asJSON(t, text)), text)
	}
}

func TestSchemaIsTheSameEachTime(t *testing.T) {
	assert.Equal(t, string(Schema()), string(Schema()))
	assert.Less(t, len(Schema()), 89_600, "what stands in several places is defined once")
}

// whole is a scenario with one key only, and what the elements of its array
// always need beside it.
func whole(k *Key, raw any) map[string]any {
	doc := map[string]any{}
	at := doc
	parts := strings.Split(k.Path, ".")
	for i, part := range parts[:len(parts)-1] {
		next := map[string]any{}
		name, several := strings.CutSuffix(part, "[]")
		at[name] = next
		if several {
			at[name] = []any{next}
			array := strings.Join(parts[:i+1], ".") + "."
			for _, other := range table {
				if rest, ok := strings.CutPrefix(other.Path, array); ok && other.Needed == "always" {
					next[rest] = fromText(exampleValue(&other))
				}
			}
		}
		at = next
	}
	at[parts[len(parts)-1]] = raw
	return doc
}

// Whatever Parse reads as the value of a key, the schema accepts.
func TestSchemaAcceptsWhateverIsRead(t *testing.T) {
	effort.NotInRace(t)
	schema := compile(t)
	numbers := []string{"0", "1", "-1", "+1", "0.5", ".5", "+.5", "5.", "007", "100", "100.0", "99.999", "1e2", "1E-2", "1e+1", "-0", "-0.0", "-0e3", "0.0001", "50", "12.5e0", "00.10"}
	accepted, refused := 0, 0
	for i := range table {
		k := &table[i]
		if i%effort.Of(80, 8, 1) > 0 {
			continue
		}
		units := append(strings.Split(k.Dim.Units(), ", "), "%", "m/s²", "µm", "N·m", "lb/ft2", "")
		raws := []any{true, false, int64(0), int64(1), int64(-1), int64(7), 0.95, -0.5, 2.5, "auto", "text", fromText(exampleValue(k))}
		for _, c := range k.Choices {
			raws = append(raws, c)
		}
		for _, n := range numbers {
			for _, u := range units {
				text := n + " " + u
				raws = append(raws, text, " "+n+u+"  ")
				if k.kind == varying || k.kind == vnumber {
					for _, law := range []string{`{ dist = "uniform", min = "0 %[2]s", max = "%[1]s" }`, `{ dist = "normal", mean = "%[1]s", sd = "1 %[2]s" }`, `{ dist = "exponential", mean = "%[1]s", source = "x" }`,
						`{ dist = "empirical", values = ["%[1]s", "1 %[2]s"] }`, `{ dist = "gamma", mean = "%[1]s", sd = "1 %[2]s" }`, `{ dist = "weibull", shape = 1.5, scale = "%[1]s" }`, `{ dist = "gamma", shape = 2.0, scale = "1 %[2]s", least = "%[1]s" }`} {
						raws = append(raws, fromText(fmt.Sprintf(law, text, u)))
					}
				}
			}
		}
		for _, raw := range raws {
			if _, err := k.read(raw, &data{dir: "."}, 10); err != nil {
				if schema.Validate(throughJSON(t, whole(k, raw))) != nil {
					refused++
				}
				continue
			}
			accepted++
			require.NoError(t, schema.Validate(throughJSON(t, whole(k, raw))), "%s = %v", k.Path, raw)
		}
	}
	few := effort.Of(80, 600, 5000)
	assert.Greater(t, accepted, few)
	assert.Greater(t, refused, few)
	t.Log(accepted, "values that are read,", refused, "that neither takes")
}

// What is wrong in form with the broken scenarios an editor shows too; the rules
// across keys, TOML itself and files it does not know.
func TestSchemaAndBrokenScenarios(t *testing.T) {
	schema := compile(t)
	shows := map[string]bool{}
	for _, name := range strings.Fields("alternative_not_array alternative_without_name array_key_in_inline bare_number confidence_95 fixed_quantity_varies infinity key_in_wrong_table law_with_extra_key least_of_a_uniform misspelt_key observed " +
		"nan negative_time replications_zero run_in_alternative sd_missing seed_negative several_at_once by_year_mixed by_year_negative by_year_no_list learning_above_all learning_bare share_above_100 sd_negative splice_method_unknown splice_three_tapes stop_every_zero stop_not_array stop_without_name table_is_a_number unknown_change unknown_key_in_multiline " +
		"unknown_law unknown_table unknown_unit units_as_people_write value_without_unit values_empty wrong_type wrong_unit zero_speed zero_without_unit control_characters nested_without_end key_of_many_parts " +
		"live_in_an_alternative live_without_vary records_in_an_alternative report_in_an_alternative report_date_of_the_trade report_date_without_quotes records_more_than_planned no_lane orders_mix_of_faults group_names_a_task_twice group_of_nobody group_on_no_such_day group_shifts_in_quotes group_tasks_in_one_text group_without_tasks several_groups_at_once") {
		shows[name] = true
		assert.FileExists(t, filepath.Join(badInputs, name+".toml"))
	}
	files, err := filepath.Glob(badInputs + "/*.toml")
	require.NoError(t, err)
	for _, file := range files {
		text, err := os.ReadFile(file)
		require.NoError(t, err)
		var raw map[string]any
		if _, err := toml.Decode(string(text), &raw); err != nil {
			continue // an editor has said so
		}
		name := strings.TrimSuffix(filepath.Base(file), ".toml")
		doc, err := json.Marshal(raw)
		if err != nil {
			continue // NaN and infinity: JSON has none
		}
		v, err := jsonschema.UnmarshalJSON(bytes.NewReader(doc))
		require.NoError(t, err)
		assert.Equal(t, shows[name], schema.Validate(v) != nil, name)
	}
}
