package sim

import "rollchange/model"

// A turret whose next core is not ready when its roll is at its length may slow the
// line (rewind.on_late = "slow"): it runs at lateSpeed until the core is ready, and
// stops for it only when the roll has grown by the overrun.

// runsOn is the trigger with the next roll or core not ready: the roll runs on, and
// the line slows where it does for that.
func (st *station) runsOn() {
	st.notReady()
	st.l.log(st.of, NextNotReady)
	st.slowForCore(true)
}

// slowForCore slows the process while the next core is late, or ends that.
func (st *station) slowForCore(slow bool) {
	if st.lateSpeed > 0 && st.lateSlow != slow {
		st.lateSlow = slow
		st.l.retarget()
	}
}

// onTime says that no core is late any more: the roll that waited for one ended with its
// order, or ends elsewhere now. The line rests.
func (st *station) onTime() {
	if st.lateSlow {
		st.lateSlow = false
		st.l.retarget()
	}
}

// willSlow says that the line slows at the trigger, as things stand.
func (st *station) willSlow() bool { return st.lateSpeed > 0 && !st.ready && !st.late }

// early says that a change out of storage would end the roll before its length: the
// line has slowed since the trigger, so the winder needs less web to come to rest.
func (st *station) early() bool {
	return st.lateSpeed > 0 && st.target-st.S-model.StoppingLength(st.v, st.decelNow()) > model.LeastLength
}
