package words

// The heads of the table of steps of investment.
const (
	HeadSteps         = "Steps of investment, %s"
	HeadStepExtra     = "more invested"
	HeadStepSaved     = "more saved a year before tax"
	HeadStepRate      = "rate of return, %"
	HeadStepPayback   = "payback, years"
	HeadStepAtPresent = "at present value, years"
	HeadStepGain      = "chance of gain"
	HeadStepOver      = "  over %s"
)
