package random

import (
	"fmt"
	"maps"
	"math"
	"reflect"
	"runtime"
	"slices"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"rollchange/model"
	"rollchange/scenarios"
	"rollchange/sim/effort"
)

// lines is how many scenarios the tests of what is drawn look at.
func lines() int { return effort.Of(60, 400, 2000) }

// drawn are the valid ones.
var drawn = sync.OnceValue(func() []*Scenario {
	all := make([]*Scenario, lines())
	var wg sync.WaitGroup
	workers := runtime.GOMAXPROCS(0)
	for k := range workers {
		wg.Go(func() {
			for seed := k; seed < len(all); seed += workers {
				if s, _, err := Draw(uint64(seed)); err == nil {
					all[seed] = s
				}
			}
		})
	}
	wg.Wait()
	return slices.DeleteFunc(all, func(s *Scenario) bool { return s == nil })
})

// Everything that the table of keys can say is said: a key that is new and never
// drawn, or always refused, fails here.
func TestEverythingIsDrawn(t *testing.T) {
	if testing.Short() {
		t.Skip("long")
	}
	seen := map[string]int{}
	all := drawn()
	assert.GreaterOrEqual(t, len(all), lines()*6/10, "valid")
	for _, s := range all {
		for path, v := range s.Values {
			row := row(path).Path
			seen[row]++
			seen[row+" = "+v.Word]++
			if v.Law != "" {
				seen[row+", a distribution"]++
				seen["law "+v.Law]++
				for _, n := range v.Nums {
					seen["law "+v.Law+" "+n.Name]++
				}
			}
			for _, n := range v.Nums {
				seen[fmt.Sprint(row, " in ", n.Dim)]++
				seen["unit "+n.Unit]++
				if v.Law == "" && n.X[0] == 0 {
					seen[row+" = 0"]++
				}
			}
			if key, own := ownOf(path); own {
				seen["own "+key]++
			} else if overlaid.MatchString(path) && !strings.HasPrefix(row, "alternative") {
				seen["overlay"]++
			}
		}
	}
	own, of := 0, 0
	for _, k := range scenarios.Keys() {
		if slices.Contains(notDrawn, k.Path) {
			continue
		}
		assert.Positive(t, seen[k.Path], k.Path)
		for _, choice := range k.Choices {
			assert.Positive(t, seen[fmt.Sprintf("%s = %q", k.Path, choice)], "%s = %q", k.Path, choice)
		}
		if strings.Contains(k.Kind, "distribution") {
			assert.Positive(t, seen[k.Path+", a distribution"], "%s, a distribution", k.Path)
		}
		if strings.HasPrefix(k.Kind, "true") {
			assert.Positive(t, seen[k.Path+" = true"], "%s = true", k.Path)
		}
		if k.Kind == "true or false" {
			assert.Positive(t, seen[k.Path+" = false"], "%s = false", k.Path)
		}
		if strings.Contains(k.Kind, "share of capacity") {
			assert.Positive(t, seen[fmt.Sprint(k.Path, " in ", model.Share)], "%s as a share", k.Path)
		}
		if scenarios.OfProduct(k.Path) && !isRival(k.Path) {
			own += min(1, seen["own "+k.Path])
			of++
		}
		if low, high, open := k.Bounds(); low == 0 && !open && k.Dim != "" && !math.IsInf(high, 1) && !strings.HasPrefix(k.Kind, "whole") && !strings.HasPrefix(k.Kind, "list") {
			assert.Positive(t, seen[k.Path+" = 0"]+seen[k.Path+` = "0 %"`], "%s = 0", k.Path)
		}
		for _, unit := range strings.Split(k.Dim.Units(), ", ") {
			assert.Positive(t, seen["unit "+unit], "unit %q", unit)
		}
	}
	for _, law := range scenarios.Laws() {
		for _, p := range slices.Concat(law.Params, law.May) {
			assert.Positive(t, seen["law "+law.Name+" "+p], "%s of %s", p, law.Name)
		}
	}
	assert.Positive(t, seen["law gamma mean"], "gamma by mean and sd")
	assert.Positive(t, seen[`run.warm_up = "auto"`])
	assert.Positive(t, seen["overlay"], "an alternative that lays something over the base")
	assert.Greater(t, own, of*3/4, "keys that products have of their own")
}

