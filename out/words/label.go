package words

import (
	"strings"

	"rollchange/model/legible"
	"rollchange/sim/metric"
)

// GroupHeads stand above the rows of a group.
var GroupHeads = [metric.Groups]string{"What the line makes", "Where the hours go", "Where the web goes",
	"What the roll changes do", "How often the storage runs out", "What the crew does", "What it makes of each product"}

// Label is how a metric is called for people.
type Label struct {
	Text  string
	Short string // over a narrow column; empty where none holds it
}

// labels of the metrics of the table; that of a family stands before the hold or the
// part.
var labels = map[string]Label{
	metric.GoodRate:         {Text: "good web", Short: "good web"},
	metric.ProcessedRate:    {Text: "web processed"},
	metric.GoodAreaRate:     {Text: "good area"},
	metric.GoodMassRate:     {Text: "good mass"},
	metric.FinishedRollRate: {Text: "finished rolls", Short: "rolls"},
	metric.WithoutSplice:    {Text: "finished rolls without a splice", Short: "no splice"},
	metric.Availability:     {Text: "availability"},
	metric.Performance:      {Text: "performance"},
	metric.Quality:          {Text: "quality"},
	metric.OEE:              {Text: "OEE"},

	metric.Running:    {Text: "running at line speed"},
	metric.Slowed:     {Text: "running slowed"},
	metric.Ramping:    {Text: "ramping up and down"},
	metric.Stopped:    {Text: "stopped", Short: "stopped"},
	metric.Waiting:    {Text: "stopped, waiting for an operator", Short: "waits"},
	metric.CrewBusy:   {Text: "crew busy", Short: "crew busy"},
	metric.CrewBusyBy: {Text: "busy: "},
	metric.StopRate:   {Text: "web comes to rest"},
	metric.StoppedBy:  {Text: "stopped: "},
	metric.BeginsBy:   {Text: "begins: "},

	metric.PartRolls:      {Text: "part rolls to stock"},
	metric.PartsReused:    {Text: "part rolls used again"},
	metric.PartWeb:        {Text: "web on part rolls to stock"},
	metric.ProductGood:    {Text: "good web: "},
	metric.ProductTime:    {Text: "time: "},
	metric.ProductWaste:   {Text: "waste: "},
	metric.ProductRolls:   {Text: "finished rolls: "},
	metric.ProductSplices: {Text: "splices: "},
	metric.ProductTape:    {Text: "splicing tape: "},

	metric.Waste:           {Text: "total waste", Short: "waste"},
	metric.WasteResidual:   {Text: "web left on cores", Short: "left on cores"},
	metric.WasteSplice:     {Text: "scrap: splices"},
	metric.WasteRestart:    {Text: "scrap: restarts"},
	metric.WasteWebBreak:   {Text: "scrap: web breaks"},
	metric.WasteStop:       {Text: "scrap: stops"},
	metric.WasteTransfer:   {Text: "scrap: transfers", Short: "scrap"},
	metric.WasteChangeover: {Text: "scrap: changeovers"},
	metric.WasteRejected:   {Text: "rejected rolls"},
	metric.WasteTrim:       {Text: "edge trim"},

	metric.SpliceRate:          {Text: "splices"},
	metric.SpliceNotReady:      {Text: "next roll not armed in time", Short: "roll late"},
	metric.SpliceFailed:        {Text: "splice failed at the table"},
	metric.RunOut:              {Text: "roll ran out", Short: "run-outs"},
	metric.SpliceNotRefilled:   {Text: "began before the storage was full"},
	metric.SpliceLost:          {Text: "web lost at a splice"},
	metric.UnwindLowest:        {Text: "lowest unwind storage, mean"},
	metric.UnwindEmpty:         {Text: "storage empty, web broke"},
	metric.TransferRate:        {Text: "transfers"},
	metric.TransferNotReady:    {Text: "next core not ready in time", Short: "core late"},
	metric.TransferFailed:      {Text: "transfer failed"},
	metric.TransferNotRefilled: {Text: "began before it was drawn down"},
	metric.RewindHighest:       {Text: "highest rewind storage, mean"},
	metric.RewindFull:          {Text: "storage overfull, web broke"},

	metric.Depletion:          {Text: "splice depletes the storage", Short: "depletion"},
	metric.DepletionCounted:   {Text: "  counted"},
	metric.DepletionInterval:  {Text: "  once in", Short: "once in"},
	metric.DepletionNotFailed: {Text: "depletion, without failed splices", Short: "depletion"},
	metric.DepletionFailed:    {Text: "depletion by failed splices", Short: "by failures"},
	metric.DepletionBy:        {Text: "depletion: "},
	metric.Overfill:           {Text: "transfer overfills the storage", Short: "overfill"},
	metric.OverfillCounted:    {Text: "  counted"},
	metric.OverfillInterval:   {Text: "  once in", Short: "once in"},
	metric.OverfillNotFailed:  {Text: "overfill, without failed transfers", Short: "overfill"},
	metric.OverfillFailed:     {Text: "overfill by failed transfers", Short: "by failures"},
	metric.OverfillBy:         {Text: "overfill: "},
}

// holdLabels are the reasons for which a line stands.
var holdLabels = map[string]string{
	metric.HoldUnwindChange: "unwind roll change", metric.HoldUnwindDepleted: "unwind storage depleted",
	metric.HoldRewindChange: "rewind roll change", metric.HoldRewindFull: "rewind storage full",
	metric.HoldWebBreak: "web break", metric.HoldChangeover: "changeover", metric.HoldCrewBreak: "crew break",
	metric.HoldNoOrder: "no order to run",
}

// OtherStops is what named stops are called that are drawn together.
const OtherStops = "stopped: other causes"

// HoldLabel is how a hold is called; a named stop by its own name.
func HoldLabel(hold string) string {
	if s, ok := holdLabels[hold]; ok {
		return s
	}
	name, _ := metric.StopOf(hold)
	return legible.Line(name)
}

// LabelOf is how a metric is called.
func LabelOf(name string) Label {
	m, known := metric.Of(name)
	if !known {
		return Label{Text: name}
	}
	l := labels[m.Name]
	if product, ok := metric.ProductOf(name); ok {
		l.Text += legible.Line(product)
	} else if hold, ok := metric.HoldOf(name); ok {
		l.Text += HoldLabel(hold)
	} else if group, ok := metric.CrewGroupOf(name); ok {
		l.Text += legible.Line(group)
		l.Short = l.Text
	} else if _, part, _ := metric.RiskOf(name); m.Family() {
		l.Text += riskParts[part]
	}
	return l
}

// riskParts are the words for the parts of a chance of depletion or overfill,
// and for it under another law of the dwell.
var riskParts = map[string]string{"dwell": "by the dwell alone", "not_ready": "by the next roll or core late", "refill": "by a start before refill",
	"if_lognormal": "if the dwell were lognormal", "if_gamma": "if the dwell were gamma", "if_weibull": "if the dwell were Weibull"}

// MetricLabel is how a metric is called for people.
func MetricLabel(name string) string { return strings.TrimSpace(LabelOf(name).Text) }
