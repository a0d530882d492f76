package words

import (
	"fmt"

	"rollchange/model"
	"rollchange/sim/metric"
	"rollchange/sim/replicate"
)

// RecordsLeftOut is said of limits that hold chance alone though the scenario asks for what
// its records leave open.
const RecordsLeftOut = "The limits cover chance alone, not what the records leave open (rollchange compare has that)."

// MakesSentence says what an alternative makes.
func MakesSentence(rs *replicate.Results, alternative int, sys model.System) string {
	r, u := rs.Alternatives[alternative], model.Display(model.Speed, sys)
	e := r.Metrics[metric.GoodRate]
	if rs.Run.Replications < 2 {
		return fmt.Sprintf("%s makes %s %s of good web in one replication, which does not say how sure that is.", Called(r), number(u.From(e.Mean), Decimals(u.From(e.Mean), 0)), u.Name)
	}
	return fmt.Sprintf("%s makes %s %s of good web, at %g %% confidence.", Called(r), Figure(e, u), u.Name, 100*rs.Run.Confidence)
}
