package fret_test

import (
	"math"
	"math/big"
	"math/rand"
	"testing"

	"example.org/saddlepoint/fret"
	"example.org/saddlepoint/units"
)

// ln2 to 60 digits (OEIS A002162).
const ln2 = "0.693147180559945309417232121458176568075500134360255254120680"

const bits = 190 // 57 digits

func bigFloat(x float64) *big.Float { return new(big.Float).SetPrec(bits).SetFloat64(x) }

// exactShare computes 1 - 2^(-c/1200) to about 50 digits beyond the point, from
// the series of the exponential.
func exactShare(c float64) *big.Float {
	x, _ := new(big.Float).SetPrec(bits).SetString(ln2)
	x.Mul(x, bigFloat(-c)).Quo(x, bigFloat(1200))
	// The series of exp(x/2^16) - 1, then doubled: (1+s)^2 - 1 = s(s + 2).
	const halvings = 16
	x.SetMantExp(x, -halvings)
	sum, term := bigFloat(0), bigFloat(1)
	for k := 1; k <= 30; k++ {
		term.Mul(term, x).Quo(term, bigFloat(float64(k)))
		sum.Add(sum, term)
	}
	for range halvings {
		sum.Mul(sum, new(big.Float).SetPrec(bits).Add(sum, bigFloat(2)))
	}
	return sum.Neg(sum)
}

// ulps returns how far got is from want in units of got's last place.
func ulps(got float64, want *big.Float) float64 {
	off, _ := new(big.Float).Sub(bigFloat(got), want).Float64()
	return math.Abs(off) / float64(ulp(units.Length(got)))
}

// Over the whole domain, 0.001 cents to ten octaves, against arithmetic of 50
// digits. The aim is 4 units in the last place.
func TestSharePrecision(t *testing.T) {
	if got := exactShare(1200); got.Cmp(bigFloat(0.5)) != 0 && ulps(0.5, got) > 1e-30 {
		t.Fatalf("got an octave of %.40f by the series, want 0.5", got)
	}
	rnd := rand.New(rand.NewSource(2))
	worst, at := 0.0, 0.0
	for range 20000 {
		c := 1e-3 * math.Pow(12e6, rnd.Float64())
		if u := ulps(fret.Share(units.Cents(c)), exactShare(c)); u > worst {
			worst, at = u, c
		}
	}
	t.Logf("share: worst error %.2f units in the last place, at %v cents", worst, at)
	if worst > 4 {
		t.Errorf("got %.2f units in the last place at %v cents, want at most 4", worst, at)
	}

	worst = 0
	for _, scale := range []units.Length{1, 352.425, 647.7, 650, 863.6, 1e6} {
		for by := 1; by <= 60; by++ {
			for n, x := range equal(t, by, 2*by).Positions(nil, scale) {
				// The cents are held as a float64, so the position aimed at is theirs.
				c := float64(units.Octave) * float64(n+1) / float64(by)
				want := exactShare(c)
				worst = max(worst, ulps(float64(x), want.Mul(want, bigFloat(float64(scale)))))
			}
		}
	}
	t.Logf("positions: worst error %.2f units in the last place", worst)
	if worst > 4 {
		t.Errorf("got %.2f units in the last place, want at most 4", worst)
	}
}
