package observed

import "rollchange/model"

// item is a law, a share or a mean length of a line, with the key that it stands under.
type item struct {
	key  string      // of the scenario, with the name of a stop or duty in the place of its number
	law  *model.Dist // nil: a share or a length
	x    *float64    // share, or m of web between breaks
	mean bool        // x is a mean length
	seen int         // values behind a share or a length
}

// visit hands over everything of a line that records can stand behind.
func visit(l *model.Line, f func(item)) {
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
	return l
}
