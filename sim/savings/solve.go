package savings

import (
	"errors"
	"fmt"
	"math"
	"strings"

	"rollchange/model/portable"
)

// Solution is the value of one input at which a target is just reached: a mean net
// present value over the draws of 0, unless another is asked for.
type Solution struct {
	Target     Target
	Key, Unit  string
	Of         string  // the stop, duty or product that the key is of; empty: none, or it has no name
	Value      float64 // in Unit; NaN: there is none
	Base       float64 // what the scenario has, in Unit, its mean where it varies; NaN: nothing
	Varies     bool    // the scenario gives a distribution
	GainsAbove bool    // the target is exceeded for values just above
	Crossings  int     // how often that changes in the range that was tried
	Always     bool    // no value: the target is exceeded for all that were tried
	Flat       bool    // no value: it is the same for all that were tried
	Low, High  float64 // the range that was tried, in Unit
	Asked      bool    // that range is what was asked for, and not all that an input may be
	Whole      bool    // whole years: the first that exceeds the target
	Best       float64 // no value: the one tried that comes nearest, in Unit
	AtBest     float64 // the measure of the target there
}

// solvable are the inputs that Solve knows, by their short names.
var solvable = map[string]index{"hours_per_year": hours1, "demand": demand, "price": price, "material_cost": material, "disposal_cost": disposal,
	"crew_cost": crew, "line_cost": line, "tape_cost": tape, "discount_rate": rate, "life": life, "tax_rate": tax, "depreciation_years": depreciation,
	"waste_income": income, "crew_hours_saved": leaves1, "price_change": changes, "output_price_change": outputChange, "material_price_change": materialChange,
	"wage_change": wageChange, "investment": investment1, "maintenance": maintenance1, "salvage": salvage1, "start_up_cost": startUp1, "installation_time": installation1}

// Solves says whether Solve knows a key.
func Solves(key string) bool {
	_, ok := solvable[strings.TrimPrefix(key, "economics.")]
	return ok
}

// ErrNotMoney says that a key is no economic input: its value changes the line,
// which has to be simulated again (SolveBy).
var ErrNotMoney = errors.New("no economic input")

// Solve finds the value of an economic input at which the target is just reached, all
// other inputs drawn as they are. Of several the one nearest to the scenario's is taken.
func (c *Case) Solve(key string, t Target) (Solution, error) {
	k, ok := solvable[strings.TrimPrefix(key, "economics.")]
	if !ok {
		return Solution{}, fmt.Errorf("%s: %w", key, ErrNotMoney)
	}
	in := &c.in[k]
	with := func(x float64) func(*vector) { return func(v *vector) { c.put(v, k, x*in.scale) } }
	at := func(x float64) (Reached, error) { return Reached{c.excess(t, with(x)), math.NaN()}, nil }
	s := Solution{Target: t, Key: in.Key, Unit: in.Unit, Base: math.NaN()}
	if in.Given {
		s.Base, s.Varies = in.Value, in.Varies()
	}
	var err error
	if k == life || k == depreciation {
		err = s.findYears(at)
	} else {
		err = s.find(c.gridOf(k), at, 1e-11, 100)
	}
	if math.IsNaN(s.Value) && err == nil {
		s.AtBest = c.measured(t, with(s.Best))
	}
	return s, err
}

// gridOf are the values between which Solve looks for a change of sign, in the
// unit of the input: shares in steps of a point, the others by ratio.
func (c *Case) gridOf(k index) []float64 {
	in := &c.in[k]
	if in.share {
		grid := make([]float64, 101)
		for i := range grid {
			grid[i] = float64(i)
		}
		if k == rate {
			for x := 110.; x <= 1000; x += 10 {
				grid = append(grid, x)
			}
		}
		return grid
	}
	if k >= changes && k <= wageChange {
		grid := make([]float64, 101)
		for i := range grid {
			grid[i] = float64(i - 50)
		}
		return grid
	}
	base := in.Value
	if k == demand && !in.Given {
		base = min(c.Capacity[0], c.Capacity[1])
	}
	if base <= 0 {
		base = 1
	}
	grid := []float64{0}
	if k == demand || k == hours1 {
		grid = nil
	}
	for e := -12; e <= 12; e++ {
		grid = append(grid, base*portable.Pow(10, float64(e)/4))
	}
	return grid
}

