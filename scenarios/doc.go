// Package scenarios turns the TOML text of a scenario into a model.Study.
//
//  1. Load or Parse takes the text (a file, standard input, a shipped template).
//  2. Every [[alternative]] is laid over the base, table by table (merge.go).
//  3. The key table (keys.go and its neighbours) reads each value: name,
//     meaning, unit, range and default stand there and nowhere else. The
//     reference that the tool prints and the JSON Schema come from it too.
//  4. The rules across keys follow (rules.go).
//  5. Out comes a Scenario with a model.Study, or all errors at once, each with
//     its line and how to write it right.
//
// The next package is sim, which runs the study.
package scenarios
