package model

// Study is everything that one scenario file asks: the alternatives and how
// they are to be simulated. The first alternative is the one that the others
// are compared with.
type Study struct {
	Title        string
	Units        System // units for people to read; inside all is SI
	Run          Run
	Alternatives []Alternative // at least one
	Sweeps       []SweepOf
	Live         []string // what can be moved on a live page, as for the command
	Recorded     Period   // what the line really made, where that is given
	Cover        Cover    // what a report says at its head
}

// Listed says whether a study has a list of orders that is run once, of which a plan says
// when each is made.
func (s *Study) Listed() bool {
	o := s.Alternatives[0].Line.Orders
	return o != nil && len(o.List) > 0 && !o.Repeat
}

// Cover is what stands at the head of a report, as a person gave it; empty: not given.
type Cover struct {
	Customer, Author string
	Date             string // YYYY-MM-DD
	Question         string // what the customer asked
}

// SweepOf is a sweep that the scenario itself describes: what is varied, written
// as for the command.
type SweepOf struct {
	Name          string
	Vary, Against string
	Log           bool
}

// Alternative is one way to equip or run the line, the term of engineering
// economics. A scenario without an [[alternative]] has one, named "base".
type Alternative struct {
	Name             string
	Line             Line
	Investment       Dist      // currency, in all
	InvestmentByYear []float64 // the share of it that is spent in year 0, 1, …; nil: all in year 0
	StartUp          Dist      // currency, in all; an expense
	StartUpByYear    []float64 // as InvestmentByYear
	Installation     Dist      // s of planned time that the line stands in year 0
	Learning         []float64 // the share of the saving that is reached in year 1, 2, …; then all
	Maintenance      Dist      // currency a year
	Salvage          Dist      // currency, at the end of the life
}

// Run says how long, how often and from which seed the line is simulated.
type Run struct {
	Horizon      float64 // s
	Replications int
	Seed         uint64
	Confidence   float64 // of the intervals, 0..1
	WarmUp       float64 // s; results count from here
	WarmUpAuto   bool    // warm_up = "auto": cut by MSER-5
	NoControls   bool    // controls = "none": means are plain, the known means of the draws are not used
	Records      Records // whether the figures say what the records of the laws leave open
}

// Records says whether the figures say what the records that laws were fitted to
// leave open: as the scenario writes it.
type Records string

// A command decides where the scenario does not: a report says it where a law says
// how much was observed, others say it when they are told to.
const (
	RecordsByCommand Records = ""
	RecordsObserved  Records = "observed"
	RecordsNone      Records = "none"
)

// Line is a roll-to-roll line as simulated: an unwind, a process and a rewind
// with web between them, the people, and what else stops it.
type Line struct {
	Web        Web
	Process    Process
	Unwind     Unwind
	Rewind     Rewind
	Crew       Crew
	WebBreaks  *WebBreaks // nil: the web never breaks of itself
	Stops      []Stop
	Jobs       *Jobs      // nil: one endless order
	Orders     *Orders    // nil: no orders, or Jobs
	Products   []Product  // that Orders are for
	Changeover Changeover // between two orders of Orders
	Economics  Economics
}

// Web is the material.
type Web struct {
	Width          float64 // m; 0 when not given
	Caliper        float64 // m, thickness; 0 when not given
	Grammage       float64 // kg/m2; 0 when not given
	RegisterRepeat float64 // m, print repeat; 0 when not given
	Stock          string  // its name in store; empty when not given
}

// Process is what the line does to the web, seen as a speed that ramps.
type Process struct {
	Speed        float64 // m/s
	RatedSpeed   float64 // m/s, for the performance share of OEE; at least Speed
	Accel, Decel float64 // m/s2
	Path         float64 // m, fixed web path from the splice point to the process, storage not counted
	StopScrap    Dist    // m, scrap behind the process each time the web comes to rest
	RestartScrap Dist    // m, scrap each time the web starts again
}

// RollSize is the size of the rolls that a station takes. Either Length
// varies, or (ByDiameter) Diameter does and the length follows from it, the
// core and the caliper.
type RollSize struct {
	ByDiameter bool
	Length     Dist    // m, when not ByDiameter
	Diameter   Dist    // m, when ByDiameter
	Core       float64 // m, core diameter; 0 when not given
}

// Unwind feeds the line from parent rolls.
type Unwind struct {
	Change        ChangeKind
	Roll          RollSize
	Residual      float64 // m, web meant to be left on the core
	ResidualLeast float64 // m, as far as the control goes while the next roll is not armed
	ResidualError Dist    // m, signed: true rest less believed rest

	// manual
	CallAhead  float64 // s, call of the operator before the foreseen hold
	ChangeTime Dist    // s

	// zero-speed and flying
	Load, Prepare Dist    // s, one task
	Dwell         Dist    // s, at rest (zero-speed)
	Decel, Accel  float64 // m/s2, in the splice cycle only
	MaxSpeed      float64 // m/s, while the storage refills
	SpindleTorque float64 // N m; 0: the ramps are not limited by it
	SpliceSuccess float64 // share
	Recover       Dist    // s, a splice made by hand
	LateChange    Dist    // s, flying: the change at rest by whoever armed a roll that came late; not given: by hand

	// every kind
	SpliceBreaks  float64 // share of made splices that part in the process
	SpliceScrap   Dist    // m, from the splice on
	TapePerSplice float64 // m
	SpliceIn      bool    // the web of the next order is spliced in early enough to be at the process when it begins
	Reuse         bool    // a part roll that an order leaves is the next one of its stock

	SuccessObserved, BreaksObserved int // splices behind the two shares; 0: not said

	Splicing Splicing // how splices are made; its values stand in the fields above

	Storage Storage
}