// Where one number is compared with another, both sides are drawn, and both the same.
func TestBothSidesAreDrawn(t *testing.T) {
	if testing.Short() {
		t.Skip("long")
	}
	type sides struct{ less, same, more int }
	got := map[string]*sides{}
	var pairs [][2]string
	pair := func(a, b string) { pairs = append(pairs, [2]string{a, b}); got[a+" "+b] = &sides{} }
	for _, end := range []string{"unwind", "rewind"} {
		pair(end+".decel", "line.decel")
		pair(end+".accel", "line.accel")
		pair(end+".storage.reserve", end+".storage.run_level")
	}
	pair("rewind.roll_length", "unwind.roll_length")
	pair("web_breaks.at_speed", "line.speed")
	pair("unwind.storage.slow_level", "unwind.storage.restart_level")
	pair("rewind.storage.slow_level", "rewind.storage.restart_level")
	pair("rewind.overrun", "rewind.roll_length")
	pair("jobs.length", "unwind.roll_length")
	for _, s := range drawn() {
		parsed, err := s.Parse()
		require.NoError(t, err)
		for _, p := range pairs {
			v, w := s.Values[p[0]], s.Values[p[1]]
			if len(v.Nums) == 0 || len(w.Nums) == 0 || v.Law != "" || w.Law != "" {
				continue
			}
			x, y := level(parsed, p[0], v), level(parsed, p[1], w)
			switch side := got[p[0]+" "+p[1]]; {
			case math.Abs(x-y) <= 1e-12*y:
				side.same++
			case x < y:
				side.less++
			default:
				side.more++
			}
		}
	}
	for _, p := range pairs {
		x := got[p[0]+" "+p[1]]
		assert.Positive(t, x.less, "%s below %s", p[0], p[1])
		if p[0] != "unwind.storage.reserve" { // refused where it counts: the web would stop at once
			assert.Positive(t, x.more, "%s above %s", p[0], p[1])
		}
		if !strings.HasPrefix(p[0], "jobs") { // drawn on its own
			assert.Positive(t, x.same, "%s equal to %s", p[0], p[1])
		}
	}
}

// level is a value in SI, m of a share of a storage.
func level(s *scenarios.Scenario, path string, v Value) float64 {
	if v.Nums[0].Dim != model.Share {
		return v.SI()
	}
	storage := &s.Study.Alternatives[0].Line.Unwind.Storage
	if strings.HasPrefix(path, "rewind") {
		storage = &s.Study.Alternatives[0].Line.Rewind.Storage
	}
	return v.SI() * storage.Capacity
}

// A scenario is a function of its seed, and of each key on its own.
func TestSameSeedSameScenario(t *testing.T) {
	texts := map[string]bool{}
	seeds := effort.Of(6, 25, 50)
	for seed := range uint64(seeds) {
		a, _, _ := Draw(seed)
		b, _, _ := Draw(seed)
		require.Equal(t, a.Text(), b.Text())
		texts[strings.SplitN(a.Text(), "\n", 2)[1]] = true
	}
	assert.Greater(t, len(texts), seeds*9/10)
}

// What is read from the text of a scenario writes the same text.
func TestReadWhatIsWritten(t *testing.T) {
	effort.NotInRace(t)
	for _, s := range drawn()[:effort.Of(8, 60, 200)] {
		back, err := Read(s.Text())
		require.NoError(t, err)
		again, err := back.Parse()
		require.NoError(t, err, back.Text())
		first, err := s.Parse()
		require.NoError(t, err)
		require.True(t, reflect.DeepEqual(first.Study, again.Study), "%s\nread back:\n%s", s.Text(), back.Text())
	}
}

// Shrink leaves what is needed and no more.
func TestShrink(t *testing.T) {
	var s *Scenario
	for seed := uint64(0); s == nil; seed++ {
		if x, parsed, err := Draw(seed); err == nil && parsed.Study.Alternatives[0].Line.Unwind.Change == model.ZeroSpeed && len(x.Values) > 40 {
			s = x
		}
	}
	short := Shrink(s, func(s *Scenario) bool {
		parsed, err := s.Parse()
		return err == nil && parsed.Study.Alternatives[0].Line.Unwind.Change == model.ZeroSpeed
	}, 1000, time.Minute)
	for _, path := range short.paths() {
		_, err := short.With(map[string]Value{path: {}}).Parse()
		assert.Error(t, err, "%s is not needed:\n%s", path, short.Text())
	}
	assert.Less(t, len(short.Values), 20, short.Text())
}

