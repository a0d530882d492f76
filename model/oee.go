package model

// Effectiveness is what ISO 22400-2 makes overall equipment effectiveness of.
// The standard itself was not read; the elements are as the OPC UA companion
// specification 40001-1, annex C, and the help text of a plant historian quote
// them.
type Effectiveness struct {
	Busy, Production float64 // s, planned busy time PBT and actual production time APT
	ItemTime         float64 // s an item, planned run time PRI; for a web: s/m at rated speed
	Made, Good       float64 // items or m, produced and good quantity PQ, GQ
}

// Availability is APT / PBT.
func (e Effectiveness) Availability() float64 { return e.Production / e.Busy }

// Performance is PRI PQ / APT, the standard's effectiveness.
func (e Effectiveness) Performance() float64 { return e.ItemTime * e.Made / e.Production }

// Quality is GQ / PQ.
func (e Effectiveness) Quality() float64 { return e.Good / e.Made }

// OEE is the product of the three, GQ PRI / PBT: it does not depend on how the
// time that nothing is made in is split between the first two.
func (e Effectiveness) OEE() float64 { return e.Good * e.ItemTime / e.Busy }
