package scenarios

import (
	"fmt"
	"strings"

	"rollchange/model"
)

// kind is how the value of a key is written.
type kind string

const (
	quantity kind = "quantity"                           // "150 m/min"
	varying  kind = "quantity or distribution"           // "4 min" or { dist = … }
	level    kind = "quantity or share of capacity"      // "30 m" or "50 %"
	number   kind = "number"                             // 12.5
	vnumber  kind = "number or distribution"             // 12.5, "12.5 /m2" or { dist = … }
	integer  kind = "whole number"                       // 3
	text     kind = "text"                               // "…"
	flag     kind = "true or false"                      //
	choice   kind = "one of"                             // "manual"
	special  kind = "quantity or \"auto\""               // run.warm_up
	perRoll  kind = "true or a number of finished rolls" // crew.duty.per_roll
	fraction kind = "share"                              // "95 %" or 0.95
)

// The kinds of keys that hold a value for each year.
const (
	shares  kind = "list of shares"            // ["60 %", "90 %"]
	amounts kind = "list of amounts or shares" // [300000, 200000] or ["60 %", "40 %"]
)

// Key is one key of a scenario: the one place where its meaning, unit, range
// and default stand. Reading, checking, the printed reference and the schema
// for editors all come from the table of keys.
type Key struct {
	Path    string          // full, elements of arrays as "stop[].every"
	Meaning string          // what it is, in the words of the trade
	Kind    string          // how the value is written
	Dim     model.Dimension // what it measures; empty for text and the like
	Choices []string
	Range   string // in words
	Default string // as it would be written; empty: none
	Needed  string // when it has to be given; empty: never
	UsedBy  string // kinds of roll change that use it; empty: all

	kind             kind
	low, high        float64 // SI; limits of the value and of the support of a distribution
	lowOpen, bounded bool
	signed           bool
	long             bool   // of a text: of many lines
	dated            bool   // of a text: a day
	example          string // as it would be written, where Dim.Example would be odd
	set              func(t *target, v value)
}

// value is what was read for a key.
type value struct {
	dist    model.Dist // quantity, varying, number
	share   bool       // a level given as a share of the capacity
	text    string
	flag    bool
	integer int64
	texts   []string
	wholes  []int
	numbers []float64 // of a list by year
}

// num is the value of a quantity that does not vary.
func (v value) num() float64 { return v.dist.A }

// target is what the keys are set on: one alternative, with the study's own
// settings beside it, and the element of the array that is being read.
type target struct {
	study *model.Study
	alt   *model.Alternative
	stop  *model.Stop
	duty  *model.Duty
	pause *model.Break
	group *model.Group
	sweep *model.SweepOf
	live  *string
	cause *model.RecordedCause

	product *model.Product
	list    *ordersRead // nil: no [orders]
	pairs   []pairRead
	pair    *pairRead
	whens   []model.When
	when    *model.When

	given map[string]bool // keys that stand in the scenario
	share map[string]float64
	parts map[string]bool // lists by year that are shares of a sum

	lateSlow bool // rewind.on_late = "slow"
}

func (t *target) line() *model.Line { return &t.alt.Line }

// key builds a row; options refine it.
func key(path string, k kind, dim model.Dimension, meaning string, set func(*target, value), options ...func(*Key)) *Key {
	row := &Key{Path: path, Meaning: meaning, Dim: dim, kind: k, Kind: string(k), set: set}
	for _, o := range options {
		o(row)
	}
	if row.Range == "" && dim != "" && !row.signed {
		row.Range = "0 or above"
		row.bounded = true
		row.high = inf
	}
	return row
}

// The options are written hundreds of times in the table, which is made once: inlined
// they would add 150 kB to the program for a browser.

//go:noinline
func def(s string) func(*Key) { return func(k *Key) { k.Default = s } }

//go:noinline
func needed(s string) func(*Key) { return func(k *Key) { k.Needed = s } }

//go:noinline
func usedBy(s string) func(*Key) { return func(k *Key) { k.UsedBy = s } }

//go:noinline
func oneOf(s ...string) func(*Key) { return func(k *Key) { k.Choices = s } }

// like is how a usual value is written, where that of the dimension would be odd.
//
//go:noinline
func like(s string) func(*Key) { return func(k *Key) { k.example = s } }

func above0(k *Key) { k.Range, k.bounded, k.lowOpen, k.high = "above 0", true, true, inf }
func signed(k *Key) { k.Range, k.signed = "any, signed", true }

// yearly is a share by which something grows or falls a year.
func yearly(k *Key) {
	within(-0.5, 0.5, "-50 % to 50 %")(k)
	k.signed = true
}

//go:noinline
func within(low, high float64, words string) func(*Key) {
	return func(k *Key) { k.Range, k.bounded, k.low, k.high = words, true, low, high }
}

// seen is the key of how many values stand behind another, as observed is in a law.
func seen(path, meaning string, field func(*target) *int, options ...func(*Key)) *Key {
	return key(path, integer, model.Number, meaning+", for what the records leave open", func(t *target, v value) { *field(t) = int(v.integer) }, append(options, within(1, mostObserved, "1 or above"))...)
}

func long(k *Key) { k.long = true }

func shareKey(k *Key) { within(0, 1, "0 % to 100 %")(k) }

// Example is how the key is written.
func (k *Key) Example() string {
	name := k.Path[strings.LastIndexByte(k.Path, '.')+1:]
	switch {
	case k.Default != "" && k.kind != special:
		return name + " = " + k.Default
	case k.kind == text && k.example != "":
		return name + " = " + k.example
	case len(k.Choices) > 0:
		return fmt.Sprintf("%s = %q", name, k.Choices[0])
	case k.kind == text:
		return name + ` = "…"`
	case k.kind == flag || k.kind == perRoll:
		return name + " = true"
	case k.kind == integer:
		return name + " = 2"
	case k.kind == special:
		return name + ` = "8 h"`
	}
	if k.example != "" {
		return name + " = " + k.example
	}
	return name + " = " + k.Dim.Example()
}