// Units, sizes and order are changed without loss.
func TestChanges(t *testing.T) {
	for _, s := range drawn()[:effort.Of(8, 60, 200)] {
		first, err := s.Parse()
		require.NoError(t, err)
		for _, system := range []model.System{model.Metric, model.Imperial} {
			for path, v := range s.InUnits(system).Values {
				for i, n := range v.Nums {
					us := slices.ContainsFunc([]string{"ft", "in", "mil", "lb", "lbf"}, func(u string) bool {
						return slices.Contains(strings.FieldsFunc(n.Unit, func(r rune) bool { return strings.ContainsRune(" /2", r) }), u)
					})
					if us != (system == model.Imperial) {
						assert.NotContains(t, []model.Dimension{model.Length, model.Speed, model.Acceleration, model.Torque, model.Force, model.Grammage}, n.Dim, "%s in %q", path, n.Unit)
					}
					for j := range n.X {
						was := s.Values[path].Nums[i]
						assert.InEpsilon(t, 1+was.X[j]*worth(was.Unit, was.Dim), 1+n.X[j]*worth(n.Unit, n.Dim), 1e-13)
					}
				}
			}
		}
		twice, err := s.Scaled(2, 1).Scaled(0.5, 1).Parse()
		require.NoError(t, err)
		require.Equal(t, first.Study.Alternatives[0].Line.Process, twice.Study.Alternatives[0].Line.Process)
		require.Equal(t, len(s.Values), len(s.Reversed().Values))
		require.Equal(t, s.Text(), s.Reversed().Reversed().renumbered().Text())
	}
}

// renumbered numbers the elements of arrays from 0 in their order, as drawn.
func (s *Scenario) renumbered() *Scenario {
	seen := map[string][]string{}
	for _, path := range slices.Sorted(maps.Keys(s.Values)) {
		if array, rest, ok := strings.Cut(path, "["); ok {
			if n, _, _ := strings.Cut(rest, "]"); !slices.Contains(seen[array], n) {
				seen[array] = append(seen[array], n)
			}
		}
	}
	c := &Scenario{Seed: s.Seed, Values: map[string]Value{}}
	for path, v := range s.Values {
		if array, rest, ok := strings.Cut(path, "["); ok {
			n, tail, _ := strings.Cut(rest, "]")
			path = fmt.Sprintf("%s[%d]%s", array, slices.Index(seen[array], n), tail)
		}
		c.Values[path] = v
	}
	return c
}

