// Package learn makes the laws of a line from its stop log.
//
//  1. A records.Log comes in, and Options: what its causes are in a scenario.
//  2. Of gives, for each cause, how often the line stopped for it, how long, and
//     the laws that package fit makes of both (cause.go).
//     Propose says what causes may be by their words, for a person to confirm
//     (propose.go); Shapes what pictures of their laws show (shape.go).
//  3. Fragment writes the laws as TOML (fragment.go, number.go).
//  4. Into writes them into the text of a scenario, whose comments and other lines
//     stay (into.go, text.go); Off is what the engine adds to a repair (off.go).
//
// It says nothing in words but the comments of what it writes. The next step is
// scenarios.Parse.
package learn
