package main

import (
	"fmt"

	"rollchange/model"
	"rollchange/out/picture"
	"rollchange/scenarios"
	"rollchange/sim/replicate"
)

// Names of the pictures of the storages of an alternative.
const (
	unwindStorage = "unwind-storage"
	rewindStorage = "rewind-storage"
)

// ofAlternative is the name of a picture of one alternative of several.
func ofAlternative(name string, i, several int) string {
	if several > 1 {
		return fmt.Sprintf("%s-%d", name, i+1)
	}
	return name
}

// resultPictures are the names of the pictures of a result.
func resultPictures(study *model.Study) []string {
	names := []string{"hours", "waste", "output"}
	for i := range study.Alternatives {
		line := &study.Alternatives[i].Line
		if line.Unwind.Change.Stores() {
			names = append(names, ofAlternative(unwindStorage, i, len(study.Alternatives)))
		}
		if line.Rewind.Change.Stores() {
			names = append(names, ofAlternative(rewindStorage, i, len(study.Alternatives)))
		}
	}
	return names
}

// drawResults draws the pictures of a result, by their names.
func drawResults(s *scenarios.Scenario, rs *replicate.Results) map[string]*picture.Picture {
	sys := s.Study.Units
	pictures := map[string]*picture.Picture{
		"hours": picture.Hours(rs), "waste": picture.Waste(rs), "output": picture.Output(rs, sys),
	}
	for i, r := range rs.Alternatives {
		line := &s.Study.Alternatives[i].Line
		if line.Unwind.Change.Stores() {
			pictures[ofAlternative(unwindStorage, i, len(rs.Alternatives))] = picture.Storage(r.Lowest, r.Alternative, line, false, sys)
		}
		if line.Rewind.Change.Stores() {
			pictures[ofAlternative(rewindStorage, i, len(rs.Alternatives))] = picture.Storage(r.Highest, r.Alternative, line, true, sys)
		}
	}
	return pictures
}
