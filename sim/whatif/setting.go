package whatif

// How says what of an input a Setting gives.
type How int

// What of an input.
const (
	Itself    How = iota
	Mean          // of a distribution
	SD            // of a distribution about 0
	Times         // the value in the scenario times Amount
	Shortfall     // what the value in the scenario lacks of 100 % times Amount
	Step          // Amount more, or less, than the value in the scenario
)

// Setting is what an input is, or is moved to.
type Setting struct {
	How    How
	Text   string  // as it would be written in the scenario: "135 m/min"; "" where an Amount says it
	Amount float64 // in Unit, of an economic input SI and its currency
	Unit   string
}

// Unmoved is an input that cannot be moved, and why.
type Unmoved struct {
	Key string
	Why Obstacle
}

// Obstacle is what keeps an input from being moved.
type Obstacle int

// The obstacles.
const (
	CanMove Obstacle = iota
	AtMinimum
	FromFile // its values come from a file
	AtWhole  // it is 100 %
	AtZero
	NeitherEnd // neither end of its range is possible
)

// Lack is a metric that there is none of, and why.
type Lack struct {
	Metric string
	Why    Want
}

// Want is what a metric wants for.
type Want int

// What may be wanting.
const (
	NoInvestment   Want = iota // a payback: nothing more is invested
	NothingToCount             // how it varies: in some period there was nothing to count
)