// nearer says whether the stretch from grid[i] is nearer to the base than that from grid[j]:
// by ratio, or by difference where values may be below 0.
func (s *Solution) nearer(grid []float64, i, j int) bool {
	ratio := s.Base > 0 && grid[0] >= 0
	away := func(i int) float64 {
		low, high := grid[i], grid[i+1]
		switch {
		case s.Base < low && ratio:
			return portable.Log(low / s.Base)
		case s.Base < low:
			return low - s.Base
		case s.Base > high && ratio:
			return portable.Log(s.Base / high)
		case s.Base > high:
			return s.Base - high
		}
		return 0
	}
	return !math.IsNaN(s.Base) && away(i) < away(j)
}

// findYears finds the first whole number of years that exceeds the target.
func (s *Solution) findYears(at func(x float64) (Reached, error)) error {
	s.Value, s.Low, s.High, s.Whole = math.NaN(), 1, mostYears, true
	one, err := at(1)
	if err != nil {
		return err
	}
	last, best := one.Excess > 0, one.Excess
	s.Always, s.Flat, s.Best = last, true, 1
	for n := 2; n <= mostYears; n++ {
		x, err := at(float64(n))
		if err != nil {
			return err
		}
		s.Flat = s.Flat && x.Excess == one.Excess
		if x.Excess > best {
			best, s.Best = x.Excess, float64(n)
		}
		if now := x.Excess > 0; now != last {
			if s.Crossings++; s.Crossings == 1 {
				s.Value, s.GainsAbove, s.Always = float64(n), now, false
			}
			last = now
		}
	}
	return nil
}

// SolveBy finds the value of any key at which the target of a solution is reached: at
// simulates the line with the value and returns what ReachedOf says. grid rises; a
// value that is no possible line (its error is a LeftOut) is left out.
func SolveBy(s Solution, grid []float64, at func(x float64) (Reached, error)) (Solution, error) {
	s.Asked = true
	err := s.find(grid, at, 1e-4, 10)
	return s, err
}

// find looks on a rising grid for the change of sign that is nearest to the
// base, and closes in on it.
func (s *Solution) find(grid []float64, at func(x float64) (Reached, error), tol float64, steps int) error {
	var x, f []float64
	top := Reached{Excess: math.Inf(-1), Value: math.NaN()}
	var why error // of the first value that was left out
	best := -1
	s.Value = math.NaN()
	for _, v := range grid {
		y, err := at(v)
		if errors.As(err, &LeftOut{}) {
			if why == nil {
				why = err
			}
			continue
		}
		if err != nil {
			return err
		}
		x, f = append(x, v), append(f, y.Excess)
		if y.Excess > top.Excess {
			top, s.Best, s.AtBest = y, v, y.Value
		}
	}
	if len(x) == 0 {
		return fmt.Errorf("%s: no value tried is possible; the first: %w", s.Key, why)
	}
	s.Low, s.High = x[0], x[len(x)-1]
	s.Flat = true
	for i := 1; i < len(x); i++ {
		s.Flat = s.Flat && f[i] == f[0]
		if (f[i] > 0) == (f[i-1] > 0) {
			continue
		}
		if s.Crossings++; best < 0 || s.nearer(x, i-1, best) {
			best = i - 1
		}
	}
	if best < 0 {
		s.Always = f[0] > 0
		return nil
	}
	s.GainsAbove = f[best+1] > f[best]
	var err error
	s.Value, err = root(at, x[best], x[best+1], f[best], f[best+1], tol, steps)
	return err
}

// LeftOut is the error of a value that gives no possible line.
type LeftOut struct{ Why error }

func (e LeftOut) Error() string { return e.Why.Error() }

// root closes in on the change of sign between low and high by secants, with a
// halving whenever one does not halve the stretch, to tol relative or a number of steps.
func root(at func(float64) (Reached, error), low, high, a, b, tol float64, steps int) (float64, error) {
	for i := 0; i < steps && high-low > tol*(math.Abs(low)+math.Abs(high)); i++ {
		x := (low + high) / 2
		if i%3 != 2 {
			if s := low - a*(high-low)/(b-a); s > low && s < high {
				x = s
			}
		}
		r, err := at(x)
		switch y := r.Excess; {
		case err != nil:
			return x, err
		case y == 0:
			return x, nil
		case (y > 0) == (a > 0):
			low, a = x, y
		default:
			high, b = x, y
		}
	}
	if s := low - a*(high-low)/(b-a); s > low && s < high {
		return s, nil
	}
	return (low + high) / 2, nil
}
