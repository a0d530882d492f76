package main

import (
	"fmt"
	"os"
	"testing"
)

// asCommand is the variable that makes the program of the tests the command itself.
const asCommand = "ROLLCHANGE_TEST_COMMAND"

// TestMain is the command where a test starts it as one, which saves linking it
// for each.
func TestMain(m *testing.M) {
	if os.Getenv(asCommand) == "1" {
		main()
	}
	// No test looks at what the user has kept, and none keeps anything there: programs
	// that a test starts have a folder of their own.
	folder, err := os.MkdirTemp("", "")
	if err == nil {
		err = os.Setenv("ROLLCHANGE_CACHE", folder)
	}
	if err != nil {
		fmt.Fprintln(os.Stderr, err)
		os.Exit(1)
	}
	code := m.Run()
	_ = os.RemoveAll(folder)
	os.Exit(code)
}
