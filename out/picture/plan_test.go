package picture

import (
	"fmt"
	"math"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"

	"rollchange/model"
	"rollchange/out/invented"
	"rollchange/sim/plan"
)

// The picture of a plan is sound whatever the list: no label over another, none outside.
func TestPlanPicture(t *testing.T) {
	long := func(kind string, k int) string {
		return strings.Repeat("a "+kind+" with a long name ", 12) + fmt.Sprint(k)
	}
	undated := func(a *plan.Answer) { a.Begin = time.Time{} }
	for _, x := range []struct {
		orders, alternatives int
		names                func(string, int) string
		change               func(*plan.Answer)
		says                 []string
		not                  []string
	}{
		{24, 2, invented.PlanNames, nil, []string{"4901 wine, front", "4924 cheese, film", "Mon 06:00", "Tue 1 Dec", "late, %, top bar first", "by hand", "due"}, []string{"that follow"}},
		{40, 3, invented.PlanNames, nil, []string{"4940 wine, front", "100 / 0 / 0", "flying"}, nil},
		{1, 1, invented.PlanNames, nil, []string{"4901", "late, %"}, []string{"top bar first"}},
		{12, 3, long, nil, []string{"a order with a lo…", "a product with …"}, nil},
		{200, 1, invented.PlanNames, nil, []string{"and 80 orders that follow"}, []string{"5021"}},
		{30, 3, invented.PlanNames, undated, []string{"hours from the start of the list", "12"}, []string{"Mon", "Dec"}},
		{5, 2, invented.PlanNames, func(a *plan.Answer) {
			for i := range a.Orders {
				a.Orders[i].Due = model.NotDue
			}
		}, []string{"4905"}, []string{"late", "due"}},
		{20, 40, func(kind string, k int) string { return fmt.Sprint(kind, k) }, nil, []string{"and 10 orders that follow", "alternative39"}, []string{"late"}},
	} {
		a := invented.Plan(x.orders, x.alternatives, x.names)
		if x.change != nil {
			x.change(a)
		}
		name := fmt.Sprintf("plan-%d-%d", x.orders, x.alternatives)
		text := sound(t, name, Plan(a))
		has(t, text, x.says...)
		for _, s := range x.not {
			assert.NotContains(t, text, s, name)
		}
	}
	for _, hours := range []float64{0.02, 0.2, 3, 20, 60, 200, 1000, 9000, 80000} { // the axis of a shift to ten years
		a := invented.Plan(6, 2, invented.PlanNames)
		for i := range a.Alternatives {
			for k := range a.Alternatives[i].Orders {
				o := &a.Alternatives[i].Orders[k]
				for _, v := range []*float64{&o.Begin.Mean, &o.Begin.Low, &o.Begin.High, &o.End.Mean, &o.End.Low, &o.End.High} {
					*v = math.Max(0, *v) / 45000 * hours * 3600
				}
			}
		}
		sound(t, fmt.Sprintf("plan-of-%g-h", hours), Plan(a))
	}
	for _, name := range invented.HostileNames {
		sound(t, "plan-hostile", Plan(invented.Plan(3, 2, func(string, int) string { return name })))
	}
}

// Where no order was made there is nothing to draw.
func TestPlanPictureOfNothing(t *testing.T) {
	a := invented.Plan(2, 1, invented.PlanNames)
	for k := range a.Orders {
		a.Alternatives[0].Orders[k].End.High = math.NaN()
	}
	assert.Nil(t, Plan(a))
}
