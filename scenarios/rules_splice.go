package scenarios

import (
	"fmt"
	"slices"
	"strings"

	"rollchange/model"
)

// anyOf says whether a key of a table stands in the scenario.
func (c *checker) anyOf(table string) bool {
	for path, given := range c.t.given {
		if given && strings.HasPrefix(path, table+".") {
			return true
		}
	}
	return false
}

// splice sets what follows from how splices are made: each value that was not given
// itself.
func (c *checker) splice(l *model.Line) {
	u, g := &l.Unwind, c.t.given
	s := &u.Splicing
	if !c.anyOf("unwind.splice") {
		*s = model.Splicing{} // defaults of a table that is not there
		return
	}
	c.need("with any key of unwind.splice", "unwind.splice.method")
	if s.Method == "" {
		return
	}
	if !g["unwind.splice.tapes"] && s.Method != model.HeatSeal {
		s.Tapes = 1
	}
	switch {
	case s.Method == model.HeatSeal && s.Tapes > 0:
		c.bad("unwind.splice.tapes", "a heat seal has no tape", "tapes = 0")
	case s.Method == model.Butt && s.Tapes == 0:
		c.bad("unwind.splice.tapes", "a butt splice needs tape", "tapes = 1")
	}
	s.Given = spliceGiven(c.t)
	if s.InRegister {
		c.needFor("unwind.splice.in_register", "to splice in register", "web.register_repeat")
		if mean := meanRoll(&u.Roll, l.Web); !s.Given.Residual && mean > 0 && l.Web.RegisterRepeat > mean-model.LeastLength {
			c.bad("web.register_repeat", fmt.Sprintf("must be shorter than the roll, %.4g m, to splice in register", mean), "")
		}
	}
	if s.Tapes > 0 && !s.Given.Tape {
		c.needFor("unwind.splice.method", "for the tape of a splice (or unwind.tape_per_splice)", "web.width")
	}
	p := model.SpliceOf(*s, l.Web)
	if !s.Given.Tape {
		u.TapePerSplice = p.Tape
	}
	if !s.Given.Prepare && u.Change.Ahead() {
		u.Prepare = model.Const(p.Prepare)
	}
	if !s.Given.Dwell && u.Change.Stores() {
		u.Dwell = model.Const(p.Dwell)
	}
	if !s.Given.Scrap {
		u.SpliceScrap = model.Const(p.Scrap)
	}
	if !s.Given.Residual {
		u.Residual = p.Residual
	}
}

// spliceGiven says which values of a splice stand in the scenario.
func spliceGiven(t *target) model.SpliceGiven {
	g := t.given
	return model.SpliceGiven{Tape: g["unwind.tape_per_splice"], Prepare: g["unwind.prepare"], Dwell: g["unwind.dwell"], Scrap: g["unwind.splice_scrap"], Residual: g["unwind.residual"]}
}

// unwindNeeds are the keys that an unwind of the kind needs: of those that follow
// from how splices are made, none.
func (c *checker) unwindNeeds(u *model.Unwind) []string {
	return slices.DeleteFunc(slices.Clone(u.Change.Needs(model.Unwinding)), func(key string) bool {
		return c.anyOf("unwind.splice") && (key == "prepare" || key == "dwell")
	})
}

// goesBefore says why a key of how splices are made changes nothing: all that follows
// from it was given itself, or it is for splices in register. "": it does change
// something.
func goesBefore(path string, t *target) string {
	s, change := t.line().Unwind.Splicing, t.line().Unwind.Change
	g := spliceGiven(t)
	switch path {
	case "unwind.splice.in_register":
		if s.InRegister && g.Scrap && g.Residual && (g.Dwell || !change.Stores()) {
			return "residual and splice_scrap go before it" + map[bool]string{true: ", and dwell"}[change.Stores()]
		}
	case "unwind.splice.lock":
		if g.Scrap && !s.InRegister { // in register it says what that saves
			return "splice_scrap goes before it"
		}
	case "unwind.splice.trim_time", "unwind.splice.tape_time":
		if g.Prepare {
			return "prepare goes before it"
		}
	case "unwind.splice.press_time", "unwind.splice.align_time":
		switch {
		case g.Dwell:
			return "dwell goes before it"
		case !s.InRegister && strings.HasSuffix(path, "align_time"):
			return "it is for splices in register"
		}
	}
	return ""
}
