package words

import (
	"fmt"

	"rollchange/sim/whatif"
)

// crewNote is a note on a crew.
func crewNote(n whatif.Note) string {
	switch n := n.(type) {
	case whatif.LostWith:
		return lostText(n)
	case whatif.LinesEach:
		return fmt.Sprintf("%.3g lines to an operator", n.Lines)
	case whatif.LoneLine:
		return fmt.Sprintf("one line alone loses %.3g %% with %s", 100*n.Share, counted(n.Operators, "operator"))
	}
	return ""
}

// lostText is what is lost with so many operators, with its limits.
func lostText(n whatif.LostWith) string {
	share := fmt.Sprintf("%.3g %%", 100*n.Share)
	if low, high := 100*n.Low, 100*n.High; high-low > 1e-9 {
		share += fmt.Sprintf(" (%.3g to %.3g)", low, high)
	}
	if n.AgainstManyMore {
		return fmt.Sprintf("with %s, %s of the good web is lost compared with a crew so large that nobody waits", counted(n.Operators, "operator"), share)
	}
	return fmt.Sprintf("with %s, %s is lost", counted(n.Operators, "operator"), share)
}
