package main

import (
	"fmt"
	"os"
	"path/filepath"

	"rollchange/model"
	"rollchange/out"
	"rollchange/scenarios"
	"rollchange/sim"
)

// checkPlots makes the folder for pictures, before the run.
func (o *options) checkPlots() error {
	if o.plots == "" {
		return nil
	}
	if err := os.MkdirAll(o.plots, 0o755); err != nil {
		return fmt.Errorf("rollchange: --plots: %s: cannot be made a folder", o.plots)
	}
	return out.CheckWritable(filepath.Join(o.plots, "hours.svg"))
}

// drawResults draws the pictures of a result into a folder, each as SVG and PNG.
func drawResults(folder string, s *scenarios.Scenario, rs *sim.Results) error {
	sys := s.Study.Units
	pictures := map[string]*out.Picture{
		"hours": out.HoursPlot(rs), "waste": out.WastePlot(rs), "output": out.OutputPlot(rs, sys),
	}
	for i, r := range rs.Alternatives {
		line := &s.Study.Alternatives[i].Line
		suffix := ""
		if len(rs.Alternatives) > 1 {
			suffix = fmt.Sprintf("-%d", i+1)
		}
		if line.Unwind.Change == model.ZeroSpeed {
			pictures["unwind-storage"+suffix] = out.StoragePlot(r.Lowest, "Lowest unwind storage of each splice cycle: "+r.Alternative, out.StorageMarks(line, false), sys)
		}
		if line.Rewind.Change == model.ZeroSpeed {
			pictures["rewind-storage"+suffix] = out.StoragePlot(r.Highest, "Highest rewind storage of each transfer cycle: "+r.Alternative, out.StorageMarks(line, true), sys)
		}
	}
	return savePictures(folder, pictures)
}

// savePictures saves pictures into a folder by their names, each as SVG and PNG.
func savePictures(folder string, pictures map[string]*out.Picture) error {
	for name, p := range pictures {
		if p == nil {
			continue
		}
		for _, format := range []string{".svg", ".png"} {
			if err := p.Save(filepath.Join(folder, name+format)); err != nil {
				return err
			}
		}
	}
	return nil
}
