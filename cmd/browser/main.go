//go:build !js

package main

import (
	"bufio"
	"fmt"
	"os"
)

// mostRequest is the longest request, bytes: a scenario is much shorter.
const mostRequest = 16 << 20

// main answers a request a line, so that the engine of a page can be asked without one.
func main() {
	in := bufio.NewScanner(os.Stdin)
	in.Buffer(nil, mostRequest)
	var e engine
	for in.Scan() {
		fmt.Println(e.ask(in.Text()))
	}
	if err := in.Err(); err != nil {
		fmt.Fprintln(os.Stderr, err)
		os.Exit(2)
	}
}
