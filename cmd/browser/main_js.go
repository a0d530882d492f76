package main

import "syscall/js"

// main gives the page its one function, rollchange(request) -> reply, both JSON.
func main() {
	var e engine
	js.Global().Set("rollchange", js.FuncOf(func(_ js.Value, args []js.Value) any {
		if len(args) != 1 || args[0].Type() != js.TypeString {
			return e.ask("")
		}
		return e.ask(args[0].String())
	}))
	select {} // the page ends it
}
