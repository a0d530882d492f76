package main

import (
	"io"

	"github.com/spf13/cobra"

	"rollchange/out/report"
	"rollchange/scenarios/learn"
)

// checkPage says what is wrong with the name of the page.
func (x *fitFlags) checkPage() error {
	if x.report == "" {
		return nil
	}
	return checkPageName("rollchange fit: --report", x.report)
}

// page writes the page about a log.
func (x *fitFlags) page(cmd *cobra.Command, path string, l *learn.Line) error {
	if path == "-" {
		path = "standard input"
	}
	c := &report.Log{Version: version, SHA256: x.sum, Command: again(cmd, path), Lang: "en", Line: l}
	return save(cmd, x.report, func(w io.Writer) error { return report.WriteLog(w, c) })
}
