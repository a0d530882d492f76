package words

import "rollchange/sim/savings"

// What stands about what a case comes to if only a part of the saving is reached.
const (
	HeadShares       = "If only a part of the saving is reached"
	SharesNote       = "A part of all that is saved a year; maintenance, investment and start-up count in full. Savings and net present value are means of the draws, payback and rate medians; low – high below."
	SharesPayback    = "payback %s, years"
	SharesIRR        = "internal rate of return %s, %%"
	shareHalf        = "half"
	shareThreeQuarts = "three quarters"
	shareAll         = "as calculated"
)

// ShareLabel is what a share of the saving is called.
func ShareLabel(s savings.Share) string {
	switch s.Share {
	case 0.5:
		return shareHalf
	case 0.75:
		return shareThreeQuarts
	case 1:
		return shareAll
	}
	return Percent(s.Share) + " %"
}
