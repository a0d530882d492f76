package machine

import (
	"bytes"
	"encoding/json"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"pgregory.net/rapid"

	"rollchange/out/invented"
)

type encodedName string

type encodedInside struct {
	Inside string   `json:"inside"`
	Maybe  *float64 `json:"maybe,omitempty"`
}

// encoded has a field of every kind that this package writes.
type encoded struct {
	Text  string  `json:"text"`
	Yes   bool    `json:"yes"`
	N     int     `json:"n"`
	Big   int64   `json:"big"`
	Seed  uint64  `json:"seed"`
	Share float64 `json:"share"`
	encodedInside
	Known   *float64                 `json:"known"`
	Shares  map[string]float64       `json:"shares"`
	Any     any                      `json:"any"`
	Mixed   []map[string]any         `json:"mixed"`
	List    []encodedInside          `json:"list"`
	More    *encodedInside           `json:"more,omitempty"`
	NoText  string                   `json:"no_text,omitempty"`
	NoYes   bool                     `json:"no_yes,omitempty"`
	NoN     int                      `json:"no_n,omitempty"`
	NoX     float64                  `json:"no_x,omitempty"`
	NoList  []string                 `json:"no_list,omitempty"`
	NoMap   map[string]string        `json:"no_map,omitempty"`
	Renamed map[encodedName][]string `json:"renamed"`
}

func byLibrary(v any) string {
	var b bytes.Buffer
	e := json.NewEncoder(&b)
	e.SetEscapeHTML(false)
	e.SetIndent("", "  ")
	if e.Encode(v) != nil {
		return "error"
	}
	return b.String()
}

func byUs(v any) string {
	var b bytes.Buffer
	if encode(&b, v) != nil {
		return "error" + b.String()
	}
	return b.String()
}

// Whatever is written is written as the standard library writes it.
func TestEncodesAsTheLibrary(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		text := rapid.OneOf(rapid.String(), rapid.SampledFrom(invented.HostileNames), rapid.Map(rapid.SliceOfN(rapid.Byte(), 0, 6), func(b []byte) string { return string(b) }),
			rapid.Map(rapid.SliceOfN(rapid.RuneFrom([]rune("\x00\b\f\n\r\t\v\x1f\x7f\"\\/<>&\u2028\u2029\ufffdé漢")), 0, 8), func(r []rune) string { return string(r) }))
		number := rapid.OneOf(rapid.Float64(), rapid.SampledFrom([]float64{0, math.Copysign(0, -1), 1e-6, 9.99e-7, 1e-10, 1e-100, 1e20, 1e21, -1e21, math.MaxFloat64, 5e-324, 100, math.NaN(), math.Inf(1)}))
		pointer := rapid.Ptr(number, true)
		inside := rapid.Custom(func(t *rapid.T) encodedInside { return encodedInside{text.Draw(t, "inside"), pointer.Draw(t, "maybe")} })
		v := encoded{Text: text.Draw(t, "text"), Yes: rapid.Bool().Draw(t, "yes"), N: rapid.Int().Draw(t, "n"), Big: rapid.Int64().Draw(t, "big"), Seed: rapid.Uint64().Draw(t, "seed"),
			encodedInside: inside.Draw(t, "embedded"), Known: pointer.Draw(t, "known"), List: rapid.SliceOfN(inside, 0, 3).Draw(t, "list"), More: rapid.Ptr(inside, true).Draw(t, "more"),
			NoText: text.Draw(t, "no text"), NoYes: rapid.Bool().Draw(t, "no yes"), NoN: rapid.IntRange(0, 2).Draw(t, "no n"), NoX: number.Draw(t, "no x"), NoList: rapid.SliceOfN(text, 0, 2).Draw(t, "no list")}
		if rapid.Bool().Draw(t, "maps") {
			v.Shares, v.NoMap = rapid.MapOfN(text, number, 0, 4).Draw(t, "shares"), rapid.MapOfN(text, text, 0, 2).Draw(t, "no map")
			v.Mixed = []map[string]any{{text.Draw(t, "name"): v.Known, "text": v.Text}, {}, nil}
			v.Any, v.Renamed = v.Mixed, map[encodedName][]string{"none": nil, "no": {}, "some": {v.Text}}
			v.List = nil
		}
		assert.Equal(t, byLibrary(v), byUs(v))
	})
}
