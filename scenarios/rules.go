package scenarios

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"unicode"

	"rollchange/model"
	"rollchange/model/legible"
)

// checker holds the rules across keys for one alternative.
type checker struct {
	t       *target
	v       leaves
	at      positions
	errs    *Errors
	name    string // of the alternative
	several bool   // whether the scenario has alternatives
	product string // that the line runs; empty: none
}

// in names the alternative in a message when there are several.
func (c *checker) in() string {
	if c.product != "" {
		return fmt.Sprintf(" (product %q)", c.product)
	}
	if !c.several {
		return ""
	}
	return fmt.Sprintf(" (alternative %q)", c.name)
}

// among says whether a text is one of a list.
//
// It is called from many places: in line it would make the engine of a page larger.
//
//go:noinline
func among(list []string, text string) bool { return slices.Contains(list, text) }

// unread says that the value of a key was written and could not be read: what rules say of
// what stands in its place would be false.
//
// It is called from many places: in line it would make the engine of a page larger.
//
//go:noinline
func (v leaves) unread(path string, errs *Errors) bool {
	line := v[path].line
	return line != 0 && errs.has(line, path)
}

func (c *checker) unread(path string) bool { return c.v.unread(path, c.errs) }

// bad reports a rule that a key breaks, at the key's line or its table's. A key
// whose value could not be read at all has had its message.
func (c *checker) bad(path, what, write string) {
	line := c.v[path].line
	if line == 0 {
		line = c.at.lineOf(path)
	}
	if !c.errs.has(line, path) {
		c.errs.add(line, path, what+c.in(), write)
	}
}

// need reports keys that are needed and not there, at their table.
//
// It is called from many places: in line it would make the engine of a page larger.
//
//go:noinline
func (c *checker) need(why string, paths ...string) { c.needFor("", why, paths...) }

// needAt reports the keys of a table that are needed and not there.
func (c *checker) needAt(table, why string, keys []string) {
	for _, k := range keys {
		c.need(why, table+k)
	}
}

// needFor does so at the line of the key that asks for them, when their table
// is not there, and at the first line when no key asks.
func (c *checker) needFor(cause, why string, paths ...string) {
	for _, p := range paths {
		if !c.t.given[p] {
			line, write := c.at.lineOf(p), rowOf[row(p)].ExampleIn(c.t.study.Units)
			if asks := c.v[cause].line; asks < 0 {
				line = asks // it was set
			} else if line == 0 {
				line = max(1, asks)
				write += " under [" + p[:strings.LastIndexByte(p, '.')] + "]"
			}
			c.errs.add(line, p, "is needed "+why+c.in(), write)
		}
	}
}

func (c *checker) rules() {
	l := c.t.line()
	c.need("always", "line.speed", "line.accel", "line.decel", "unwind.change", "rewind.change")
	c.process(l)
	c.unwind(l)
	c.rewind(l)
	c.slit(l)
	c.late(l)
	c.crew(l)
	c.other(l)
	c.groups(l)
	c.sums(l)
	c.money()
	c.study(l)
}

func (c *checker) process(l *model.Line) {
	p := &l.Process
	if !c.t.given["line.rated_speed"] {
		p.RatedSpeed = p.Speed
	} else if p.RatedSpeed > 0 && p.RatedSpeed < p.Speed {
		c.bad("line.rated_speed", "must not be below line.speed", "")
	}
}

// roll checks the size of the rolls of a station.
func (c *checker) roll(end string, r *model.RollSize, needed bool) {
	g := c.t.given
	length, diameter, core := end+".roll_length", end+".roll_diameter", end+".core_diameter"
	switch {
	case g[length] && g[diameter]:
		c.bad(diameter, "contradicts roll_length: a roll has one size", "either roll_length, or roll_diameter with core_diameter")
	case g[diameter]:
		c.need("with roll_diameter", core, "web.caliper")
		if g[core] && r.Diameter.Given() && r.Diameter.Min() <= r.Core {
			c.coreBelow(diameter, core, r)
		}
	case !g[length] && needed:
		c.need("(or "+diameter+")", length)
	}
}

// meanRoll is the mean length of the rolls of a size, m; 0 when it is not known.
func meanRoll(r *model.RollSize, web model.Web) float64 {
	if r.ByDiameter && (web.Caliper <= 0 || r.Core <= 0 || !r.Diameter.Given()) {
		return 0
	}
	return r.Mean(web)
}

