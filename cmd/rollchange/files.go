package main

import (
	"context"
	"fmt"
	"io"
	"maps"
	"path/filepath"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"rollchange/model/legible"
	"rollchange/out/files"
	"rollchange/out/picture"
	"rollchange/scenarios"
)

// filesKey is under what the files of a run stand in its context.
type filesKey struct{}

// withFiles is a context that carries the files of a run.
func withFiles(ctx context.Context, run *files.Run) context.Context {
	return context.WithValue(ctx, filesKey{}, run)
}

// filesOf is the files of the run of a command.
func filesOf(cmd *cobra.Command) *files.Run { return cmd.Context().Value(filesKey{}).(*files.Run) }

// reads says that a command reads a file, what it is to it.
func reads(cmd *cobra.Command, path, what string) error {
	return named(filesOf(cmd).Reads(path, what))
}

// readsData says which data files the scenario of a command reads.
func readsData(cmd *cobra.Command, s *scenarios.Scenario) error {
	for _, f := range s.Files() {
		if err := reads(cmd, f.Path, "the data file "+legible.Visible(f.Name)); err != nil {
			return err
		}
	}
	return nil
}

// writes says that a command will write a file, by which flag.
func writes(cmd *cobra.Command, path, flag string) error {
	return named(filesOf(cmd).Writes(path, flag))
}

// named puts the name of the tool before an error.
func named(err error) error {
	if err == nil {
		return nil
	}
	return fmt.Errorf("rollchange: %w", err)
}

// endings are the formats in which a picture is drawn into a folder.
var endings = []string{".svg", ".png"}

// willDraw makes the folder for pictures and says, before the run, which will be
// drawn into it: each as SVG and PNG.
func (o *options) willDraw(cmd *cobra.Command, names []string) error {
	if o.plots == "" {
		return nil
	}
	if err := filesOf(cmd).Folder(o.plots); err != nil {
		return fmt.Errorf("rollchange: --plots: %w", err)
	}
	slices.Sort(names)
	for _, name := range names {
		for _, ending := range endings {
			if err := writes(cmd, o.pictureFile(name, ending), "--plots"); err != nil {
				return err
			}
		}
	}
	return nil
}

// pictureFile is the file of a picture: what a scenario names never leads out of
// the folder, and is a name that every system takes.
func (o *options) pictureFile(name, ending string) string {
	return filepath.Join(o.plots, files.Portable(name)+ending)
}

// savePictures saves the pictures of a run into the folder for them.
func (o *options) savePictures(cmd *cobra.Command, pictures map[string]*picture.Picture) error {
	if o.plots == "" {
		return nil
	}
	for _, name := range slices.Sorted(maps.Keys(pictures)) {
		if pictures[name] == nil {
			continue
		}
		for _, ending := range endings {
			if err := pictures[name].Save(filesOf(cmd), o.pictureFile(name, ending)); err != nil {
				return asError(cmd, err)
			}
		}
	}
	return nil
}

// saveText saves an answer in text under a name, fit for a terminal that it may
// be shown on.
func saveText(cmd *cobra.Command, path string, answer func(w io.Writer) error) error {
	return asError(cmd, filesOf(cmd).Save(path, func(w io.Writer) error {
		text := legible.NewWriter(w, false)
		if err := answer(text); err != nil {
			return err
		}
		return text.Flush()
	}))
}

// save saves what is no text: a page, a workbook.
func save(cmd *cobra.Command, path string, write func(w io.Writer) error) error {
	return asError(cmd, filesOf(cmd).Save(path, write))
}

// checkPageName says what is wrong with the name of a page that a flag gives.
func checkPageName(flag, name string) error {
	if ext := strings.ToLower(filepath.Ext(name)); ext != ".html" && ext != ".htm" && !files.Straight(name) {
		return fmt.Errorf("%s: the name of a page ends in .html: %s", flag, legible.Quote(name))
	}
	return nil
}
