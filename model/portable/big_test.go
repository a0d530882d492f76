package portable

import (
	"math"
	"math/big"
)

// What the functions are compared with: numbers of 300 bits, by series alone.

const precision = 300

func num(x float64) *big.Float { return new(big.Float).SetPrec(precision).SetFloat64(x) }

func add(x, y *big.Float) *big.Float { return num(0).Add(x, y) }
func sub(x, y *big.Float) *big.Float { return num(0).Sub(x, y) }
func mul(x, y *big.Float) *big.Float { return num(0).Mul(x, y) }
func div(x, y *big.Float) *big.Float { return num(0).Quo(x, y) }

// small says that a term no longer counts beside a sum.
func small(term, sum *big.Float) bool {
	return term.Sign() == 0 || term.MantExp(nil) < sum.MantExp(nil)-precision
}

// atanh is log((1+x)/(1-x))/2, for |x| well below 1.
func atanh(x *big.Float) *big.Float {
	sum, power, x2 := num(0), num(0).Set(x), mul(x, x)
	for n := 1.0; ; n += 2 {
		term := div(power, num(n))
		if sum = add(sum, term); small(term, sum) {
			return sum
		}
		power = mul(power, x2)
	}
}

var bigLn2 = mul(num(2), atanh(div(num(1), num(3))))

func bigExp(x *big.Float) *big.Float {
	k, _ := div(x, bigLn2).Float64()
	k = math.Round(k)
	const halvings = 10
	r := sub(x, mul(num(k), bigLn2))
	r.SetMantExp(r, -halvings)
	sum, term := num(1), num(1)
	for n := 1.0; !small(term, sum); n++ {
		term = div(mul(term, r), num(n))
		sum = add(sum, term)
	}
	for range halvings {
		sum = mul(sum, sum)
	}
	return sum.SetMantExp(sum, int(k))
}

func bigLog(x *big.Float) *big.Float {
	z := num(0)
	k := x.MantExp(z)
	f, _ := z.Float64()
	near := num(math.Round(math.Log(f)*256) / 256)
	z = div(z, bigExp(near)) // within 1/512 of 1
	return add(add(mul(num(float64(k)), bigLn2), near), mul(num(2), atanh(div(sub(z, num(1)), add(z, num(1))))))
}

func bigExpm1(x *big.Float) *big.Float { return sub(bigExp(x), num(1)) }

// bigLog1p is log(1+x), for small x too.
func bigLog1p(x *big.Float) *big.Float {
	if x.MantExp(nil) < -4 {
		return mul(num(2), atanh(div(x, add(num(2), x))))
	}
	return bigLog(add(num(1), x))
}

func bigPow(x, y *big.Float) *big.Float {
	return bigExp(mul(y, bigLog(x)))
}

var bigPi = func() *big.Float { // Machin's formula
	atan := func(of float64) *big.Float {
		x := div(num(1), num(of))
		sum, power, x2 := num(0), num(0).Set(x), mul(x, x)
		for n := 1.0; ; n += 2 {
			term := div(power, num(n))
			if sum = add(sum, term); small(term, sum) {
				return sum
			}
			power = mul(num(-1), mul(power, x2))
		}
	}
	return sub(mul(num(16), atan(5)), mul(num(4), atan(239)))
}()

// bigErfc is erfc(x): 1 less the series of erf that has no signs (Abramowitz and
// Stegun 7.1.6), up to 12, where 210 bits of 1 are lost; beyond that the fraction
// (7.1.14), which has 60 digits there in as many steps.
func bigErfc(x *big.Float) *big.Float {
	root := num(0).Sqrt(bigPi)
	at, _ := x.Float64()
	x2 := mul(x, x)
	if at <= 8 {
		sum, term := num(0).Set(x), num(0).Set(x)
		for n := 1.0; !small(term, sum); n++ {
			term = div(mul(mul(term, x2), num(2)), num(2*n+1))
			sum = add(sum, term)
		}
		return sub(num(1), div(mul(mul(num(2), sum), bigExp(mul(num(-1), x2))), root))
	}
	f := num(0).Set(x)
	for n := 400.0; n > 0; n-- {
		f = add(x, div(num(n/2), f))
	}
	return div(bigExp(mul(num(-1), x2)), mul(root, f))
}

// bigLgamma is the logarithm of the gamma function, by Stirling's series from 60 on.
func bigLgamma(x *big.Float) *big.Float {
	z := num(1)
	x = num(0).Set(x)
	for x.Cmp(num(60)) < 0 {
		z = mul(z, x)
		x = add(x, num(1))
	}
	sum := sub(mul(sub(x, num(0.5)), bigLog(x)), x)
	sum = add(sum, mul(num(0.5), bigLog(mul(num(2), bigPi))))
	power := num(0).Set(x)
	for n, b := range bernoulliNumbers(60) {
		term := num(0).SetRat(b)
		term = div(term, mul(power, num(float64((2*n+2)*(2*n+1)))))
		sum = add(sum, term)
		power = mul(power, mul(x, x))
	}
	return sub(sum, bigLog(z))
}

// bernoulliNumbers are B(2), B(4) and so on, n of them.
func bernoulliNumbers(n int) []*big.Rat {
	if len(bernoullis) >= n {
		return bernoullis[:n]
	}
	all := []*big.Rat{big.NewRat(1, 1)}
	for m := 1; m <= 2*n; m++ {
		sum, choose := new(big.Rat), big.NewInt(1)
		for k, b := range all { // sum of (m+1 over k) B(k)
			sum.Add(sum, new(big.Rat).Mul(new(big.Rat).SetInt(choose), b))
			choose.Div(choose.Mul(choose, big.NewInt(int64(m+1-k))), big.NewInt(int64(k+1)))
		}
		all = append(all, sum.Mul(sum, big.NewRat(-1, int64(m+1))))
	}
	bernoullis = nil
	for m := 2; m <= 2*n; m += 2 {
		bernoullis = append(bernoullis, all[m])
	}
	return bernoullis
}

var bernoullis []*big.Rat

// bigZeta is Riemann's zeta function of a whole number from 2 on: the first hundred
// terms, and Euler's and Maclaurin's formula for the rest (Abramowitz and Stegun 23.2.3).
func bigZeta(s int) *big.Float {
	const most = 100
	power := func(n float64, s int) *big.Float {
		y := num(1)
		for range s {
			y = mul(y, num(n))
		}
		return y
	}
	sum := num(0)
	for n := 1.0; n < most; n++ {
		sum = add(sum, div(num(1), power(n, s)))
	}
	sum = add(sum, div(num(most), mul(num(float64(s-1)), power(most, s))))
	sum = add(sum, div(num(0.5), power(most, s)))
	factor := div(num(float64(s)), mul(num(2), power(most, s+1))) // s (s+1) ... (s+2n-2) / ((2n)! most^(s+2n-1))
	for i, b := range bernoulliNumbers(30) {
		sum = add(sum, mul(num(0).SetRat(b), factor))
		n := float64(2*i + 2)
		factor = div(mul(factor, num((float64(s)+n-1)*(float64(s)+n))), num((n+1)*(n+2)*most*most))
	}
	return sum
}
