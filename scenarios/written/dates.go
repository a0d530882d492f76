package written

// TwoNumbers is what the dates of a table that are written with two numbers, day and
// month, tell of which of them is the day.
type TwoNumbers struct {
	Dots, Others  bool // some have dots between them, some something else
	First, Second int  // the first row with a number above 12 in that place alone; 0: none
}

// Add takes in the date of a row; false when it is not written with two numbers.
func (n *TwoNumbers) Add(s *Stamp, row int) bool {
	if s.Date != TwoDots && s.Date != TwoOthers {
		return false
	}
	n.Dots, n.Others = n.Dots || s.Date == TwoDots, n.Others || s.Date == TwoOthers
	if s.A > 12 && s.B <= 12 && n.First == 0 {
		n.First = row
	}
	if s.B > 12 && s.A <= 12 && n.Second == 0 {
		n.Second = row
	}
	return true
}