func (c *checker) unwind(l *model.Line) {
	u := &l.Unwind
	g := c.t.given
	c.roll("unwind", &u.Roll, true)
	c.splice(l)
	kind := "for a " + u.Change.String() + " unwind"
	canRunOut := u.CanRunOut()
	c.needAt("unwind.", kind, c.unwindNeeds(u))
	switch u.Change {
	case model.Manual:
		if canRunOut && !g["unwind.recover"] {
			c.needFor("unwind.residual_error", "for a manual unwind whose roll can run out (or unwind.recover)", "web_breaks.repair")
		}
	case model.ZeroSpeed:
		if u.SpliceSuccess < 1 || u.SuccessObserved > 0 {
			c.need("when a splice can fail", "unwind.recover")
		}
		if canRunOut {
			c.need("when a roll can run out", "unwind.recover")
		}
		if u.MaxSpeed > 0 && u.MaxSpeed <= l.Process.Speed {
			c.bad("unwind.max_speed", "must be above line.speed, or the storage never refills", "")
		}
		c.storage(l, "unwind", &u.Storage)
		if u.SpindleTorque > 0 {
			c.need("with spindle_torque", "web.width", "web.caliper", "web.grammage", "unwind.core_diameter")
		}
	case model.Flying:
		if !g["unwind.late_change"] {
			c.need(kind+" (or unwind.late_change)", "unwind.recover")
		}
		if canRunOut && !g["web_breaks.repair"] {
			c.need("when a roll can run out (or web_breaks.repair)", "unwind.recover")
		}
		if u.SpliceSuccess < 1 || u.SuccessObserved > 0 {
			c.needFor("unwind.splice_success", "when a flying splice can fail", "web_breaks.repair")
		}
	}
	if u.SpliceBreaks > 0 || u.BreaksObserved > 0 {
		c.needFor("unwind.splice_breaks", "when a splice can part", "web_breaks.repair")
	}
	if u.ResidualLeast > u.Residual && u.Change.Stores() && !c.unread("unwind.residual") {
		c.bad("unwind.residual_least", "must not exceed unwind.residual", "")
	}
	byRepeat := u.Splicing.InRegister && !u.Splicing.Given.Residual // the repeat is refused there
	switch mean, rest := meanRoll(&u.Roll, l.Web), u.Residual+u.ResidualError.Mean(); {
	case mean <= 0:
	case u.Residual > mean-model.LeastLength && byRepeat:
	case u.Residual > mean-model.LeastLength:
		c.bad("unwind.residual", fmt.Sprintf("must be shorter than the roll, %.4g m", mean), "")
	case rest > mean-model.LeastLength:
		c.bad("unwind.residual_error", fmt.Sprintf("leaves %.4g m on the core on average, with unwind.residual: must be less than the roll, %.4g m", rest, mean), "")
	}
}

func (c *checker) rewind(l *model.Line) {
	w := &l.Rewind
	if w.Change == model.None || !w.Change.Given() {
		return
	}
	c.roll("rewind", &w.Roll, w.Trigger != model.BySplice)
	if !w.Roll.Length.Given() && !w.Roll.ByDiameter {
		w.Roll.Length = model.Const(math.Inf(1)) // ends at splices only
	}
	kind := "for a " + w.Change.String() + " rewind"
	c.needAt("rewind.", kind, w.Change.Needs(model.Rewinding))
	c.build(l)
	switch w.Change {
	case model.ZeroSpeed:
		if w.TransferSuccess < 1 || w.SuccessObserved > 0 {
			c.need("when a transfer can fail", "rewind.recover")
		}
		if w.MaxSpeed > 0 && w.MaxSpeed <= l.Process.Speed {
			c.bad("rewind.max_speed", "must be above line.speed, or the storage is never drawn down", "")
		}
		c.storage(l, "rewind", &w.Storage)
	case model.Flying:
		if !c.t.given["rewind.late_change"] {
			c.need(kind+" (or rewind.late_change)", "rewind.recover")
		}
		if w.TransferSuccess < 1 || w.SuccessObserved > 0 {
			c.needFor("rewind.transfer_success", "when a flying transfer can fail", "web_breaks.repair")
		}
	}
	if mean := meanRoll(&w.Roll, l.Web); w.MinLength > 0 && mean > 0 && w.MinLength > mean && w.Trigger == model.ByLength {
		c.bad("rewind.min_length", fmt.Sprintf("is above the finished roll, %.4g m: every roll would be waste", mean), "")
	}
}