// Rewind winds what the line makes. Its storage is the mirror image of the
// unwind's: it runs low and fills while the winder stands.
type Rewind struct {
	Change       ChangeKind
	Roll         RollSize // finished roll
	Trigger      Trigger
	Overrun      float64 // m, by which a roll may grow while the next core is not ready
	MinLength    float64 // m, a shorter finished roll is waste; 0: no limit
	MaxSplices   int     // a finished roll with more is waste; -1: no limit
	EndWithOrder bool    // the end of an order ends the finished roll
	Lanes        int     // slit lanes, a finished roll each; 0: one
	Trim         float64 // m of the width, both edges together; below Web.Width
	SpliceAt     SpliceSide
	LateSpeed    float64 // m/s, of the line while the next core is late (on_late = "slow"); 0: it does not slow

	CallAhead  float64 // s
	ChangeTime Dist    // s

	Doff, LoadCore  Dist // s, one task
	Dwell           Dist // s
	Decel, Accel    float64
	MaxSpeed        float64
	TransferSuccess float64
	Recover         Dist
	LateChange      Dist // s, as Unwind.LateChange
	TransferScrap   Dist // m, first metres of the new roll
	SuccessObserved int  // transfers behind TransferSuccess; 0: not said

	Pack Dist // s, a task of its own for every finished roll; zero: none

	Build Build // the ridge of a seam, which limits how long a roll may be

	Storage Storage
}

// Trigger is what ends a finished roll.
type Trigger string

// A finished roll ends at its length, at a splice just wound, or at the first of the two.
const (
	ByLength         Trigger = "length"
	BySplice         Trigger = "splice"
	ByLengthOrSplice Trigger = "length or splice"
)

// SpliceSide is where a splice lies that has ended a finished roll.
type SpliceSide string

// On the outside of the roll that it ends, or inside the next, at its core. Not given
// it is on the outside, and rolls without a splice are not told of.
const (
	SpliceOutside SpliceSide = "outside"
	SpliceInside  SpliceSide = "inside"
)

// Storage holds web between a station and the process. All levels are lengths of web.
type Storage struct {
	Capacity     float64 // m; 0: the station has none
	Strands      int     // 0 when not given
	Travel       float64 // m, carriage travel; 0 when not given
	RunLevel     float64 // m, content while the line runs undisturbed
	RestartLevel float64 // m, content at which a depleted (or full) line may start again
	Reserve      float64 // m, never used
	Slow         bool    // on_low = "slow": the process slows before it stops
	SlowLevel    float64 // m
	SlowSpeed    float64 // m/s
	RollerDrag   float64 // N, per idler, for the tension that the strands add; 0 when not given
}

// Crew is the people that the lines share.
type Crew struct {
	Operators int
	Lines     int     // identical lines that share the crew, at least 1
	Reaction  Dist    // s, notice and walk
	Shift     float64 // s
	Duties    []Duty
	Breaks    []Break
	Groups    []Group // nil: every operator does every task
	Begins    float64 // s from the start of the first shift of Monday to time zero
}

// Duty is other work of the crew. Every is used when PerRoll is 0.
type Duty struct {
	Name    string
	Every   Dist // s, from call to call
	PerRoll int  // one call for so many finished rolls; 0: by time
	Takes   Dist // s
}

// Break is time off, at the same time of every shift.
type Break struct {
	At, For float64 // s
	Cover   bool    // true: the line runs on with one operator fewer; false: it stops
}

// WebBreaks is breaks of the web of itself, a Poisson process along the web
// with rate (speed/AtSpeed)^Exponent / MeanLength per metre.
type WebBreaks struct {
	MeanLength float64 // m; +Inf: only the repair is given
	AtSpeed    float64 // m/s
	Exponent   float64
	Repair     Dist // s
	Scrap      Dist // m
	Observed   int  // breaks behind MeanLength; 0: not said
}

// Stop is a named cause of stops that has nothing to do with rolls.
type Stop struct {
	Name          string
	Every         Dist // s
	Calendar      bool // basis = "calendar"; else running time
	Repair        Dist // s
	NeedsOperator bool
	Scrap         Dist // m
}

// Jobs is the orders that the line makes one after another.
type Jobs struct {
	Length        Dist // m, processed
	Changeover    Dist // s
	Scrap         Dist // m
	NewParentRoll bool // each job starts with a new parent roll; the rest of the old goes back to stock
}

// Economics is prices and conditions. A zero Dist (Given() false) was not given.
type Economics struct {
	Currency          string
	HoursPerYear      Dist // s a year
	Demand            Dist // m of good web a year
	Price             Dist // currency per m2 of good web
	MaterialCost      Dist // currency per m2
	DisposalCost      Dist // currency per kg
	CrewCost          Dist // currency per operator hour
	LineCost          Dist // currency per line hour
	TapeCost          Dist // currency per m
	DiscountRate      Dist // share a year
	Life              Dist // years
	TaxRate           Dist // share
	DepreciationYears Dist // years

	WasteIncome         Dist // currency per kg of waste, what it sells for
	CrewHoursSaved      Dist // share of the operator hours that are freed and really leave
	PriceChange         Dist // share a year by which prices and costs change beyond inflation
	OutputPriceChange   Dist // the same of Price; not given: PriceChange
	MaterialPriceChange Dist // of MaterialCost, WasteIncome and TapeCost
	WageChange          Dist // of CrewCost
}
