//go:build !windows

package main

import "os"

// coloured says whether a terminal understands escape sequences.
func coloured(*os.File) bool { return true }
