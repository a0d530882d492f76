package whatif

import (
	"strconv"
	"strings"

	"rollchange/scenarios"
)

// present is the value of a key in an alternative, SI, of a law its mean or the
// parameter that the key names; false when the alternative does not give it.
func present(s *scenarios.Scenario, alternative int, key string) (float64, bool) {
	line := &s.Study.Alternatives[alternative].Line
	switch { // also of strands and travel
	case key == "unwind.storage.capacity" && line.Unwind.Storage.Capacity > 0:
		return line.Unwind.Storage.Capacity, true
	case key == "rewind.storage.capacity" && line.Rewind.Storage.Capacity > 0:
		return line.Rewind.Storage.Capacity, true
	}
	for _, in := range s.Inputs(alternative) {
		if in.Key == key || in.Key == strings.TrimSuffix(key, ".mean") {
			return in.Dist.Mean(), true
		}
	}
	return 0, false
}

// called is the name of the stop or the duty that a key belongs to, in an
// alternative: of stop[0].repair that of the first stop. Empty: it has none.
func called(s *scenarios.Scenario, alternative int, key string) string {
	line := &s.Study.Alternatives[alternative].Line
	list, rest, ok := strings.Cut(key, "[")
	number, _, closed := strings.Cut(rest, "]")
	k, err := strconv.Atoi(number)
	switch {
	case !ok || !closed || err != nil || k < 0:
	case list == "stop" && k < len(line.Stops):
		return line.Stops[k].Name
	case list == "crew.group" && k < len(line.Crew.Groups):
		return line.Crew.Groups[k].Name
	case list == "crew.duty" && k < len(line.Crew.Duties):
		return line.Crew.Duties[k].Name
	}
	return ""
}

// situate notes where an axis lies in a scenario: the name of what it belongs
// to and the present value of each alternative.
func (a *Axis) situate(s *scenarios.Scenario) {
	a.Of = called(s, len(s.Study.Alternatives)-1, a.Key)
	a.Now = nil
	for i := range s.Study.Alternatives {
		if v, ok := present(s, i, a.Key); ok {
			if a.Now == nil {
				a.Now = map[int]float64{}
			}
			a.Now[i] = v
		}
	}
}
