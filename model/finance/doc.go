// Package finance is the arithmetic of engineering economics: what a row of
// yearly cash flows is worth. It knows nothing of lines or webs.
//
// A row of flows begins with year 0, the investment, and goes on with one flow
// at the end of each year: the convention of NIST Handbook 135 (Life-Cycle
// Costing Manual) and of ASTM E917 (life-cycle cost), E1057 (internal rate of
// return), E1074 (net benefits) and E1121 (payback). Rates are shares a year.
// The flows and the rate are both real (constant money) or both nominal.
package finance
