package words

import (
	"math"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"

	"rollchange/model"
	"rollchange/sim/estimate"
	"rollchange/sim/metric"
	"rollchange/sim/replicate"
	"rollchange/sim/whatif"
)

// share is an estimate of a share with its limits; NaN limits: none.
func share(mean, low, high float64) estimate.Estimate {
	return estimate.Estimate{Unit: "1", Mean: mean, Low: low, High: high}
}

var (
	nan      = math.NaN()
	unwinds  = &whatif.Answer{Kind: whatif.Storage, Of: whatif.UnwindStorage, Dim: model.Length}
	rewinds  = &whatif.Answer{Kind: whatif.Storage, Of: whatif.RewindStorage, Dim: model.Length}
	fastest  = &whatif.Answer{Kind: whatif.Speed, Of: whatif.LineSpeed, Dim: model.Speed}
	residual = &whatif.Answer{Kind: whatif.Residual, Of: whatif.ResidualSetPoint, Dim: model.Length, Currency: "EUR"}
	crewed   = &whatif.Answer{Kind: whatif.Crew, Of: whatif.Operators, Dim: model.Number}
	rolled   = &whatif.Answer{Kind: whatif.Roll, Of: whatif.FinishedRoll, Dim: model.Length}
	grouped  = &whatif.Answer{Kind: whatif.Crew, Of: whatif.Operators, Dim: model.Number, Group: "setters"}
	depleted = whatif.Bound{Metric: metric.Depletion, Most: 1e-3}
	busy     = whatif.Constraint{By: whatif.ALimit, Bound: whatif.Bound{Metric: metric.CrewBusy, Most: 0.9}}
)

