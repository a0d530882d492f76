package main

import (
	"fmt"

	"rollchange/out/picture"
	"rollchange/out/words"
	"rollchange/scenarios/learn"
	"rollchange/scenarios/records"
)

// lawPicture is the name of the picture of a cause, by its place from the largest loss.
func lawPicture(i int) string { return fmt.Sprintf("cause-%d", i+1) }

// logPictures are the names of the pictures of a log.
func logPictures(log *records.Log) []string {
	names := []string{"lost", "times"}
	for i := range min(len(log.Causes), words.MostCausesDrawn) {
		names = append(names, lawPicture(i))
	}
	return names
}

// drawLog draws the pictures of a log, by their names.
func drawLog(l *learn.Line) map[string]*picture.Picture {
	pictures := map[string]*picture.Picture{"lost": picture.LogLost(l), "times": picture.LogTimes(l)}
	for i := range min(len(l.Causes), words.MostCausesDrawn) {
		pictures[lawPicture(i)] = picture.LogFit(l, &l.Causes[i])
	}
	return pictures
}