// Where things went wrong once, or are likely to, is drawn.
func TestCornersAreDrawn(t *testing.T) {
	if testing.Short() {
		t.Skip("long")
	}
	corners := map[string]func(s *model.Study, l *model.Line) bool{
		"1 m/min":                 func(_ *model.Study, l *model.Line) bool { return l.Process.Speed < 2./60 },
		"2,000 m/min":             func(_ *model.Study, l *model.Line) bool { return l.Process.Speed > 1500./60 },
		"rolls of 20 m":           func(_ *model.Study, l *model.Line) bool { return l.Unwind.Roll.Mean(l.Web) < 25 },
		"rolls of 100 km":         func(_ *model.Study, l *model.Line) bool { return l.Unwind.Roll.Mean(l.Web) > 80e3 },
		"ramps that take no time": func(_ *model.Study, l *model.Line) bool { return l.Process.Decel >= 1e4 },
		"a dwell of 0 s":          func(_ *model.Study, l *model.Line) bool { return zero(l) && nothing(l.Unwind.Dwell) },
		"a change of 0 s": func(_ *model.Study, l *model.Line) bool {
			return l.Unwind.Change == model.Manual && nothing(l.Unwind.ChangeTime)
		},
		"a rest within 1 mm of 0": func(_ *model.Study, l *model.Line) bool {
			e := l.Unwind.ResidualError
			return e.Given() && e.IsConst() && math.Abs(e.A+l.Unwind.Residual) <= 1e-3 && e.A != 0
		},
		"a rest below -1 mm": func(_ *model.Study, l *model.Line) bool {
			e := l.Unwind.ResidualError
			return e.IsConst() && e.A+l.Unwind.Residual < -1e-3
		},
		"room just to stop": func(_ *model.Study, l *model.Line) bool {
			u := l.Unwind.Storage
			return zero(l) && u.RunLevel-u.Reserve-stopLength(l) < 1e-3*u.Capacity
		},
		"starts again nearly empty": func(_ *model.Study, l *model.Line) bool {
			u := l.Unwind.Storage
			return zero(l) && u.RestartLevel < u.Reserve+stopLength(l)
		},
		"starts again only full": func(_ *model.Study, l *model.Line) bool {
			return zero(l) && l.Unwind.Storage.RestartLevel == l.Unwind.Storage.RunLevel
		},
		"a station held back":    func(_ *model.Study, l *model.Line) bool { return zero(l) && l.Unwind.SpindleTorque > 0 },
		"slows before it stops":  func(_ *model.Study, l *model.Line) bool { return zero(l) && l.Unwind.Storage.Slow },
		"both ends from storage": func(_ *model.Study, l *model.Line) bool { return zero(l) && l.Rewind.Change == model.ZeroSpeed },
		"late flying changes": func(_ *model.Study, l *model.Line) bool {
			return l.Unwind.Change == model.Flying && l.Unwind.Load.Mean()+l.Unwind.Prepare.Mean() > l.Unwind.Roll.Mean(l.Web)/l.Process.Speed
		},
		"one operator, three lines": func(_ *model.Study, l *model.Line) bool { return l.Crew.Lines == 3 && l.Crew.Operators == 1 },
		"one product":               func(_ *model.Study, l *model.Line) bool { return l.Orders != nil && len(l.Products) == 1 },
		"products of one web": func(_ *model.Study, l *model.Line) bool {
			return len(l.Products) > 1 && l.Products[0].SameStock(&l.Products[1]) && l.Products[0].Line.Process.Speed != l.Products[1].Line.Process.Speed
		},
		"products of two webs": func(_ *model.Study, l *model.Line) bool {
			return len(l.Products) > 1 && !l.Products[0].SameStock(&l.Products[1]) && zero(l)
		},
		"orders of good web": func(_ *model.Study, l *model.Line) bool {
			return l.Orders != nil && l.Orders.Good && l.Process.StopScrap.Mean() > 0
		},
		"part rolls not reused": func(_ *model.Study, l *model.Line) bool { return l.Orders != nil && !l.Unwind.Reuse },
		"rolls of several orders": func(_ *model.Study, l *model.Line) bool {
			return l.Orders != nil && l.Rewind.Change != model.None && !l.Rewind.EndWithOrder
		},
		"orders on three lines": func(s *model.Study, l *model.Line) bool {
			return l.Orders != nil && l.Crew.Lines == 3 && s.Run.WarmUp > 0
		},
		"a share of 0 %":      func(_ *model.Study, l *model.Line) bool { return len(l.Products) > 1 && l.Products[1].Share == 0 },
		"a changeover of two": func(_ *model.Study, l *model.Line) bool { return l.Changeover.Operators > 1 },
		"a pair and a difference": func(_ *model.Study, l *model.Line) bool {
			return len(l.Changeover.Between) > 0 && len(l.Changeover.When) > 0
		},
		"a warm-up":            func(s *model.Study, _ *model.Line) bool { return s.Run.WarmUp > 0 },
		"a warm-up of its own": func(s *model.Study, _ *model.Line) bool { return s.Run.WarmUpAuto },
		"everything at once": func(_ *model.Study, l *model.Line) bool {
			return l.WebBreaks != nil && l.Jobs != nil && len(l.Stops) > 0 && len(l.Crew.Duties) > 0 && len(l.Crew.Breaks) > 0 && l.Crew.Lines > 1 && zero(l) && l.Rewind.Change != model.None
		},
	}
	for _, s := range drawn() {
		parsed, err := s.Parse()
		require.NoError(t, err)
		for name, holds := range corners {
			if holds(&parsed.Study, &parsed.Study.Alternatives[0].Line) {
				delete(corners, name)
			}
		}
	}
	assert.Empty(t, slices.Sorted(maps.Keys(corners)), "never drawn")
}

func zero(l *model.Line) bool { return l.Unwind.Change == model.ZeroSpeed }

// stopLength is the length in which the line stops from full speed, m.
func stopLength(l *model.Line) float64 {
	return l.Process.Speed * l.Process.Speed / (2 * l.Process.Decel)
}

func nothing(d model.Dist) bool { return d.Given() && d.IsConst() && d.A == 0 }
