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
		return Short(n.Lines, 3) + " lines to an operator"
	case whatif.LoneLine:
		return fmt.Sprintf("one line alone loses %s %% with %s", Short(100*n.Share, 3), counted(n.Operators, "operator"))
	}
	return ""
}

// lostText is what is lost with so many operators, with its limits.
func lostText(n whatif.LostWith, group string) string {
	with := counted(n.Operators, "operator") + ofGroup(group)
	share := Short(100*n.Share, 3) + " %"
	if low, high := 100*n.Low, 100*n.High; high-low > 1e-9 {
		share = withLimits(100*n.Share, low, high, " %", 3)
	}
	if n.AgainstManyMore && group != "" {
		return fmt.Sprintf("with %s, %s of the good web is lost compared with so many of them that nobody waits for one who is there", with, share)
	}
	if n.AgainstManyMore {
		return fmt.Sprintf("with %s, %s of the good web is lost compared with a crew so large that nobody waits", with, share)
	}
	return fmt.Sprintf("with %s, %s is lost", with, share)
}
