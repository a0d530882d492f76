package main

import "flag"

// go test ./cmd/... -update writes what the command prints; here nothing is written.
var _ = flag.Bool("update", false, "nothing is written here")