// A fact of an answer, and what is said of it: each differs from the one before
// in what makes the sentence before it false.
var sizedTruths = []struct {
	of   *whatif.Answer
	note whatif.Note
	says string
}{
	{unwinds, whatif.DwellNeeds{Form: 61.47, Rest: whatif.FailedByHand}, "a long dwell alone needs 61.47 m (closed form); the rest is for splices that fail and are made by hand"},
	{rewinds, whatif.DwellNeeds{Form: 61.47, Rest: whatif.NotRefilled}, "a long dwell alone needs 61.47 m (closed form); the rest is for transfers that begin before the storage is drawn down"},
	{unwinds, whatif.DwellNeeds{Form: 61.47, Rest: whatif.NotRefilled}, "a long dwell alone needs 61.47 m (closed form); the rest is for splices that begin before the storage is refilled"},
	{unwinds, whatif.DwellNeeds{Form: 61.47, Rest: whatif.NotReady}, "a long dwell alone needs 61.47 m (closed form); the rest is for the next roll not armed in time"},
	{rewinds, whatif.DwellNeeds{Form: 61.47, Rest: whatif.NotReady}, "a long dwell alone needs 61.47 m (closed form); the rest is for the next core not ready in time"},
	{unwinds, whatif.DwellBeyond{Form: 61.47, Most: 40}, "a long dwell alone needs the 61.47 m of the closed form; --most is 40 m"},
	{unwinds, whatif.MoreGainsLittle{X: 56.2}, "above 56.2 m, more storage cuts that by less than a tenth"},
	{unwinds, whatif.EvenMost{ChanceAt: whatif.ChanceAt{X: 500, Chance: share(0.01, 0.009, 0.011)}, By: whatif.FailedByHand}, "even 500 m gives 1.00 % (0.90 to 1.10) of the splices, mostly because of splices that fail and are made by hand"},
	{rewinds, whatif.EvenMost{ChanceAt: whatif.ChanceAt{X: 500, Chance: share(2e-5, 2e-5, 2e-5)}, By: whatif.LongDwell}, "even 500 m gives 20 in a million of the transfers, mostly because of a long dwell"},
	{unwinds, whatif.EvenMost{ChanceAt: whatif.ChanceAt{X: 500, Chance: share(0.01, nan, nan)}, By: whatif.LongDwell}, "even 500 m gives 1 % (no confidence limits: too little was simulated) of the splices, mostly because of a long dwell"},
	{unwinds, whatif.NotTheStorage{By: whatif.FailedByHand, At: []whatif.ChanceAt{{X: 100, Chance: share(0.01, 0.01, 0.01)}, {X: 200, Chance: share(0.009, 0.009, 0.009)}}},
		"the limit is not the storage but splices that fail and are made by hand. The chance is 1 % at 100 m and 0.9 % at 200 m"},
	{unwinds, whatif.NotTheStorage{By: whatif.NotReady, At: []whatif.ChanceAt{{X: 100, Chance: share(0.01, 0.01, 0.01)}, {X: 200, Chance: share(0.009, 0.009, 0.009)}, {X: 1000, Chance: share(0.008, 0.008, 0.008)}}},
		"the limit is not the storage but the next roll not armed in time. The chance is 1 % at 100 m, 0.9 % at 200 m, and 0.8 % at 1000 m"},
	{unwinds, whatif.Impossible{X: 10, Why: "unwind.storage.run_level must not be above the capacity, 10 m"}, "10 m is not possible: unwind.storage.run_level must not be above the capacity, 10 m"},
	{unwinds, whatif.OneReplication{}, "one replication gives no confidence limits: whether the target holds at the upper limit is not known"},
	{unwinds, whatif.FarTail{Target: 1e-6}, "a target of 1 in 1,000,000 depends on the far tail of the dwell distribution, which no data can show: the closed form below gives the storage for other distributions of the same mean and sd"},
	{unwinds, whatif.FarTail{Target: 5e-4}, "a target of 0.05 % depends on the far tail of the dwell distribution, which no data can show: the closed form below gives the storage for other distributions of the same mean and sd"},
	{unwinds, whatif.RecordsNeed{Value: 71.3, Observed: 40, Confidence: 0.95, Target: 0.03, Decides: true}, "40 dwells were observed: with 95 % confidence over what they leave open, 71.3 m holds the target"},
	{rewinds, whatif.RecordsNeed{Value: 71.3, Observed: 1, Confidence: 0.9, Target: 1e-4, Decides: true}, "1 dwell was observed: with 90 % confidence over what they leave open, 71.3 m holds the target; the target, 0.01 % of the transfers, is rarer than one in all that were observed: the choice of law decides, not data"},
	{unwinds, whatif.RecordsNeed{Value: math.Inf(1), Observed: 2, Confidence: 0.95, Target: 0.6, Decides: true}, "2 dwells were observed: too few for a storage that holds the target with 95 % confidence over what they leave open"},
	{unwinds, whatif.RecordsNeed{Value: nan, Observed: 1200, Confidence: 0.95, Target: 0.01, Decides: true}, "1,200 dwells were observed and are given as a list, which ends at its longest: beyond that a law must say what they leave open"},
	{unwinds, whatif.RecordsNeed{Value: 71.3, Observed: 40, Confidence: 0.95, Target: 0.03, Decides: true, Law: model.Gamma, Rival: model.Lognormal, RivalValue: 75.4}, "40 dwells were observed: with 95 % confidence over what they leave open, 71.3 m holds the target; with that many a lognormal law fits as well (AIC within 2), and by it 75.4 m is needed"},
	{unwinds, whatif.RecordsNeed{Value: 71.3, Observed: 40, Confidence: 0.95, Target: 0.03, Decides: true, Law: model.Gamma, Rival: model.Lognormal, RivalValue: math.Inf(1)}, "40 dwells were observed: with 95 % confidence over what they leave open, 71.3 m holds the target; with that many a lognormal law fits as well (AIC within 2), and by it they are too few for any"},
	{unwinds, whatif.RecordsNeed{Value: 71.3, Observed: 40, Confidence: 0.95, Target: 0.03, Decides: true, Listed: true, Law: model.Lognormal}, "40 dwells were observed and are given as a list, which ends at its longest; by a lognormal law, which fits them: with 95 % confidence over what they leave open, 71.3 m holds the target"},
	{unwinds, whatif.RecordsNeed{Value: nan, Confidence: 0.95, Target: 0.01, Decides: true}, "what the records leave open is not known here: a long dwell decides the storage, and nothing says how many stand behind its distribution (observed = 37 beside its mean)"},
	{unwinds, whatif.RecordsNeed{Value: nan, Observed: 40, Confidence: 0.95, Target: 1e-4}, "what the records leave open is not known here: a long dwell does not decide the storage, and a target this rare is not simulated for every draw of them"},
	{unwinds, whatif.RecordsNeed{Value: 143, Observed: 4, Confidence: 0.95, Target: 1e-4, Draws: 39}, "a long dwell does not decide the storage: with 95 % confidence over what all records of the line leave open, 143 m holds the target (39 draws of them, each simulated)"},
	{unwinds, whatif.RecordsNeed{Value: math.Inf(1), Confidence: 0.95, Draws: 19}, "a long dwell does not decide the storage: with 95 % confidence over what all records of the line leave open, no storage that is considered holds the target (19 draws of them, each simulated)"},
	{unwinds, whatif.ByEstimate{X: 56.43}, "by the estimate alone, without its confidence limits, 56.43 m is enough"},
	{unwinds, whatif.TookMore{Changes: 7344, Replications: 68, Usual: 2}, "a target this rare took 68 replications instead of 2 (7,344 splices)"},
	{rewinds, whatif.TookMore{Changes: 7344, Replications: 1068, Usual: 2}, "a target this rare took 1,068 replications instead of 2 (7,344 transfers)"},
	{fastest, whatif.TookMore{Replications: 68, Usual: 2}, "a target this rare took 68 replications instead of 2"},

	{unwinds, whatif.Failed{Fails: 0.01, Add: share(0.003, 0.0027, 0.0034), Holds: true}, "10 in 1,000 splices fail and are made by hand; with this storage 3.0 (2.7 to 3.4) in 1,000 fail and deplete it: the target holds even with them"},
	{rewinds, whatif.Failed{Fails: 0.01, Add: share(0.003, 0.003, 0.003), Value: nan, Most: 500}, "10 in 1,000 transfers fail and are made by hand; with this storage 3 in 1,000 fail and fill it; no storage up to 500 m meets the target if they count"},
	{unwinds, whatif.Failed{Fails: 0.25, Add: share(0.1, nan, nan), Value: 100, Flat: true}, "25 in 100 splices fail and are made by hand; with this storage 10 in 100 (no confidence limits: too little was simulated) fail and deplete it; if they count, they and not the storage decide whether the target holds"},
	{unwinds, whatif.Failed{Fails: 5e-5, Add: share(4e-5, 4e-5, 4e-5), Value: 100, Low: 90, High: 110}, "5 in 100,000 splices fail and are made by hand; with this storage 4 in 100,000 fail and deplete it; if they count, the target needs 100 m (90 m to 110 m)"},
	{unwinds, whatif.Failed{Fails: 0.01, Add: share(0.003, 0.003, 0.003), Value: 100, Low: 90, High: math.Inf(1)}, "10 in 1,000 splices fail and are made by hand; with this storage 3 in 1,000 fail and deplete it; if they count, the target needs 100 m (90 m or more)"},
	{unwinds, whatif.Failed{Fails: 0.01, Add: share(0.003, 0.003, 0.003), Value: 100, Low: nan, High: nan}, "10 in 1,000 splices fail and are made by hand; with this storage 3 in 1,000 fail and deplete it; if they count, the target needs 100 m"},

	{unwinds, whatif.Unshown{Short: &whatif.Short{X: 56.43, Target: 1e-3, Needed: 4070, Simulated: 216, Low: 0, High: 0.0181, Enough: 38}}, "a target of 0.1 % needs 4,100 splices with none seen; 216 were simulated; so far the chance is known to be below 1 in 55 at 56.43 m; --most-replications 38 would allow them"},
	{rewinds, whatif.Unshown{Short: &whatif.Short{X: 56.43, Target: 1e-3, Needed: 3.61e6, Simulated: 1216, High: nan, Enough: 1e6}}, "a target of 0.1 % needs 3.7 million transfers with none seen; 1,216 were simulated"},
	{unwinds, whatif.Unshown{Short: &whatif.Short{X: 56.43, Target: 1e-3, Needed: 2.1e9, Simulated: 216, High: 0.9, Seen: true, Enough: 1e6}}, "to tell whether 0.1 % is met takes about 2.1 billion splices; 216 were simulated; so far the chance is known to be below 90 % at 56.43 m"},
	{unwinds, whatif.Unshown{Short: &whatif.Short{X: 56.43, Target: 1e-3, Needed: math.Inf(1), Simulated: 216, High: nan, Seen: true, Enough: math.Inf(1)}}, "216 splices were simulated, too few to tell whether 0.1 % is met"},
	{fastest, whatif.Unshown{Bound: whatif.Bound{Metric: metric.TransferNotReady}, Short: &whatif.Short{X: 2, Target: 0.01, Needed: 410, Simulated: 98, High: 0.03, Enough: 9}}, "next core not ready in time: a target of 1 % needs 410 transfers with none seen; 98 were simulated; so far the chance is known to be below 1 in 33 at 120 m/min; --most-replications 9 would allow them"},
	{fastest, whatif.Unshown{Bound: depleted, Short: &whatif.Short{X: 2, Target: 0.01, Needed: math.Inf(1), Simulated: 98, High: 0.03}}, "storage depleted more often than the target: 98 splices were simulated, too few to tell whether 1 % is met; so far the chance is known to be below 1 in 33 at 120 m/min"},

	{unwinds, whatif.Tried{Lever: whatif.Lever{Key: "crew.operators", Dim: model.Number, To: 2, Now: 1}, ChanceAt: whatif.ChanceAt{X: 70, Chance: share(1e-3, 1e-3, 1e-3)}, Meets: whatif.Met}, "with 2 operators instead of 1 it would be 0.1 % at 70 m, which meets the target"},
	{unwinds, whatif.Tried{Lever: whatif.Lever{Key: "crew.group[1].operators", Dim: model.Number, To: 2, Now: 1, Group: "setters"}, ChanceAt: whatif.ChanceAt{X: 70, Chance: share(1e-3, 1e-3, 1e-3)}, Meets: whatif.Met}, "with 2 operators of setters instead of 1 it would be 0.1 % at 70 m, which meets the target"},
	{unwinds, whatif.Tried{Lever: whatif.Lever{Key: "unwind.splice_success", Dim: model.Share, To: 0.9954, Now: 0.99}, ChanceAt: whatif.ChanceAt{X: 70, Chance: share(1e-3, 1e-3, 1e-3)}, Meets: whatif.MetByEstimate}, "with splices that succeed in 99.54 % instead of 99 % it would be 0.1 % at 70 m, which meets it by the estimate alone, not by its upper limit"},
	{fastest, whatif.Tried{Lever: whatif.Lever{Key: "rewind.transfer_success", Dim: model.Share, To: 0.9954, Now: 0.99}, ChanceAt: whatif.ChanceAt{X: 2, Chance: share(1e-3, 1e-3, 1e-3)}, Meets: whatif.NotMet}, "with transfers that succeed in 99.54 % instead of 99 % it would be 0.1 % at 120 m/min, which does not meet it either"},
	{rewinds, whatif.Tried{Lever: whatif.Lever{Key: "rewind.max_speed", Dim: model.Speed, To: 3, Now: 2.5}, ChanceAt: whatif.ChanceAt{X: 70, Chance: share(1e-3, 1e-3, 1e-3)}, Meets: whatif.Met}, "with a top speed of the rewind of 180 m/min instead of 150 m/min it would be 0.1 % at 70 m, which meets the target"},

	{fastest, whatif.AtNoSpeed{Bound: depleted, ChanceAt: whatif.ChanceAt{X: 1, Chance: share(0.01, 0.01, 0.0125)}, Times: 10}, "storage depleted more often than the target at every speed tried: still 1.00 % (1.00 to 1.25) at 60 m/min; the limit is 0.1 %"},
	{fastest, whatif.AtNoSpeed{Bound: whatif.Bound{Metric: metric.OverfillNotFailed, Most: 1e-6, Rate: true, Asked: "1 per week"}, ChanceAt: whatif.ChanceAt{X: 1, Chance: share(2.5e-6, 0, 0)}, Times: 2.5}, "rewind storage full more often than the target at every speed tried: still 2.5 times the target at 60 m/min"},
	{fastest, whatif.AtNoSpeed{Bound: whatif.Bound{Metric: metric.Waste, Most: 1e-6}, ChanceAt: whatif.ChanceAt{X: 1, Chance: share(0.003, 0.003, 0.003)}, Then: whatif.LargestWaste{Metric: "waste.restart", Share: share(0.002, 0.002, 0.002)}}, "too much waste at every speed tried: still 0.3 % at 60 m/min; the limit is 1 in 1,000,000; the largest part of it is scrap after restarts, 0.2 %"},
	{fastest, whatif.OthersHold{X: 3, Constraint: busy}, "the other limits hold up to 180 m/min (crew too busy)"},
	{fastest, whatif.OthersHold{X: 3, Constraint: whatif.Constraint{By: whatif.FastestTried}}, "the other limits hold up to 180 m/min (three times the present speed, the fastest tried)"},
	{fastest, whatif.OthersHold{X: 3, Constraint: whatif.Constraint{By: whatif.NotPossible, Why: "line.rated_speed is less"}}, "the other limits hold up to 180 m/min (line.rated_speed is less)"},

	{crewed, whatif.LostWith{Operators: 2, Share: 0.00368, Low: 0.00326, High: 0.0041, AgainstManyMore: true}, "with 2 operators, 0.368 % (0.326 to 0.410) of the good web is lost compared with a crew so large that nobody waits"},
	{crewed, whatif.LostWith{Operators: 1, Share: 0.0556, Low: nan, High: nan}, "with 1 operator, 5.56 % is lost"},
	{crewed, whatif.LostWith{Operators: 1, Share: 0.0556, Low: 0.0556, High: 0.0556, AgainstManyMore: true}, "with 1 operator, 5.56 % of the good web is lost compared with a crew so large that nobody waits"},
	{grouped, whatif.LostWith{Operators: 2, Share: 0.00368, Low: 0.00326, High: 0.0041, AgainstManyMore: true}, "with 2 operators of setters, 0.368 % (0.326 to 0.410) of the good web is lost compared with so many of them that nobody waits for one who is there"},
	{grouped, whatif.LostWith{Operators: 1, Share: 0.0556, Low: nan, High: nan}, "with 1 operator of setters, 5.56 % is lost"},
	{crewed, whatif.LostWith{Operators: 1, Share: -0.32, Low: -0.47, High: -0.17, AgainstManyMore: true}, "with 1 operator, 32 % (17 to 47) more good web is made than with a crew so large that nobody waits"},
	{grouped, whatif.LostWith{Operators: 1, Share: -0.32, Low: -0.47, High: -0.17, AgainstManyMore: true}, "with 1 operator of setters, 32 % (17 to 47) more good web is made than with so many of them that nobody waits for one who is there"},
	{crewed, whatif.LostWith{Operators: 2, Share: -0.0020, Low: -0.0102, High: 0.0062, AgainstManyMore: true}, "with 2 operators, −0.20 % (−1.02 to 0.62) of the good web is lost compared with a crew so large that nobody waits"},
	{crewed, whatif.LinesEach{Lines: 1}, "one line to an operator"},
	{crewed, whatif.LinesEach{Lines: 2.5}, "2.5 lines to an operator"},
	{crewed, whatif.LoneLine{Share: 0.0325, Operators: 1}, "one line alone loses 3.25 % with 1 operator"},

	{residual, whatif.FreeBest{X: 7.691, Cost: 4.366}, "without that limit the best is 7.691 m, at 4.366 EUR a roll"},
	{residual, whatif.RollCosts{Best: whatif.RollCost{X: 9, Cost: 4.636, RunOut: 1. / 741}, Now: whatif.RollCost{X: 12, Cost: 6.003}}, "a roll costs 4.636 EUR at a set point of 9 m and 6.003 EUR at the present 12 m; one in 741 runs out, at present practically none"},
	{&whatif.Answer{Kind: whatif.Residual, Dim: model.Length}, whatif.RollCosts{Best: whatif.RollCost{X: 9, Cost: 4.636, RunOut: 1. / 7}, Now: whatif.RollCost{X: 12, Cost: 6.003, RunOut: 1. / 31600}}, "a roll costs 4.636 at a set point of 9 m and 6.003 at the present 12 m; one in 7.00 runs out, at present one in 31,600"},
	{residual, whatif.ResidualCosts{Web: 0.5, WebGiven: true, RunOut: 100, RunOutGiven: true}, "a metre of web left costs 0.5 EUR, as given; a run-out costs 100 EUR, as given"},
	{residual, whatif.ResidualCosts{Web: 0.5, WebGiven: true, Short: 3}, "a metre of web left costs 0.5 EUR, as given; a metre short costs 3 EUR, as given"},
	{residual, whatif.ResidualCosts{Web: 0.202, RunOut: 83.56, Work: 300, Scrap: 30, Lost: 75}, "a metre of web left costs 0.202 EUR: width x (material + disposal x grammage); a run-out costs 83.56 EUR: 5 min of an operator and the line, 30 m of scrap, output lost 75 EUR"},
	{residual, whatif.NothingLeft{}, "at that set point no web is left to run on if the next roll is late: the unwind then stops at once"},

	{rolled, whatif.SeamRidgeOf{Length: 1000, Ridge: 24.51e-3, Allowed: 5e-3}, "without oscillation, a roll of 1000 m has a ridge of 24.51 mm, above the 5 mm allowed"},
	{rolled, whatif.SeamRidgeOf{Length: 69.5, Ridge: 5e-3, Allowed: 5e-3}, "without oscillation, a roll of 69.5 m has a ridge of 5 mm, within the 5 mm allowed"},
	{rolled, whatif.SeamRidgeOf{Oscillation: 8e-3, Length: 69.5, Ridge: 2.5e-3, Allowed: 5e-3}, "with an oscillation of 8 mm to each side, a roll of 69.5 m has a ridge of 2.5 mm, within the 5 mm allowed"},
	{rolled, whatif.RollIs{Diameter: 0.151, Wraps: 250}, "that roll is 151 mm in diameter and has 250 wraps"},
	{rolled, whatif.RollIs{Diameter: 0.151, Wraps: 250, Mass: 4.413}, "that roll is 151 mm in diameter and has 250 wraps; its web weighs 4.413 kg"},
}

