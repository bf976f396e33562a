package fret_test

import (
	"flag"
	"math"
	"math/big"
	"math/rand"
	"testing"

	"example.org/saddlepoint/fret"
	"example.org/saddlepoint/units"
)

// points is how many random points each function is held to. DEVELOPERS.md has
// the figures of 100,000.
var points = flag.Int("points", 10_000, "random points for each function")

// shareOf is 1 - 2^(-c/1200).
func shareOf(c float64) num {
	x := excessOf(-c)
	return x.Neg(x)
}

// From a trillionth of a cent to fifty octaves.
func TestSharePrecision(t *testing.T) {
	t.Parallel()
	rnd := rand.New(rand.NewSource(2))
	var w worst
	for range *points {
		c := decades(rnd, 1e-12, 60_000)
		w.see(fret.Share(units.Cents(c)), shareOf(c), c)
	}
	w.within(t, "Share", 4)
}

// Frets of any two cents up to ten octaves, on any scale: the distances are
// those of the cents as they are held.
func TestDivisionPrecision(t *testing.T) {
	t.Parallel()
	rnd := rand.New(rand.NewSource(3))
	var from, left, gap, placed, off worst
	for range *points {
		scale, a := decades(rnd, 1e-3, 1e6), decades(rnd, 0.1, 12_000)
		b := a + decades(rnd, 0.1, 1000)
		d, err := fret.Divide(units.Cents(a), units.Cents(b))
		if err != nil {
			t.Fatal(err)
		}
		mm := units.Length(scale)
		want := shareOf(b)
		want.Mul(want, of(scale))
		from.see(float64(d.From(mm, 2)), want, b)
		placed.see(float64(d.Positions(nil, mm)[1]), want, b)

		rest := ratioOf(-b)
		rest.Mul(rest, of(scale))
		left.see(float64(d.Remaining(mm, 2)), rest, b)

		first := ratioOf(-a)
		first.Mul(first, of(scale)).Sub(first, rest)
		gap.see(float64(d.Gap(mm, 2)), first, b-a)

		near, _ := rest.Float64()
		by := signed(rnd, near*decades(rnd, 1e-9, 0.5))
		ratio := of(0).Quo(of(by), rest)
		ratio.Sub(of(1), ratio)
		off.see(float64(d.Misplaced(mm, 2, units.Length(by))), ratio.Neg(intervalOf(ratio)), by/near)
	}
	from.within(t, "Division.From", 4)
	placed.within(t, "Division.Positions", 4)
	left.within(t, "Division.Remaining", 4)
	gap.within(t, "Division.Gap", 4)
	off.within(t, "Division.Misplaced", 4)
}

// Ratios of small numbers, of large ones, and near the unison.
func TestRatioPrecision(t *testing.T) {
	t.Parallel()
	rnd := rand.New(rand.NewSource(4))
	var w worst
	for k := range *points {
		r := fret.Ratio{Num: int64(decades(rnd, 1, 1e18)), Den: int64(decades(rnd, 1, 1e18))}
		if k%2 == 1 {
			r.Num = r.Den + int64(decades(rnd, 1, 1e6))
		}
		if r.Num == r.Den {
			continue
		}
		whole := func(n int64) num { return new(big.Float).SetPrec(bits).SetInt64(n) }
		w.see(float64(r.Cents()), intervalOf(of(0).Quo(whole(r.Num), whole(r.Den))), float64(r.Num)/float64(r.Den))
	}
	w.within(t, "Ratio.Cents", 4)
}

// Any radius and any offset below it, and back.
func TestCamberPrecision(t *testing.T) {
	t.Parallel()
	rnd := rand.New(rand.NewSource(5))
	var camber, radius worst
	wide := func(x float64) num { return of(x).SetPrec(600) }
	for range *points {
		r := decades(rnd, 1e-3, 1e9)
		y := min(r*decades(rnd, 1e-12, 1), math.Nextafter(r, 0))
		got, err := fret.Camber(units.Length(r), units.Length(y))
		if err != nil {
			t.Fatal(err)
		}
		// R - sqrt(R^2 - y^2), with digits to spare.
		root := wide(r)
		root.Mul(root, root).Sub(root, new(big.Float).Mul(wide(y), wide(y)))
		root.Sqrt(root)
		camber.see(float64(got), root.Sub(wide(r), root), y/r)

		s := y * decades(rnd, 1e-12, 1)
		back, err := fret.RadiusFromCamber(units.Length(s), units.Length(y))
		if err != nil {
			t.Fatal(err)
		}
		want := wide(y)
		want.Mul(want, want).Add(want, new(big.Float).Mul(wide(s), wide(s))).Quo(want, wide(2)).Quo(want, wide(s))
		radius.see(float64(back), want, s/y)
	}
	camber.within(t, "Camber", 4)
	radius.within(t, "RadiusFromCamber", 4)
}

// What grows in mathematics never falls from one float64 to the next.
func TestRising(t *testing.T) {
	rnd := rand.New(rand.NewSource(6))
	up := func(x float64) float64 { return math.Nextafter(x, math.Inf(1)) }
	for range *points {
		c, r := decades(rnd, 1e-6, 24_000), decades(rnd, 1, 1e4)
		y := r * decades(rnd, 1e-6, 0.99)
		d, err := fret.Divide(units.Cents(c))
		if err != nil {
			t.Fatal(err)
		}
		for _, row := range []struct {
			name string
			x    float64
			f    func(float64) float64
		}{
			{"Share", c, func(c float64) float64 { return fret.Share(units.Cents(c)) }},
			{"From", r, func(scale float64) float64 { return float64(d.From(units.Length(scale), 1)) }},
			{"Remaining", r, func(scale float64) float64 { return float64(d.Remaining(units.Length(scale), 1)) }},
			{"Misplaced", y, func(by float64) float64 { return float64(d.Misplaced(units.Length(1e6*r), 1, units.Length(by))) }},
			{"Camber", y, func(y float64) float64 { return camber(t, r, y) }},
			{"Camber", r, func(r float64) float64 { return -camber(t, r, y) }},
		} {
			if low, high := row.f(row.x), row.f(up(row.x)); !(low <= high) {
				t.Errorf("%s: got %v at %v and %v at the next, want no fall", row.name, low, row.x, high)
			}
		}
	}
}

func camber(t *testing.T, r, y float64) float64 {
	t.Helper()
	fall, err := fret.Camber(units.Length(r), units.Length(y))
	if err != nil {
		t.Fatal(err)
	}
	return float64(fall)
}
