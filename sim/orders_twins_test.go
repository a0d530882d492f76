package sim_test

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"rollchange/model"
	"rollchange/scenarios"
	"rollchange/scenarios/random"
	"rollchange/sim/replicate"
)

// hasOrders says whether a scenario makes orders of products.
func hasOrders(s *random.Scenario) bool { return s.Values["product[0].name"].Word != "" }

// neverOrdered: a product of which nobody orders any changes nothing, to the last bit,
// but adds its own rows.
func neverOrdered(s *random.Scenario) error {
	if !hasOrders(s) {
		return nil
	}
	x, err := results(s)
	if x == nil || err != nil {
		return nil
	}
	add := map[string]random.Value{}
	for path, v := range s.Values {
		if rest, own := strings.CutPrefix(path, "product[0]."); own {
			add["product[99]."+rest] = v
		}
	}
	add["product[99].name"] = random.Value{Word: `"never"`}
	if s.Values["orders.list"].Word == "" {
		add["product[99].share"] = random.Value{Word: "0"}
		if _, several := s.Values["product[0].share"]; !several {
			add["product[0].share"] = random.Value{Word: "1"}
		}
	}
	y, err := results(s.With(add))
	if y == nil && err == nil {
		return nil // longer than a test has time for
	}
	if err != nil {
		return breaks("with a product that nobody orders the run does not end", "%v", err)
	}
	if a, b := rows(x, ".never"), rows(y, ".never"); a != b {
		return breaks("a product that nobody orders changes figures", "%s", firstDifference(a, b))
	}
	return nil
}

// spelledOut: a product that says what the line says anyway is the same, to the last bit.
func spelledOut(s *random.Scenario) error {
	if !hasOrders(s) {
		return nil
	}
	x, err := results(s)
	if x == nil || err != nil {
		return nil
	}
	add := map[string]random.Value{}
	for i := range 10 {
		prefix := fmt.Sprintf("product[%d].", i)
		if s.Values[prefix+"name"].Word == "" {
			continue
		}
		for _, k := range scenarios.Keys() {
			v, given := s.Values[k.Path]
			_, own := s.Values[prefix+k.Path]
			switch {
			case !given || own || !scenarios.OfProduct(k.Path) || laidOver(s, k.Path):
			case strings.Contains(k.Path, ".roll_"): // a product may have the size written in the other way
			case strings.HasPrefix(k.Path, "web_breaks."): // at_speed is the speed of who says mean_length
			default:
				add[prefix+k.Path] = v
			}
		}
	}
	y, err := results(s.With(add))
	if y == nil && err == nil {
		return nil
	}
	if err != nil {
		return breaks("a product that says what the line says does not end", "%v", err)
	}
	if a, b := rows(x, ""), rows(y, ""); a != b {
		return breaks("a product that says what the line says changes figures", "%s", firstDifference(a, b))
	}
	return nil
}

// laidOver says whether an alternative says a key anew: not for a product that says it.
func laidOver(s *random.Scenario, key string) bool {
	for path := range s.Values {
		if strings.HasPrefix(path, "alternative[") && strings.HasSuffix(path, "]."+key) {
			return true
		}
	}
	return false
}

// oneProductIsJobs: a mix of one product is [jobs], to the last bit, where the roll that
// is wound runs on from one order to the next.
func oneProductIsJobs(s *random.Scenario) error {
	if !hasOrders(s) {
		return nil
	}
	plain := map[string]random.Value{"run.controls": {Word: `"none"`}, "run.records": {Word: `"none"`}}
	for path := range s.Values {
		for _, table := range []string{"product[", "changeover.", "orders.", "unwind.reuse", "rewind.end_with_order", "alternative["} {
			if strings.HasPrefix(path, table) {
				plain[path] = random.Value{}
			}
		}
	}
	plain["records.alternative"] = random.Value{}
	s = s.With(plain)
	length, time, scrap := quantity(1, "m", model.Length), quantity(60, "s", model.Time), quantity(3, "m", model.Length)
	length.Nums[0].X[0] = 1 + s.Values["unwind.roll_length"].SI()*0.7
	if s.Values["unwind.roll_length"].SI() == 0 {
		length.Nums[0].X[0] = 900
	}
	jobs := map[string]random.Value{"jobs.length": length, "jobs.changeover": time, "jobs.scrap": scrap}
	mix := map[string]random.Value{"orders.counts": {Word: `"processed"`}, "product[0].name": {Word: `"a"`}, "product[0].order_length": length,
		"changeover.time": time, "changeover.scrap": scrap}
	if kind := s.Values["rewind.change"].Word; kind != `"none"` {
		mix["rewind.end_with_order"] = random.Value{Word: "false"}
	}
	x, err := results(s.With(jobs))
	if x == nil || err != nil {
		return nil
	}
	y, err := results(s.With(mix))
	if y == nil && err == nil {
		return nil
	}
	if err != nil {
		return breaks("one product does not end where jobs do", "%v", err)
	}
	a, b := x.Alternatives[0], y.Alternatives[0]
	for _, name := range a.Names {
		if strings.HasPrefix(name, "waste.") && s.Values["crew.lines"].Word != "" {
			continue // of several lines with orders it is of all their web, else the mean of the lines
		}
		if p, q := a.Metrics[name], b.Metrics[name]; !slices.Contains(b.Names, name) || p.Mean != q.Mean && !(math.IsInf(p.Mean, 1) && math.IsInf(q.Mean, 1)) {
			return breaks("one product is not jobs", "%s: %.15g and %.15g", name, p.Mean, q.Mean)
		}
	}
	return nil
}

// ordersForWorkers: the number of workers changes no bit of a list, done or repeated.
func ordersForWorkers(s *random.Scenario) error {
	base := studyOf(s)
	if base == nil || base.Alternatives[0].Line.Orders == nil || base.Run.WarmUpAuto {
		return nil
	}
	study := *base
	study.Run.Replications, study.Run.WarmUp = 5, 0
	study.Alternatives = slices.Clone(base.Alternatives)
	for i := range study.Alternatives {
		study.Alternatives[i].Line = listOf(&base.Alternatives[i].Line, s.Seed)
	}
	var first string
	for _, workers := range []int{1, 2, 5} {
		r, err := simulate(&study, replicate.Options{Workers: workers})
		if err != nil {
			return fmt.Errorf("a list: %w", err)
		}
		for i := range r.Alternatives {
			for _, name := range r.Alternatives[i].Names {
				if x := r.Alternatives[i].Metrics[name].Mean; math.IsNaN(x) || math.IsInf(x, 0) && !strings.HasSuffix(name, "_interval") {
					return breaks("of a list "+name+" is not a number", "%g", x)
				}
			}
		}
		if text := rows(r, ""); first == "" {
			first = text
		} else if text != first {
			return breaks("the number of workers changes a list", "%s", firstDifference(first, text))
		}
	}
	return nil
}
