package observed

import (
	"fmt"

	"rollchange/model"
)

// item is a law, a share or a mean length of a line, with the key that it stands under.
type item struct {
	key  string      // of the scenario, with the name of a stop or duty in the place of its number
	law  *model.Dist // nil: a share or a length
	x    *float64    // share, or m of web between breaks
	mean bool        // x is a mean length
	seen int         // values behind a share or a length
}

// visit hands over everything of a line that records can stand behind. What a product
// has of its own stands under its name; what it has as the line does is the line's.
func visit(l *model.Line, f func(item)) {
	if len(l.Products) == 0 {
		items(l, f)
		return
	}
	was := map[string]item{}
	items(l, func(x item) { was[x.key] = x.apart() })
	items(l, f)
	for i := range l.Products {
		p := &l.Products[i]
		items(p.Line, func(x item) {
			if !x.same(was[x.key]) {
				x.key = "product[" + p.Name + "]." + x.key
			}
			f(x)
		})
		f(item{key: "product[" + p.Name + "].order_length", law: &p.OrderLength})
	}
}

// apart is the item as it is now, whatever becomes of the line.
func (x item) apart() item {
	if x.law != nil {
		d := *x.law
		x.law = &d
		return x
	}
	v := *x.x
	x.x = &v
	return x
}

// same says whether another item says the same.
func (x item) same(y item) bool {
	if x.law != nil {
		return y.law != nil && x.law.Equal(*y.law) && x.law.Observed == y.law.Observed
	}
	return y.x != nil && *x.x == *y.x && x.seen == y.seen
}

// items hands over those of a line without its products.
func items(l *model.Line, f func(item)) {
	law := func(key string, d *model.Dist) { f(item{key: key, law: d}) }
	p, u, w := &l.Process, &l.Unwind, &l.Rewind
	law("line.stop_scrap", &p.StopScrap)
	law("line.restart_scrap", &p.RestartScrap)
	law("unwind.roll_length", &u.Roll.Length)
	law("unwind.roll_diameter", &u.Roll.Diameter)
	law("unwind.residual_error", &u.ResidualError)
	law("unwind.change_time", &u.ChangeTime)
	law("unwind.load", &u.Load)
	law("unwind.prepare", &u.Prepare)
	law("unwind.dwell", &u.Dwell)
	law("unwind.recover", &u.Recover)
	law("unwind.late_change", &u.LateChange)
	law("unwind.splice_scrap", &u.SpliceScrap)
	f(item{key: "unwind.splice_success", x: &u.SpliceSuccess, seen: u.SuccessObserved})
	f(item{key: "unwind.splice_breaks", x: &u.SpliceBreaks, seen: u.BreaksObserved})
	law("rewind.roll_length", &w.Roll.Length)
	law("rewind.roll_diameter", &w.Roll.Diameter)
	law("rewind.change_time", &w.ChangeTime)
	law("rewind.doff", &w.Doff)
	law("rewind.load_core", &w.LoadCore)
	law("rewind.dwell", &w.Dwell)
	law("rewind.recover", &w.Recover)
	law("rewind.late_change", &w.LateChange)
	law("rewind.transfer_scrap", &w.TransferScrap)
	law("rewind.pack", &w.Pack)
	f(item{key: "rewind.transfer_success", x: &w.TransferSuccess, seen: w.SuccessObserved})
	law("crew.reaction", &l.Crew.Reaction)
	for i := range l.Crew.Duties {
		d := &l.Crew.Duties[i]
		law("crew.duty["+d.Name+"].every", &d.Every)
		law("crew.duty["+d.Name+"].takes", &d.Takes)
	}
	if b := l.WebBreaks; b != nil {
		f(item{key: "web_breaks.mean_length", x: &b.MeanLength, mean: true, seen: b.Observed})
		law("web_breaks.repair", &b.Repair)
		law("web_breaks.scrap", &b.Scrap)
	}
	for i := range l.Stops {
		s := &l.Stops[i]
		law("stop["+s.Name+"].every", &s.Every)
		law("stop["+s.Name+"].repair", &s.Repair)
		law("stop["+s.Name+"].scrap", &s.Scrap)
	}
	if j := l.Jobs; j != nil {
		law("jobs.length", &j.Length)
		law("jobs.changeover", &j.Changeover)
		law("jobs.scrap", &j.Scrap)
	}
	law("changeover.time", &l.Changeover.Time)
	law("changeover.scrap", &l.Changeover.Scrap)
	for i := range l.Changeover.Between {
		b := &l.Changeover.Between[i]
		law(fmt.Sprintf("changeover.between[%d].time", i), &b.Time)
		law(fmt.Sprintf("changeover.between[%d].scrap", i), &b.Scrap)
	}
	for i := range l.Changeover.When {
		law(fmt.Sprintf("changeover.when[%d].adds", i), &l.Changeover.When[i].Adds)
	}
}

// own is a copy of a line that shares nothing that visit changes.
func own(l model.Line) model.Line {
	l.Stops = append([]model.Stop(nil), l.Stops...)
	l.Crew.Duties = append([]model.Duty(nil), l.Crew.Duties...)
	if l.WebBreaks != nil {
		b := *l.WebBreaks
		l.WebBreaks = &b
	}
	if l.Jobs != nil {
		j := *l.Jobs
		l.Jobs = &j
	}
	l.Changeover.Between = append([]model.Between(nil), l.Changeover.Between...)
	l.Changeover.When = append([]model.When(nil), l.Changeover.When...)
	l.Products = append([]model.Product(nil), l.Products...)
	for i := range l.Products {
		line := own(*l.Products[i].Line)
		l.Products[i].Line = &line
	}
	return l
}
