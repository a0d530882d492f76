package sim

import (
	"math"

	"rollchange/model/portable"
)

// breakClock is web breaks of themselves: a Poisson process along the web with
// rate (p/atSpeed)^n / meanLength per metre. In time its hazard is
// p^(n+1) / (atSpeed^n meanLength), so over a ramp from p0 to p1 at a the
// hazard is (p1^(n+2) - p0^(n+2)) / (a (n+2) atSpeed^n meanLength). While the web
// is being mended the clock stands: it has no memory, so that is the same as to
// lose the breaks that would fall due then.
type breakClock struct {
	on            bool
	drawn         bool // left is known, though the product that runs has no breaks
	n             float64
	scale         float64 // atSpeed^n meanLength
	left          float64 // hazard to the next break
	speed, power  float64 // a speed and its power n+2: most ramps go to line speed and back
	last, lastTo  float64 // the speed that was raised last, and its power
	slow, second  float64 // a speed below it and the hazard a second there
	full          float64 // hazard a second at line speed
	every         source
	repair, scrap source
}

// sameSpeed is how far from rest or line speed the end of a ramp may be, as a share of
// line speed: as far as the clock of a long run resolves it.
const sameSpeed = 1e-9

// raised is p to the power n+2.
func (b *breakClock) raised(p float64) float64 {
	switch {
	case p <= sameSpeed*b.speed:
		return 0
	case math.Abs(p-b.speed) <= sameSpeed*b.speed:
		return b.power
	case p != b.last:
		b.last, b.lastTo = p, portable.Pow(p, b.n+2)
	}
	return b.lastTo
}

func (b *breakClock) perSecond(l *line, p float64) float64 {
	if p == l.spec.Process.Speed {
		return b.full
	}
	if p != b.slow {
		b.slow, b.second = p, portable.Pow(p, b.n+1)/b.scale
	}
	return b.second
}

func (b *breakClock) advance(l *line, dt, p1 float64) {
	switch {
	case l.holds.on(hWebBreak):
	case l.pa != 0 && b.n == 0:
		b.left -= (l.p + p1) / 2 * dt / b.scale
	case l.pa != 0:
		b.left -= (b.raised(p1) - b.raised(l.p)) / (l.pa * (b.n + 2) * b.scale)
	case l.p != 0:
		b.left -= b.perSecond(l, l.p) * dt
	}
}

func (b *breakClock) solve(l *line) {
	if !b.on {
		return
	}
	t := never
	switch {
	case l.holds.on(hWebBreak): // stands still
	case l.pa != 0 && b.n == 0:
		t = firstBelow(b.left*b.scale, -l.p, -l.pa/2)
	case l.pa != 0:
		all := l.pa * (b.n + 2) * b.scale * max(0, b.left) // of p^(n+2), until the break
		from := b.raised(l.p)
		if to := b.raised(l.target); l.pa > 0 && from+all > to*(1+1e-12) || l.pa < 0 && from+all < to*(1-1e-12) {
			break // not in this ramp
		}
		t = max(0, (portable.Pow(max(0, from+all), 1/(b.n+2))-l.p)/l.pa)
	case l.p != 0:
		t = max(0, b.left/b.perSecond(l, l.p))
	}
	l.slots[slotBreak] = l.now + t
}

func (b *breakClock) fire(l *line) {
	b.left = b.every.draw()
	l.moved = true
	l.breakBy(OfItself)
}

// breakBy breaks the web. A break while the web is being mended is lost.
func (l *line) breakBy(why Cause) {
	if l.holds.on(hWebBreak) {
		return
	}
	l.breakWork++
	l.breakWeb(why)
	l.run.crew.call(l, TaskBreak, 0)
}

// newSplice sends a splice on its way through the line.
func (l *line) newSplice(at float64, parts bool, scrapLength float64) {
	l.retire()
	l.splices = append(l.splices, inFlight{at, parts})
	l.scrap.claim(at, at+scrapLength, wSplice)
	l.solveParted()
	l.side[1].spliceAhead()
}

// near is how near to the process a splice is there, m. A line that comes to rest
// just where it is (a rewind by hand that ends its rolls at splices) would else
// hang on the last digit.
const near = 3e-7

// solveParted finds when the next splice that parts is at the process.
func (l *line) solveParted() {
	for l.atProcess < len(l.splices) && l.splices[l.atProcess].at < l.P {
		l.atProcess++
	}
	t := never
	if i := l.nextParting(); i >= 0 {
		t = l.reaches(l.splices[i].at - near - l.P)
	}
	l.set(slotParted, t)
}

// nextParting is the index of the next splice ahead of the process that will
// part, -1 when there is none. It goes on from where it last found one, since a long
// storage of short rolls holds many that do not.
func (l *line) nextParting() int {
	for l.parting = max(l.parting, l.atProcess); l.parting < len(l.splices); l.parting++ {
		if l.splices[l.parting].parts {
			return l.parting
		}
	}
	return -1
}

// parted is a splice that parts in the process.
func (l *line) parted() {
	if i := l.nextParting(); i >= 0 {
		l.splices[i].parts = false
	}
	l.moved = true
	l.breakBy(SpliceParted)
}