func TestSentencesOfSizesAreTrue(t *testing.T) {
	for _, x := range sizedTruths {
		a := *x.of
		a.Notes = []whatif.Note{x.note}
		assert.Equal(t, []string{x.says}, NoteTexts(&a, model.Metric), "%#v", x.note)
		a.Why = []whatif.Note{x.note, whatif.OneReplication{}}
		assert.Equal(t, x.says+"; one replication gives no confidence limits: whether the target holds at the upper limit is not known", WhyText(&a, model.Metric))
	}
	assert.Nil(t, NoteTexts(unwinds, model.Metric))
	a := *unwinds
	a.Notes = []whatif.Note{whatif.ByEstimate{X: 56.43}}
	assert.Equal(t, []string{"by the estimate alone, without its confidence limits, 185.1 ft is enough"}, NoteTexts(&a, model.Imperial))
}

// targetTruths are answers and what they have to meet.
func targetTruths() map[string]whatif.Answer {
	failing := whatif.Target{Risk: whatif.Risk{Share: 1e-4}, Failed: whatif.NotCounted}
	byTime := whatif.Target{Risk: whatif.Risk{Rate: 1e-6, Text: "1 per week"}}
	return map[string]whatif.Answer{
		"unwind storage depleted no more than 1 per week":                                                                         {Kind: whatif.Storage, Target: byTime},
		"unwind storage depleted by no more than 0.01 % of the splices (not counting splices that fail and are made by hand)":     {Kind: whatif.Storage, Target: failing},
		"rewind storage full by no more than 0.01 % of the transfers (not counting transfers that fail and are made by hand)":     {Kind: whatif.Storage, Of: whatif.RewindStorage, Target: failing},
		"unwind storage depleted by no more than 1 in 1,000,000 of the splices (counting splices that fail and are made by hand)": {Kind: whatif.Storage, Target: whatif.Target{Risk: whatif.Risk{Share: 1e-6}, Failed: whatif.Counted}},
		"every limit holds": {Kind: whatif.Speed},
		"every limit holds (not counting depletions by changes that fail and are made by hand)": {Kind: whatif.Speed, Target: failing},
		"every limit holds (counting depletions by changes that fail and are made by hand)":     {Kind: whatif.Speed, Target: whatif.Target{Failed: whatif.Counted}},
		"least cost of web left on cores and of run-outs":                                       {Kind: whatif.Residual},
		"the ridge of the seam is not above the allowed one":                                    {Kind: whatif.Roll},
		"no more than 2.5 % of the good web lost for want of an operator":                       {Kind: whatif.Crew, Target: whatif.Target{Lost: 0.025}},
	}
}

