package main

import (
	"io"

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
func (r *fitting) page(l *learn.Line) error {
	path := r.path
	if path == "-" {
		path = "standard input"
	}
	c := &report.Log{Version: version, SHA256: r.sum, Command: again(r.cmd, path), Lang: "en", Line: l}
	return save(r.cmd, r.report, func(w io.Writer) error { return report.WriteLog(w, c) })
}
