package random

import (
	"errors"
	"fmt"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"rollchange/model"
	"rollchange/scenarios"
	"rollchange/sim/effort"
)

// ofProducts are drawn lines with orders of so many products at least.
func ofProducts(least int) []*Scenario {
	var list []*Scenario
	for _, s := range drawn() {
		if parsed, err := s.Parse(); err == nil && len(parsed.Study.Alternatives) == 1 && len(parsed.Study.Alternatives[0].Line.Products) >= least && (least == 1 || !moodOf(s.Seed).list) {
			list = append(list, s)
		}
	}
	return list
}

func word(s string) Value { return Value{Word: s} }
func metresPerSecond(x float64) Value {
	return Value{Nums: []Num{{X: []float64{x}, Unit: "m/s", Dim: model.Speed}}}
}

// Whatever is left out of a scenario with orders, what remains is read or refused, each
// wrong key by name.
func TestOrdersWithoutAKey(t *testing.T) {
	effort.NotInRace(t)
	list := ofProducts(1)
	for _, s := range list[:effort.Of(1, 4, 40)] {
		for path := range s.Values {
			_, err := s.With(map[string]Value{path: {}}).Parse()
			var wrong *scenarios.Errors
			if err != nil {
				require.True(t, errors.As(err, &wrong), "%s: %v", path, err)
				require.NotEmpty(t, wrong.Problems)
			}
		}
	}
}

// What contradicts itself is refused, at the key that does, and what stands just at
// the other side of the limit is not.
func TestOrdersThatAreRefused(t *testing.T) {
	effort.NotInRace(t)
	type change = map[string]Value
	refused := func(s *Scenario, key string, changes change) {
		t.Helper()
		_, err := s.With(changes).Parse()
		var wrong *scenarios.Errors
		if !assert.True(t, errors.As(err, &wrong), "%s is taken: %v\n%s", key, changes, s.Text()) {
			return
		}
		assert.True(t, slices.ContainsFunc(wrong.Problems, func(p scenarios.Problem) bool { return p.Key == key }), "%s: %v", key, err)
	}
	taken := func(s *Scenario, changes change) {
		t.Helper()
		_, err := s.With(changes).Parse()
		assert.NoError(t, err, "%v\n%s", changes, s.Text())
	}
	for _, s := range ofProducts(1) {
		if moodOf(s.Seed).list {
			seconds := func(x float64) change {
				return change{"run.warm_up": Value{Nums: []Num{{X: []float64{x}, Unit: "s", Dim: model.Time}}}}
			}
			parsed, _ := s.Parse()
			if taken(s, seconds(0)); parsed.Study.Alternatives[0].Line.Orders.Repeat {
				taken(s, seconds(1e-3))
			} else {
				refused(s, "run.warm_up", seconds(1e-3))
			}
			refused(s, "product[0].order_length", change{"product[0].order_length": example(rows["product[].order_length"])})
		}
	}
	list := ofProducts(2)
	require.Greater(t, len(list), effort.Of(2, 20, 20))
	for _, s := range list[:effort.Of(1, 4, 20)] {
		parsed, _ := s.Parse()
		l := &parsed.Study.Alternatives[0].Line
		first := l.Products[0].Share
		share := func(x float64) change {
			return change{"product[0].share": word(strconv.FormatFloat(x, 'g', -1, 64))}
		}
		if first < 0.99 {
			refused(s, "product[0].share", share(first+2e-3))
		}
		if first > 0.01 {
			refused(s, "product[0].share", share(first-2e-3))
		}
		if first < 0.99 && first > 0.01 {
			taken(s, share(first+5e-4))
			taken(s, share(first-5e-4))
		}
		refused(s, "product[1].name", change{"product[1].name": s.Values["product[0].name"]})
		refused(s, "product[0].name", change{"product[0].name": word(`" a"`)})
		refused(s, "product[0].order_length", change{"product[0].order_length": {}})
		refused(s, "product[1].share", change{"product[1].share": {}})
		refused(s, "orders.repeat", change{"orders.repeat": word("true")})
		refused(s, "orders.sequence", change{"orders.sequence": word(`"random"`)})
		refused(s, "orders.counts", change{"orders.counts": word(`"finished"`)})
		pair := func(from, to string) change {
			return change{"changeover.between[90].from": word(from), "changeover.between[90].to": word(to), "changeover.between[90].scrap": example(rows["changeover.scrap"])}
		}
		n := 0
		for path := range s.Values {
			if strings.HasPrefix(path, "changeover.between[") && strings.HasSuffix(path, ".from") {
				n++
			}
		}
		at := fmt.Sprintf("changeover.between[%d].", n)
		a := s.Values["product[0].name"].Word
		refused(s, at+"from", pair(`"none of them"`, a))
		refused(s, at+"to", pair(a, `"none of them"`))
		if l.Changeover.Pair(0, 0) >= 0 {
			refused(s, at+"to", pair(a, a))
		} else {
			taken(s, pair(a, a))
			refused(s, at+"time", change{"changeover.between[90].from": word(a), "changeover.between[90].to": word(a)})
		}
		crew := l.Crew.Operators
		refused(s, "changeover.operators", change{"changeover.operators": word(strconv.Itoa(crew + 1))})
		taken(s, change{"changeover.operators": word(strconv.Itoa(crew))})
		for _, key := range []string{"unwind.change", "unwind.storage.capacity", "unwind.reuse", "rewind.end_with_order", "crew.operators", "name", "share", "speed", "web"} {
			when := fmt.Sprintf("changeover.when[%d].changes", len(l.Changeover.When))
			refused(s, when, change{"changeover.when[90].changes": word(strconv.Quote(key)), "changeover.when[90].adds": example(rows["changeover.time"])})
		}
		if n := len(l.Changeover.When); n > 0 {
			refused(s, fmt.Sprintf("changeover.when[%d].changes", n), change{"changeover.when[90].changes": word(strconv.Quote(l.Changeover.When[0].Changes)), "changeover.when[90].adds": example(rows["changeover.time"])})
		}
		if l.Unwind.Change == model.ZeroSpeed && !l.Unwind.Storage.Slow && l.Products[1].Line.Unwind.MaxSpeed == l.Unwind.MaxSpeed {
			top := l.Unwind.MaxSpeed
			refused(s, "unwind.max_speed", change{"product[1].line.speed": metresPerSecond(top), "product[1].line.rated_speed": {}})
		}
		refused(s, "line.rated_speed", change{"product[1].line.speed": metresPerSecond(2), "product[1].line.rated_speed": metresPerSecond(1.9999)})
		jobs := change{"jobs.length": example(rows["jobs.length"]), "jobs.changeover": example(rows["jobs.changeover"])}
		refused(s, "orders.counts", jobs)
		refused(s, "product[1].unwind.change", change{"product[1].unwind.change": word(`"manual"`)})
		refused(s, "product[1].unwind.storage", change{"product[1].unwind.storage.capacity": example(rows["line.path"])})
	}
}