func TestTargetsAreTrue(t *testing.T) {
	for says, a := range targetTruths() {
		assert.Equal(t, says, TargetText(&a))
	}
}

// Every limit that a line can have, and every part of the waste, has words of its own.
func TestLimitsAndWasteHaveWords(t *testing.T) {
	seen := map[string]bool{}
	for _, b := range whatif.Usual().Bounds() {
		says := BoundText(b)
		assert.NotEmpty(t, says, b.Metric)
		assert.False(t, seen[says], says)
		seen[says] = true
	}
	butFailed := whatif.Usual()
	butFailed.ButFailed = true
	assert.Equal(t, BoundText(depleted), BoundText(butFailed.Bounds()[0]))
	for _, m := range metric.Table() {
		if m.IsPart() && m.Group == metric.WebGoes {
			assert.NotEmpty(t, wasteText(m.Name), m.Name)
		}
	}
}

func TestConstraintsAndFormulasHaveWords(t *testing.T) {
	assert.Empty(t, ConstraintText(whatif.Constraint{}, whatif.UnwindStorage))
	said := map[string]bool{}
	for _, c := range []whatif.Cause{whatif.LongDwell, whatif.NotReady, whatif.FailedByHand, whatif.NotRefilled, whatif.Waiting, whatif.RunOutCost, whatif.FastestTried, whatif.SeamRidge} {
		says := ConstraintText(whatif.Constraint{By: c}, whatif.UnwindStorage)
		assert.NotEmpty(t, says)
		assert.False(t, said[says], says)
		said[says] = true
	}
	for f := whatif.StorageOfASplice; f <= whatif.OscillationOfARidge; f++ {
		formula, assumptions := FormulaText(f)
		assert.False(t, said[formula], formula)
		assert.NotEmpty(t, assumptions)
		said[formula] = true
	}
	for q := whatif.UnwindStorage; q <= whatif.Oscillation; q++ {
		assert.NotEmpty(t, SizedName(q))
	}
	assert.Equal(t, "dwell weibull", OtherForm(whatif.Other{Dwell: model.Weibull}))
	assert.Equal(t, "rewind storage", OtherForm(whatif.Other{Of: whatif.RewindStorage}))
}

