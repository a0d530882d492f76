package main

import (
	"fmt"
	"io"
	"path/filepath"
	"strings"

	"github.com/spf13/cobra"

	"rollchange/model/legible"
	"rollchange/out/files"
	"rollchange/out/report"
	"rollchange/scenarios/learn"
)

// checkPage says what is wrong with the name of the page.
func (x *fitFlags) checkPage() error {
	if ext := strings.ToLower(filepath.Ext(x.report)); x.report != "" && ext != ".html" && ext != ".htm" && !files.Straight(x.report) {
		return fmt.Errorf("rollchange fit: --report: the name of a page ends in .html: %s", legible.Quote(x.report))
	}
	return nil
}

// page writes the page about a log.
func (x *fitFlags) page(cmd *cobra.Command, path string, l *learn.Line) error {
	if path == "-" {
		path = "standard input"
	}
	c := &report.Log{Version: version, SHA256: x.sum, Command: again(cmd, path), Lang: "en", Line: l}
	return save(cmd, x.report, func(w io.Writer) error { return report.WriteLog(w, c) })
}
