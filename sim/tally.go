package sim

// tally is what one line has added up so far. All fields only ever grow, so
// that the results after a warm-up are the last tally less the one then.
type tally struct {
	running, ramping, slowed, stopped, waiting float64 // s
	down                                       float64 // s of stopped in which the line was meant to run
	stoppedBy                                  [maxHolds]float64
	onsets                                     [maxHolds]float64
	rests                                      float64 // times the web came to rest
	processed                                  float64 // m
	residual                                   sum     // m, rests left on cores
	mounted                                    sum     // m, true length of all rolls that ran
	returned                                   sum     // m, part rolls that went back to stock
	returns                                    float64 // part rolls that went back
	reused                                     float64 // part rolls put on again
	side                                       [2]changes
	finished                                   float64 // rolls, rejected ones not counted
	unspliced                                  float64 // of them without a splice
	finishedLength                             sum     // m, of closed rolls, rejected ones too
}

// moving is the time with the web moving, s.
func (t *tally) moving() float64 { return t.running + t.ramping + t.slowed }

// changes is what the roll changes of one station came to.
type changes struct {
	made, notReady, failed, runOut, starved float64
	emptied                                 float64 // times the storage was at its end with the web moving
	notRefilled                             float64 // begun before the storage was at its run level
	chance                                  chance  // of depletion, summed over the changes
	exposed                                 float64 // changes that did not fail, in whose cycle more than the dwell decided
	exposedFailed                           float64 // changes that failed
	extremeSum, cycles                      float64 // storage margin at its least in each cycle, m
}

// since returns t less the earlier tally.
func (t *tally) since(warm *tally) tally {
	d := *t
	d.running -= warm.running
	d.ramping -= warm.ramping
	d.slowed -= warm.slowed
	d.stopped -= warm.stopped
	d.waiting -= warm.waiting
	d.down -= warm.down
	for i := range d.stoppedBy {
		d.stoppedBy[i] -= warm.stoppedBy[i]
		d.onsets[i] -= warm.onsets[i]
	}
	d.rests -= warm.rests
	d.processed -= warm.processed
	d.residual.value -= warm.residual.value
	for i := range d.side {
		a, b := &d.side[i], &warm.side[i]
		a.made -= b.made
		a.notReady -= b.notReady
		a.failed -= b.failed
		a.runOut -= b.runOut
		a.starved -= b.starved
		a.emptied -= b.emptied
		a.exposed -= b.exposed
		a.exposedFailed -= b.exposedFailed
		a.chance.odd -= b.chance.odd
		a.chance.oddFailed -= b.chance.oddFailed
		a.notRefilled -= b.notRefilled
		for k := range a.chance.cause {
			a.chance.cause[k] -= b.chance.cause[k]
		}
		for k := range a.chance.tail {
			a.chance.tail[k] -= b.chance.tail[k]
		}
		a.extremeSum -= b.extremeSum
		a.cycles -= b.cycles
	}
	d.finished -= warm.finished
	d.returned.value -= warm.returned.value
	d.returns -= warm.returns
	d.reused -= warm.reused
	d.unspliced -= warm.unspliced
	return d
}