// sizedSaid is all that the cases above say.
func sizedSaid() []string {
	var said []string
	for _, x := range sizedTruths {
		a := *x.of
		a.Notes = []whatif.Note{x.note}
		said = append(said, NoteTexts(&a, model.Metric)...)
	}
	for _, a := range targetTruths() {
		said = append(said, TargetText(&a))
	}
	for _, a := range answerTruths() {
		said = append(said, AnswerSentence(&a, model.Metric))
	}
	said = append(said, MostSentence(mostGood(), model.Metric))
	for _, b := range whatif.Usual().Bounds() {
		said = append(said, BoundText(b))
	}
	said = append(said, BoundText(whatif.Bound{Metric: metric.Waste}))
	for _, m := range metric.Table() {
		said = append(said, wasteText(m.Name))
	}
	for q := whatif.UnwindStorage; q <= whatif.Oscillation; q++ {
		said = append(said, SizedName(q))
	}
	for _, c := range []whatif.Cause{whatif.Waiting, whatif.RunOutCost} {
		said = append(said, ConstraintText(whatif.Constraint{By: c}, whatif.Operators))
	}
	for f := whatif.StorageOfASplice; f <= whatif.OscillationOfARidge; f++ {
		formula, assumptions := FormulaText(f)
		said = append(said, formula, assumptions)
	}
	return said
}

