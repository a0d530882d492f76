package metric

import (
	"slices"
	"strings"
)

// Metric is one row of the table.
type Metric struct {
	Name     string
	Unit     string // SI: "m/s", "1", "1/s"
	Estimate Kind
	Group    Group
	Shown    Shown
	Row      Row
	Compared Place
}

// Kind is how the figures of the replications, each Num by Den, make an estimate.
type Kind string

// The kinds; part files hold them by these words.
const (
	Mean     Kind = ""         // their mean; Den is 1
	Ratio    Kind = "ratio"    // of the totals over all replications
	OfTrials Kind = "share"    // of trials that came true, of all: a ratio in 0 to 1
	Count    Kind = "count"    // events by time: Num of them in Den seconds, the same for all replications
	Interval Kind = "interval" // Num seconds for Den trials: the mean time between trials that come true, of the share before it
)

// Group is what a metric tells of.
type Group int

// What metrics tell of, in the order of a table; Groups is how many there are.
const (
	Makes Group = iota
	Hours
	WebGoes
	RollChanges
	Risk
	People
	Products
	Groups
)

// Shown is how a figure is shown.
type Shown int

// How figures are shown.
const (
	Plain          Shown = iota // in the unit that people use for the SI one
	Share                       // in percent
	ShareOfTime                 // of the hours, in percent
	ShareOfChanges              // of the roll changes, in percent; where none was seen, of how many
	Chance                      // in percent, or as a power of ten when it is small
	Every                       // a mean time between events, in hours
	PerTime                     // events by the hour, day or year, by how many they are
)

// Row is whether a metric has a row of its own in the table of one alternative.
type Row int

// Whether a metric has a row.
const (
	Always Row = iota
	IfAny      // unless it is 0 in every replication; it is a part of a whole where its group has one
	Whole      // the whole that others are parts of: its row is added up from theirs
	Within     // it stands in the row of another
)

// Place is whether a metric stands in a comparison, and where within its group;
// those at one place stand in the order of the table.
type Place int

// Where a metric stands.
const (
	Not Place = iota
	First
	Then
)

// Table lists the metrics in the order in which people read them.
func Table() []Metric { return slices.Clone(table) }

// Of is the row of a metric, which for one of a family is that of the family; false
// for a name that is no metric's.
func Of(name string) (Metric, bool) {
	i := Rank(name)
	if i < 0 {
		return Metric{Name: name, Unit: "1"}, false
	}
	return table[i], true
}

// Family says that the row is one of a family: its name ends in a dot.
func (m Metric) Family() bool { return strings.HasSuffix(m.Name, ".") }

// IsPart says that a metric is a part of the whole of its group: of the hours, or of
// the web that was supplied.
func (m Metric) IsPart() bool { return m.Row == IfAny && (m.Group == Hours || m.Group == WebGoes) }

// Rank is the row of a metric in the table, -1 for none. Rows are looked at where they
// stand: to hand each over takes longer than all else.
func Rank(name string) int {
	for i := range table {
		row := table[i].Name
		if row == name || len(name) > len(row) && row[len(row)-1] == '.' && strings.HasPrefix(name, row) {
			return i
		}
	}
	return -1
}

// ByTable orders two metrics as the table does; those of a family are equal.
func ByTable(a, b string) int { return Rank(a) - Rank(b) }

// ByComparison orders two metrics as a comparison does.
func ByComparison(a, b string) int {
	x, _ := Of(a)
	y, _ := Of(b)
	switch {
	case x.Group != y.Group:
		return int(x.Group - y.Group)
	case x.Compared != y.Compared:
		return int(x.Compared - y.Compared)
	}
	return ByTable(a, b)
}
