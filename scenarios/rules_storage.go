package scenarios

import (
	"fmt"
	"strings"

	"rollchange/model"
)

// capacity resolves the capacity of a storage from strands and travel, before
// the levels that may be shares of it are read.
func (c *checker) capacity(storage string) {
	g := c.t.given
	s := &c.t.line().Unwind.Storage
	if strings.HasPrefix(storage, "rewind") {
		s = &c.t.line().Rewind.Storage
	}
	if g[storage+".travel"] && s.Strands > 0 && s.Travel > 0 {
		if g[storage+".capacity"] {
			c.bad(storage+".capacity", "contradicts strands and travel, which give the capacity too", "either capacity, or strands and travel")
		}
		s.Capacity = model.StrandStorage(s.Strands, s.Travel)
	}
}

// storage checks the levels of a storage and sets the defaults that hang on
// others.
func (c *checker) storage(l *model.Line, end string, s *model.Storage) {
	p := end + ".storage."
	g := c.t.given
	if s.Capacity == 0 {
		if g[p+"strands"] || g[p+"travel"] {
			c.need("with strands and travel", p+"strands", p+"travel")
			return
		}
		c.need("for a zero-speed "+end+" (or strands and travel)", p+"capacity")
		return
	}
	for _, x := range []struct {
		name  string
		level float64
	}{{"run_level", s.RunLevel}, {"restart_level", s.RestartLevel}, {"reserve", s.Reserve}, {"slow_level", s.SlowLevel}} {
		if x.level > s.Capacity {
			c.bad(p+x.name, fmt.Sprintf("must not be above the capacity, %.4g m", s.Capacity), "")
			return
		}
	}
	if c.unread(p + "run_level") {
		return
	}
	unwind := end == "unwind"
	if !g[p+"restart_level"] {
		s.RestartLevel = s.RunLevel / 2
		if !unwind {
			s.RestartLevel = (s.RunLevel + s.Capacity) / 2
		}
	} else if unwind && s.RestartLevel > s.RunLevel {
		c.bad(p+"restart_level", fmt.Sprintf("must not be above the run level, %.4g m", s.RunLevel), "")
	} else if !unwind && s.RestartLevel < s.RunLevel {
		c.bad(p+"restart_level", fmt.Sprintf("must not be below the run level, %.4g m", s.RunLevel), "")
	}
	if s.Slow {
		c.need(`with on_low = "slow"`, p+"slow_level", p+"slow_speed")
		if g[p+"slow_level"] && (unwind && s.SlowLevel >= s.RunLevel || !unwind && s.SlowLevel <= s.RunLevel) {
			c.bad(p+"slow_level", map[bool]string{true: "must be below the run level", false: "must be above the run level"}[unwind], "")
		}
		if s.SlowSpeed >= l.Process.Speed && l.Process.Speed > 0 {
			c.bad(p+"slow_speed", "must be below line.speed", "")
		}
	}
	if l.Process.Decel <= 0 {
		return
	}
	room, stop := s.RunLevel, l.Process.Speed*l.Process.Speed/(2*l.Process.Decel)
	if !unwind {
		room = s.Capacity - s.RunLevel
	}
	// A line that starts again with less than it needs to stop can come to the
	// end of the storage with the web moving, which breaks it.
	restart := s.RestartLevel
	if !unwind {
		restart = s.Capacity - restart
	}
	if restart < s.Reserve+stop && room >= s.Reserve+stop && !g["web_breaks.repair"] && !g[end+".recover"] {
		write := s.Reserve + stop
		if !unwind {
			write = s.Capacity - write
		}
		c.bad(p+"restart_level", fmt.Sprintf("lets the line start with %.4g m, less than the %.4g m that it needs to stop; the web breaks when the storage is at its end, so %s.recover or web_breaks.repair is needed", restart, s.Reserve+stop, end),
			fmt.Sprintf("restart_level = \"%.4g m\"", write))
	}
	if room < s.Reserve+stop {
		c.bad(p+"capacity", fmt.Sprintf("leaves %.4g m at the run level; the interlock needs reserve + speed²/(2 line.decel) = %.4g m to stop the line before the storage runs out", room, s.Reserve+stop), "")
	}
}
