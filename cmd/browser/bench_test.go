package main

import (
	"fmt"
	"testing"

	"rollchange/scenarios"
)

// BenchmarkPrice is what a price that is moved takes: begin and a rough answer. The page
// takes some five times as long.
func BenchmarkPrice(b *testing.B) {
	for _, x := range scenarios.Templates() {
		b.Run(x.Name, func(b *testing.B) {
			var e engine
			ask := func(s string) {
				if reply := e.ask(s); len(reply) < 30 {
					b.Fatal(reply)
				}
			}
			ask(string(appendJSON(nil, object{{"ask", "open"}, {"name", x.Name}, {"text", string(x.Text)}})))
			ask(`{"ask":"begin"}`)
			for e.open.steps.Done() < e.open.steps.Need() {
				e.ask(`{"ask":"step"}`)
			}
			i := 0
			for b.Loop() {
				i++
				ask(fmt.Sprintf(`{"ask":"begin","set":[{"key":"economics.material_cost","value":"%d.1"}]}`, i%7))
				ask(`{"ask":"answer","draws":250}`)
			}
		})
	}
}
