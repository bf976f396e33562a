package fret_test

import (
	"math"
	"math/big"
	"math/rand"
	"testing"
)

// A num is a number of 57 digits.
type num = *big.Float

const bits = 192

func of(x float64) num { return new(big.Float).SetPrec(bits).SetFloat64(x) }

// ln2 is from OEIS A002162.
var ln2, _ = of(0).SetString("0.693147180559945309417232121458176568075500134360255254120680009")

const doublings, terms = 12, 13

// inverse holds 1/k!.
var inverse = func() (out [terms + 1]num) {
	out[0] = of(1)
	for k := 1; k <= terms; k++ {
		out[k] = of(0).Quo(out[k-1], of(float64(k)))
	}
	return out
}()

// expm1 is e^x - 1 for x between -1 and 1: the series for x/2^12, then doubled.
func expm1(x num) num {
	x = of(0).SetMantExp(x, -doublings)
	sum, by := of(0), of(0)
	for k := terms; k >= 1; k-- {
		sum.Mul(by.Add(sum, inverse[k]), x)
	}
	for range doublings {
		by.Add(sum, inverse[0]).Add(by, inverse[0])
		sum.Mul(x.Set(sum), by)
	}
	return sum
}

// ln is the natural logarithm: that of a float64, corrected by 2 artanh of what
// is left.
func ln(x num) num {
	m := of(0)
	octaves := x.MantExp(m)
	if m.Cmp(of(math.Sqrt2/2)) < 0 {
		m, octaves = m.SetMantExp(m, 1), octaves-1
	}
	near, _ := m.Float64()
	y := of(math.Log(near))
	e := expm1(y)
	d := of(0).Sub(m, of(1))
	d.Sub(d, e).Quo(d, e.Add(e, of(1)).Add(e, m))
	cube := of(0).Mul(d, d)
	cube.Mul(cube, d).Quo(cube, of(3))
	y.Add(y, d.Add(d, cube).Mul(d, of(2)))
	return y.Add(y, of(0).Mul(ln2, of(float64(octaves))))
}

// intervalOf is 1200 log2 of a ratio.
func intervalOf(ratio num) num {
	c := ln(ratio)
	return c.Mul(c, of(1200)).Quo(c, ln2)
}

// octaveOf is 2^x - 1, x being c/1200 less whole octaves, and how many those are.
func octaveOf(c float64) (excess num, octaves int) {
	octaves = int(math.Round(c / 1200))
	x := of(0).Sub(of(c), of(1200*float64(octaves)))
	return expm1(x.Mul(x, ln2).Quo(x, of(1200))), octaves
}

// ratioOf is 2^(c/1200).
func ratioOf(c float64) num {
	x, octaves := octaveOf(c)
	return x.SetMantExp(x.Add(x, of(1)), octaves)
}

// excessOf is 2^(c/1200) - 1.
func excessOf(c float64) num {
	if x, octaves := octaveOf(c); octaves == 0 {
		return x
	}
	x := ratioOf(c)
	return x.Sub(x, of(1))
}

// worst is the largest error of a function, in units of the last place of what
// it ought to be.
type worst struct{ ulps, at float64 }

func (w *worst) see(got float64, want num, at float64) {
	x, _ := want.Float64()
	off, _ := of(0).Sub(of(got), want).Float64()
	x = math.Abs(x)
	if u := math.Abs(off) / (math.Nextafter(x, math.Inf(1)) - x); !(u <= w.ulps) {
		*w = worst{u, at}
	}
}

func (w worst) within(t *testing.T, name string, most float64) {
	t.Helper()
	t.Logf("%s: worst error %.2f units in the last place, at %v", name, w.ulps, w.at)
	if !(w.ulps <= most) {
		t.Errorf("%s: got %.2f units in the last place at %v, want at most %v", name, w.ulps, w.at, most)
	}
}

// decades draws evenly from the logarithms between.
func decades(rnd *rand.Rand, low, high float64) float64 {
	return math.Exp2(math.Log2(low) + rnd.Float64()*(math.Log2(high)-math.Log2(low)))
}

func signed(rnd *rand.Rand, x float64) float64 { return math.Copysign(x, rnd.Float64()-0.5) }

// The helper against what is known: e - 1 and the logarithm of 10 (OEIS A001113
// and A002392), and a square.
func TestReference(t *testing.T) {
	for _, row := range []struct {
		got  num
		want string
	}{
		{expm1(of(1)), "1.718281828459045235360287471352662497757247093699959574966967628"},
		{ln(of(10)), "2.302585092994045684017991454684364207601101488628772976033327901"},
		{of(0).Add(excessOf(1800), excessOf(0)), "1.828427124746190097603377448419396157139343750753896146353359476"},
	} {
		want, _ := of(0).SetString(row.want)
		if off, _ := of(0).Sub(row.got, want).Float64(); !(math.Abs(off) < 1e-54) {
			t.Errorf("got %.60f, want %s", row.got, row.want)
		}
	}
}
