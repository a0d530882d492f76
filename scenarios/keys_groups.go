package scenarios

import (
	"strings"

	"rollchange/model"
)

// groupKeys are the groups of a crew.
var groupKeys = []*Key{
	key("crew.first_day", choice, "", "Day of the week at time zero, which is the start of the first shift of a day", func(t *target, v value) {
		for d, name := range model.DayNames {
			if name == v.text {
				t.line().Crew.Begins = model.Day * float64(d)
			}
		}
	}, oneOf(model.DayNames...), def(`"Monday"`)),
	key("crew.group[].name", text, "", "Name of some of the operators", func(t *target, v value) { t.group.Name = v.text }, needed("always")),
	key("crew.group[].operators", integer, model.Number, "How many there are; without groups every operator does every task", func(t *target, v value) { t.group.Operators = int(v.integer) }, within(1, 1000, "1 to 1000"), needed("always")),
	key("crew.group[].tasks", texts, "", "Tasks that they do; if not given, all: "+strings.Join(model.WorkWords(), ", ")+`, "stop NAME" or "duty NAME" for one of them`, func(t *target, v value) { t.group.Tasks = v.texts }, like(`["preparing rolls", "packing"]`)),
	key("crew.group[].shifts", wholes, model.Number, "Shifts of the day that they work; if not given, all; the first begins with the day", func(t *target, v value) { t.group.Shifts = v.wholes }, within(1, 1440, "1 to the shifts of a day"), like("[1, 2]")),
	key("crew.group[].days", days, "", "Days that they work; if not given, all; the day begins with its first shift", func(t *target, v value) { t.group.Days = v.wholes }, like(`"Monday to Friday"`)),
}