// answerTruths are answers, whole, and what is said of them.
func answerTruths() map[string]whatif.Answer {
	storage := whatif.Answer{Kind: whatif.Storage, Dim: model.Length, Met: true, Value: 61.5, Low: 61.5, High: 61.5, Target: whatif.Target{Risk: whatif.Risk{Share: 1e-4}}, LimitedBy: whatif.Constraint{By: whatif.LongDwell}}
	with := func(change func(a *whatif.Answer)) whatif.Answer {
		a := storage
		change(&a)
		return a
	}
	return map[string]whatif.Answer{
		"Smallest unwind storage: 61.50 m. Target: unwind storage depleted by no more than 0.01 % of the splices. What binds: a long dwell.":                    storage,
		"Smallest unwind storage: 61.50 m (60.00 to 63.00 m). Target: unwind storage depleted by no more than 0.01 % of the splices. What binds: a long dwell.": with(func(a *whatif.Answer) { a.Low, a.High = 60, 63 }),
		"Smallest unwind storage: 61.50 m (60.00 to no end). Target: unwind storage depleted by no more than 0.01 % of the splices. What binds: a long dwell.":  with(func(a *whatif.Answer) { a.Low, a.High = 60, math.Inf(1) }),
		"Smallest rewind storage: 61.50 m. Target: rewind storage full by no more than 0.01 % of the transfers.":                                                with(func(a *whatif.Answer) { a.Of, a.LimitedBy = whatif.RewindStorage, whatif.Constraint{} }),
		"Not met: unwind storage depleted by no more than 0.01 % of the splices. By the estimate alone, without its confidence limits, 70 m is enough.":         with(func(a *whatif.Answer) { a.Met, a.Why = false, []whatif.Note{whatif.ByEstimate{X: 70}} }),
		"Not shown to be met: unwind storage depleted by no more than 0.01 % of the splices. 216 splices were simulated, too few to tell whether 0.01 % is met.": with(func(a *whatif.Answer) {
			a.Met, a.Short = false, &whatif.Short{Target: 1e-4, Needed: math.Inf(1), Simulated: 216, High: nan}
			a.Why = []whatif.Note{whatif.Unshown{Short: a.Short}}
		}),
		"Fastest line speed: 120.0 m/min. Target: every limit holds. What binds: rated line speed must not be below line speed.": {Kind: whatif.Speed, Of: whatif.LineSpeed, Dim: model.Speed, Met: true, Value: 2, Low: 2, High: 2,
			LimitedBy: whatif.Constraint{By: whatif.NotPossible, Why: "line.rated_speed must not be below line.speed"}},
		"Best residual: 9.000 m. Target: least cost of web left on cores and of run-outs. What binds: the cost of a run-out against that of web left on every core.": {Kind: whatif.Residual, Of: whatif.ResidualSetPoint, Dim: model.Length, Met: true, Value: 9, Low: 9, High: 9,
			LimitedBy: whatif.Constraint{By: whatif.RunOutCost}},
		"Fewest operators: 2. Target: no more than 2 % of the good web lost for want of an operator. What binds: the line waiting for an operator.": {Kind: whatif.Crew, Of: whatif.Operators, Dim: model.Number, Met: true, Value: 2, Low: 2, High: 2,
			Target: whatif.Target{Lost: 0.02}, LimitedBy: whatif.Constraint{By: whatif.Waiting}},
		"Most lines: 6 (5 to 7). Target: no more than 2 % of the good web lost for want of an operator.": {Kind: whatif.Crew, Of: whatif.Lines, Dim: model.Number, Met: true, Value: 6, Low: 5, High: 7, Target: whatif.Target{Lost: 0.02}},
		"Longest finished roll: 69.51 m. Target: the ridge of the seam is not above the allowed one. What binds: the ridge of the seam.": {Kind: whatif.Roll, Of: whatif.FinishedRoll, Dim: model.Length, Met: true, Value: 69.508, Low: 69.508, High: 69.508,
			LimitedBy: whatif.Constraint{By: whatif.SeamRidge}},
		"Least oscillation: 8.000 mm to each side. Target: the ridge of the seam is not above the allowed one. What binds: the ridge of the seam.": {Kind: whatif.Roll, Of: whatif.Oscillation, Dim: model.Thickness, Met: true, Value: 8e-3, Low: 8e-3, High: 8e-3,
			LimitedBy: whatif.Constraint{By: whatif.SeamRidge}},
		"Least oscillation: none is needed. Target: the ridge of the seam is not above the allowed one.": {Kind: whatif.Roll, Of: whatif.Oscillation, Dim: model.Thickness, Met: true},
	}
}