func (c *checker) crew(l *model.Line) {
	crew := &l.Crew
	task := ""
	switch {
	case l.Unwind.Change.Given():
		task = "the " + l.Unwind.Change.String() + " unwind"
	case len(crew.Duties) > 0:
		task = "a duty"
	}
	if crew.Operators == 0 && task != "" {
		c.bad("crew.operators", "0 operators, but "+task+" needs one", "operators = 1")
	}
	for i, d := range crew.Duties {
		p := fmt.Sprintf("crew.duty[%d].", i)
		c.need("for each duty", p+"name", p+"takes")
		c.named(p+"name", d.Name)
		every, per := c.t.given[p+"every"], c.t.given[p+"per_roll"]
		switch {
		case every && per:
			c.bad(p+"per_roll", "contradicts every: a duty is called by time or by rolls", "either every or per_roll")
		case !every && !per:
			c.need("(or per_roll)", p+"every")
		case per && l.Rewind.Change == model.None:
			c.bad(p+"per_roll", "there are no finished rolls: the rewind is none", `every = "1 h"`)
		}
		if d.Every.Given() && d.Every.IsConst() && d.Every.A <= 0 && every {
			c.bad(p+"every", "must be above 0", "")
		}
	}
	for i, b := range crew.Breaks {
		p := fmt.Sprintf("crew.break[%d].", i)
		c.need("for each break", p+"at", p+"for")
		if b.At+b.For > crew.Shift && !c.unread("crew.shift") {
			c.bad(p+"at", "the break must end before the shift does", "")
		}
	}
}

// named checks a name that tables and metrics will show.
func (c *checker) named(path, name string) {
	if c.t.given[path] {
		if what := badName(name); what != "" {
			c.bad(path, what, `name = "jam at the knife"`)
		}
	}
}

// badName says what is wrong with a name, nothing when it is right.
func badName(name string) string {
	switch {
	case strings.TrimSpace(name) == "":
		return "must not be empty"
	case strings.TrimSpace(legible.Line(name)) == "":
		return "must have visible letters"
	case strings.TrimSpace(name) != name:
		return "must not begin or end with a space"
	case strings.ContainsFunc(name, unicode.IsControl):
		return "must be one line"
	}
	return ""
}

func (c *checker) other(l *model.Line) {
	if b := l.WebBreaks; b != nil {
		if !c.t.given["web_breaks.at_speed"] {
			b.AtSpeed = l.Process.Speed
		}
		if c.t.given["web_breaks.observed"] {
			c.need("with web_breaks.observed", "web_breaks.mean_length")
		}
		if c.t.given["web_breaks.mean_length"] {
			c.need("with web_breaks.mean_length", "web_breaks.repair")
		}
	}
	names := map[string]bool{}
	for i, s := range l.Stops {
		p := fmt.Sprintf("stop[%d].", i)
		c.need("for each stop", p+"name", p+"every", p+"repair")
		c.named(p+"name", s.Name)
		if s.Name != "" && names[s.Name] {
			c.bad(p+"name", fmt.Sprintf("%q is the name of another stop", s.Name), "another name")
		}
		names[s.Name] = true
	}
	if l.Jobs != nil {
		c.need("with any key of jobs", "jobs.length", "jobs.changeover")
	}
}

// coreBelow says that a roll must be larger than its core. Where only the least of a
// distribution is not, as of a normal one, which reaches down to 0, it says that.
func (c *checker) coreBelow(diameter, core string, r *model.RollSize) {
	d := r.Diameter
	if d.Mean() <= r.Core {
		c.bad(core, "must be below roll_diameter", "")
		return
	}
	half := math.Sqrt(3) * d.SD() // a uniform one of the same mean and sd
	half = min(half, 0.99*(d.Mean()-r.Core))
	format, per := "%.0f mm", 1000.0
	if c.t.study.Units == model.Imperial {
		format, per = "%.2f in", 1/0.0254
	}
	text := func(x float64) string { return fmt.Sprintf(format, per*x) }
	c.bad(diameter, fmt.Sprintf("the distribution reaches down to %s: every roll must be larger than the core, %s", text(d.Min()), text(r.Core)),
		fmt.Sprintf(`roll_diameter = { dist = "uniform", min = "%s", max = "%s" }`, text(d.Mean()-half), text(d.Mean()+half)))
}
