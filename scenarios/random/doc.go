// Package random draws scenarios that are valid and strange: every key of the
// table, every law, levels that are equal, times that are zero, ramps steeper
// and shallower than others, everything at once. Tests run them.
//
//  1. Draw decides from a seed how the scenario is to be (mood.go).
//  2. Every row of the key table is drawn from its kind, unit and range, as the
//     example in its row is written; a stream of chance of its own for each key
//     means that a new key leaves the others as they were (draw.go, number.go).
//  3. Hooks say what a key hangs on where its range alone would make most
//     scenarios invalid or slow (hooks.go).
//  4. What scenarios.Parse refuses is given, drawn anew or dropped, as its
//     message names it (mend.go).
//  5. Out comes a Scenario that writes itself as TOML (text.go), can be written
//     in other units and sizes (change.go), and made short while it still shows
//     what is wrong (shrink.go).
//
// A key that is new in the table is drawn without a word here. It needs a hook
// only when most of what it then draws is refused.
package random
