package main

import (
	"os"

	"golang.org/x/sys/windows"
)

// coloured says whether a console understands escape sequences: older ones do once
// they are asked to. Text is not asked for: Go writes it to a console as UTF-16.
func coloured(console *os.File) bool {
	h := windows.Handle(console.Fd())
	var mode uint32
	if windows.GetConsoleMode(h, &mode) != nil {
		return false
	}
	return mode&windows.ENABLE_VIRTUAL_TERMINAL_PROCESSING != 0 || windows.SetConsoleMode(h, mode|windows.ENABLE_VIRTUAL_TERMINAL_PROCESSING) == nil
}
