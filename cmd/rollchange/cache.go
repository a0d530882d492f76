package main

import (
	"os"
	"path/filepath"

	"rollchange/sim/kept"
)

// cache is what earlier runs of this program have simulated, in the user's folder for
// such things or in that of ROLLCHANGE_CACHE; nil where there is none.
func cache() *kept.Store {
	folder := os.Getenv("ROLLCHANGE_CACHE")
	if folder == "" {
		all, err := os.UserCacheDir()
		if err != nil {
			return nil
		}
		folder = filepath.Join(all, "rollchange")
	}
	folder, err := filepath.Abs(folder)
	if err != nil {
		return nil
	}
	// What runs, though another may stand under its name by now.
	program := "/proc/self/exe"
	if _, err := os.Stat(program); err != nil {
		if program, err = os.Executable(); err != nil {
			return nil
		}
	}
	return kept.New(folder, program)
}
