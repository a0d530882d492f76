package words

import (
	"fmt"

	"rollchange/model/legible"
	"rollchange/sim/whatif"
)

// ofGroup is of which group of the crew operators are, if of one.
func ofGroup(group string) string {
	if group == "" {
		return ""
	}
	return " of " + legible.Line(group)
}

// crewNote is a note on a crew, or on a group of it.
func crewNote(n whatif.Note, group string) string {
	switch n := n.(type) {
	case whatif.LostWith:
		return lostText(n, group)
	case whatif.LinesEach:
		if n.Lines == 1 {
			return "one line to an operator"
		}
		return Short(n.Lines, 3) + " lines to an operator"
	case whatif.LoneLine:
		return fmt.Sprintf("one line alone loses %s %% with %s", Short(100*n.Share, 3), counted(n.Operators, "operator"))
	}
	return ""
}

// lostText is what is lost with so many operators, with its limits. A line whose faster
// changes break the web more often may make less with more of them.
func lostText(n whatif.LostWith, group string) string {
	with := counted(n.Operators, "operator") + ofGroup(group)
	lost := "%s of the good web is lost compared with"
	if n.Share < 0 && !(n.High >= 0) {
		n.Share, n.Low, n.High = -n.Share, -n.High, -n.Low
		lost = "%s more good web is made than with"
	}
	share := Short(100*n.Share, 3) + " %"
	if low, high := 100*n.Low, 100*n.High; high-low > 1e-9 {
		share = withLimits(100*n.Share, low, high, " %", 3)
	}
	switch {
	case !n.AgainstManyMore:
		return fmt.Sprintf("with %s, %s is lost", with, share)
	case group != "":
		return fmt.Sprintf("with %s, "+lost+" so many of them that nobody waits for one who is there", with, share)
	}
	return fmt.Sprintf("with %s, "+lost+" a crew so large that nobody waits", with, share)
}
