package model

// SpliceMethod is how the tail of one roll is joined to the lead of the next, as a
// scenario writes it.
type SpliceMethod string

// The methods. "" is a splice of which nothing is said: no formula holds for it.
const (
	Butt     SpliceMethod = "butt"      // end to end under tape
	Overlap  SpliceMethod = "overlap"   // one end over the other, on tape, on glue or under tape
	HeatSeal SpliceMethod = "heat seal" // one end over the other, welded
)

// Splicing is how splices are made. What a splice takes and leaves follows from it
// by the closed forms of SpliceOf; a value that was given goes before its formula.
type Splicing struct {
	Method        SpliceMethod
	Tapes         int     // strips of tape across the web: 0, 1 or 2
	InRegister    bool    // the print of the new roll goes on where that of the old one ends
	Lock          float64 // m, processed until print is in register again after a splice out of register
	TapeThickness float64 // m, of one strip
	TrimTime      float64 // s, squaring the lead of the new roll
	TapeTime      float64 // s, laying one strip
	PressTime     float64 // s, cutting, pressing and holding, at the splice table
	AlignTime     float64 // s, bringing the print marks of tail and lead together there
	Given         SpliceGiven
}

// SpliceGiven says which values of a splice were given by themselves.
type SpliceGiven struct{ Tape, Prepare, Dwell, Scrap, Residual bool }

// SpliceParts are what a splice takes and leaves, by formula.
type SpliceParts struct {
	Tape     float64 // m of splicing tape
	Prepare  float64 // s, of the crew, to prepare it on the next roll
	Dwell    float64 // s, web at rest at the splice table
	Scrap    float64 // m, from the splice on
	Residual float64 // m, of a roll that never reach the process: cut off at its tail and at its lead
}

// SpliceOf is what a splice takes and leaves. With k strips of tape, each laid
// straight across a web of width b (m), a print repeat R (m), the length L (m) until
// print is in register again, and the times of a scenario (s):
//
//	tape      k b
//	prepare   trim + k tape
//	dwell     press + align             align only in register
//	scrap     R in register             the repeat that the splice is in
//	          L out of register         0 where the web is not printed before
//	residual  R/2 + R/2 = R in register, else 0
//
// In register the cut is made on a print mark: at the tail and at the new roll's
// lead each, what is beyond the mark is lost, anything from 0 to a repeat, half of
// one in the mean where rolls end anywhere in a repeat. Both are web of a roll that
// never reaches the process, so the lead of a roll is counted with its tail. A mark
// is cut on in the time in which a lead is squared anyway. Derived; the default
// times of a scenario are common practice, no source.
func SpliceOf(s Splicing, w Web) SpliceParts {
	p := SpliceParts{Tape: float64(s.Tapes) * w.Width, Prepare: s.TrimTime + float64(s.Tapes)*s.TapeTime, Dwell: s.PressTime, Scrap: s.Lock}
	if s.InRegister {
		p.Dwell += s.AlignTime
		p.Scrap, p.Residual = w.RegisterRepeat, w.RegisterRepeat
	}
	return p
}

// extraThickness is by how much a splice is thicker than a web of caliper t (m), m;
// with k strips of tape, e thick each:
//
//	butt k e,  overlap t + k e,  heat seal t
//
// Tape is not compressed; a seal flows, so t is the most that it can be. Derived.
func (s Splicing) extraThickness(caliper float64) float64 {
	tape := float64(s.Tapes) * s.TapeThickness
	switch s.Method {
	case Butt:
		return tape
	case Overlap:
		return caliper + tape
	}
	return caliper
}

// spliceFacts are the values that follow from how splices are made, each with its
// formula and what that takes for granted.
func spliceFacts(l *Line, add adder) {
	u := &l.Unwind
	s := u.Splicing
	if s.Method == "" {
		return
	}
	part := func(label string, dim Dimension, value float64, given bool, formula string) {
		if given {
			formula = "as given, in place of the formula: " + formula
		}
		add("unwind", label, dim, value, formula)
	}
	part("tape for a splice", Length, u.TapePerSplice, s.Given.Tape, "tapes x web width; laid straight across")
	if u.Change.Ahead() {
		part("time to prepare a splice", Time, u.Prepare.Mean(), s.Given.Prepare, "trim_time + tapes x tape_time; cutting on a print mark takes as long as a trim")
	}
	dwell, scrap := "press_time", "lock, until print is in register again; 0 for web that is not printed before"
	residual := "0: no mark has to be cut on"
	if s.InRegister {
		dwell, scrap = "press_time + align_time", "one register repeat, that of the splice; print runs on in register"
		residual = "one register repeat: on average half of one each at tail and lead, where rolls end anywhere in a repeat; the lead is counted with the tail"
	}
	if u.Change.Stores() {
		part("splice dwell", Time, u.Dwell.Mean(), s.Given.Dwell, dwell)
	}
	part("scrap of a splice", Length, u.SpliceScrap.Mean(), s.Given.Scrap, scrap)
	part("residual of a roll", Length, u.Residual, s.Given.Residual, residual)
	if s.InRegister && s.Lock > 0 {
		add("unwind", "web that register saves a splice", Length, s.Lock-SpliceOf(s, l.Web).Scrap-SpliceOf(s, l.Web).Residual,
			"lock - 2 register repeats: against the scrap of a splice out of register, that of the splice and what tail and lead lose")
	}
	if l.Web.Caliper > 0 {
		add("unwind", "extra thickness of a splice", Thickness, s.extraThickness(l.Web.Caliper), map[SpliceMethod]string{
			Butt: "at the nip: tapes x tape_thickness, not compressed", Overlap: "at the nip: caliper + tapes x tape_thickness, not compressed",
			HeatSeal: "at the nip: caliper at most; the seal flows"}[s.Method])
	}
}
