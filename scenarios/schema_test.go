package scenarios

import (
	"bytes"
	"encoding/json"
	"testing"

	"github.com/BurntSushi/toml"
	"github.com/santhosh-tekuri/jsonschema/v6"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
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
	} {
		assert.Error(t, schema.Validate(asJSON(t, text)), text)
	}
}

func TestSchemaIsTheSameEachTime(t *testing.T) {
	assert.Equal(t, string(Schema()), string(Schema()))
}
