package whatif

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"rollchange/model"
	"rollchange/model/portable"
	"rollchange/scenarios"
)

// SpeedAxis varies the speed of the line over what a reader wants to see: from
// 60 % to 140 % of it, as far up as every alternative is a possible line. Where
// that is earlier, ends says why.
func SpeedAxis(s *scenarios.Scenario) (a Axis, ends string, err error) {
	u := model.Display(model.Speed, s.Study.Units)
	speed := s.Study.Alternatives[0].Line.Process.Speed
	var texts []string
	for _, f := range []float64{0.6, 0.75, 0.9, 1, 1.1, 1.25, 1.4} {
		text := round(u.From(f*speed), 4) + " " + u.Name
		if _, err := s.Again(scenarios.Override{Key: "line.speed", Value: text}); err != nil {
			if e, ok := err.(*scenarios.Errors); ok && f > 1 {
				return axis(s, "line.speed", texts, text+": "+reason(e))
			}
			continue
		}
		texts = append(texts, text)
	}
	return axis(s, "line.speed", texts, "")
}

func axis(s *scenarios.Scenario, key string, texts []string, ends string) (Axis, string, error) {
	a, err := ParseAxis(s, key+"="+strings.Join(texts, ","), false)
	return a, ends, err
}

// StorageAxis varies the storage of an alternative about the size at which a
// mean change just fits: from less than that to twice as much, and as far as the
// alternative has, be it more or less. It is false when the alternative has none.
func StorageAxis(s *scenarios.Scenario, alternative int) (Axis, bool, error) {
	l := &s.Study.Alternatives[alternative].Line
	key, c, capacity := "unwind.storage.capacity", model.UnwindCycle(l), l.Unwind.Storage.Capacity
	if !l.Unwind.Change.Stores() {
		if !l.Rewind.Change.Stores() {
			return Axis{}, false, nil
		}
		key, c, capacity = "rewind.storage.capacity", model.RewindCycle(l), l.Rewind.Storage.Capacity
	}
	// What the run level leaves unused is needed at every size.
	least := c.LeastRoom(c.Dwell.Mean()) + max(0, capacity-c.Room)
	low, high := 0.85*least, max(2*least, 1.1*capacity)
	u := model.Display(model.Length, s.Study.Units)
	step := (high - low) / 10
	place := portable.Pow(10, math.Floor(portable.Log10(u.From(step))))
	every := math.Max(1, math.Round(u.From(step)/place)) * place
	var texts []string
	if capacity < low {
		texts = append(texts, round(u.From(capacity), 6)+" "+u.Name)
	}
	for x := math.Ceil(u.From(low)/every) * every; x <= u.From(high)*(1+1e-9); x += every {
		texts = append(texts, round(x, 6)+" "+u.Name)
	}
	if len(texts) < 2 {
		return Axis{}, false, fmt.Errorf("%s: no range to search", key)
	}
	a, err := ParseAxis(s, key+"="+strings.Join(texts, ","), false)
	return a, err == nil, err
}

// Only is the same scenario with one of its alternatives.
func Only(s *scenarios.Scenario, alternative int) *scenarios.Scenario {
	one := *s
	one.Study.Alternatives = one.Study.Alternatives[alternative : alternative+1 : alternative+1]
	return &one
}

// Pair is the same scenario with its first alternative and another.
func Pair(s *scenarios.Scenario, alternative int) *scenarios.Scenario {
	two := *s
	two.Study.Alternatives = []model.Alternative{s.Study.Alternatives[0], s.Study.Alternatives[alternative]}
	return &two
}

func round(x float64, digits int) string {
	y, _ := strconv.ParseFloat(strconv.FormatFloat(x, 'g', digits, 64), 64)
	return strconv.FormatFloat(y, 'f', -1, 64)
}