func TestAnswersAreTrue(t *testing.T) {
	for says, a := range answerTruths() {
		assert.Equal(t, says, AnswerSentence(&a, model.Metric))
	}
	assert.Equal(t, "–", SizedText(nan, model.Length, model.Metric))
	assert.Equal(t, "1 per week", BoundMost(whatif.Bound{Rate: true, Asked: "1 per week"}))
	assert.Equal(t, "0.1 %", BoundMost(depleted))
}

// mostGood is an answer whose line makes most at 3 m/s, and at present at 2 m/s less.
func mostGood() *whatif.Answer {
	at := func(x, good float64) whatif.Trial {
		return whatif.Trial{X: x, Possible: true, Metrics: replicate.Metrics{metric.GoodRate: estimate.Estimate{Unit: "m/s", Mean: good, HalfWidth: 0.01}}}
	}
	most := at(3, 2.5)
	return &whatif.Answer{Kind: whatif.Speed, Of: whatif.LineSpeed, Dim: model.Speed, Now: 2, Most: &most, Evidence: []whatif.Trial{at(2, 1.9), most}}
}

func TestWhereMostIsMadeIsTrue(t *testing.T) {
	a := mostGood()
	assert.Equal(t, "Most good web is made at about 180.0 m/min: 150.00 ± 0.60 m/min. At the present 120.0 m/min it is 114.00 ± 0.60 m/min.", MostSentence(a, model.Metric))
	a.Evidence = a.Evidence[1:]
	assert.Equal(t, "Most good web is made at about 180.0 m/min: 150.00 ± 0.60 m/min.", MostSentence(a, model.Metric), "at present no line is possible")
}

// What a chance is said to be below is not less than its limit, and not half as much again.
func TestAChanceIsBelowWhatIsSaid(t *testing.T) {
	for p := 0.5; p > 1e-9; p *= 0.973 {
		n, err := strconv.ParseFloat(strings.ReplaceAll(strings.TrimPrefix(belowText(p), "1 in "), ",", ""), 64)
		assert.NoError(t, err)
		assert.GreaterOrEqual(t, 1/n, p*(1-1e-12), belowText(p))
		assert.Less(t, 1/n, 1.5*p, belowText(p))
	}
	assert.Equal(t, "1 in 2", belowText(1/2.7))
	assert.Equal(t, "90 %", belowText(0.9))
}
