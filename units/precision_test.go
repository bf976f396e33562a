package units_test

import (
	"flag"
	"math"
	"math/big"
	"math/rand"
	"testing"

	"example.org/saddlepoint/units"
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

// centsOf is 1200 log2 of a ratio.
func centsOf(ratio num) num {
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

// points is how many random points each function is held to. DEVELOPERS.md has
// the figures of 100,000.
var points = flag.Int("points", 10_000, "random points for each function")

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

// Anything to anything, within ten octaves, and near unisons.
func TestIntervalPrecision(t *testing.T) {
	t.Parallel()
	rnd := rand.New(rand.NewSource(1))
	var w worst
	for k := range *points {
		from, to := decades(rnd, 1e-300, 1e300), decades(rnd, 1e-300, 1e300)
		switch k % 3 {
		case 1:
			to = from * math.Exp2(20*rnd.Float64()-10)
		case 2:
			to = from * (1 + signed(rnd, decades(rnd, 1e-15, 0.5)))
		}
		if to == from || to < 1e-300 || to > 1e300 {
			to = 2 * from
		}
		w.see(float64(units.Interval(units.Frequency(from), units.Frequency(to))), centsOf(of(0).Quo(of(to), of(from))), to/from)
	}
	w.within(t, "Interval", 4)
}

// From a trillionth of a cent to 800 octaves, up and down.
func TestCentsPrecision(t *testing.T) {
	t.Parallel()
	rnd := rand.New(rand.NewSource(2))
	var ratio, excess, shift worst
	for range *points {
		c, f := signed(rnd, decades(rnd, 1e-12, 960_000)), decades(rnd, 1e-3, 1e6)
		excess.see(units.Cents(c).Excess(), excessOf(c), c)
		want := ratioOf(c)
		ratio.see(units.Cents(c).Ratio(), want, c)
		shift.see(float64(units.Frequency(f).Shift(units.Cents(c))), want.Mul(want, of(f)), c)
	}
	ratio.within(t, "Cents.Ratio", 4)
	excess.within(t, "Cents.Excess", 4)
	shift.within(t, "Frequency.Shift", 4)
}

// Every note of the type's 200 octaves, and frequencies between them, half of
// them near a note.
func TestNotePrecision(t *testing.T) {
	t.Parallel()
	rnd := rand.New(rand.NewSource(3))
	var note, pitch, nearest worst
	for k := range *points {
		n, a4, off := units.Note(rnd.Intn(2400)-1200), decades(rnd, 1, 1e4), signed(rnd, decades(rnd, 1e-9, 50))
		want := ratioOf(float64(100 * (n - units.A4)))
		want.Mul(want, of(a4))
		note.see(float64(n.Frequency(units.Frequency(a4))), want, float64(n))

		f := n.Frequency(units.Frequency(a4)).Shift(units.Cents(off))
		if k%2 == 1 { // between any two notes
			f *= units.Frequency(1 + 0.06*rnd.Float64())
		}
		p := units.Nearest(f, units.Frequency(a4))
		right := ratioOf(float64(100 * (p.Note - units.A4)))
		right.Mul(right, of(a4))
		nearest.see(float64(p.Off), centsOf(right.Quo(of(float64(f)), right)), float64(f))

		pitch.see(float64(units.Pitch{Note: n, Off: units.Cents(off)}.Frequency(units.Frequency(a4))), want.Mul(want, ratioOf(off)), off)
	}
	note.within(t, "Note.Frequency", 4)
	pitch.within(t, "Pitch.Frequency", 4)
	nearest.within(t, "Nearest", 4)
}

// What grows in mathematics never falls from one float64 to the next.
func TestRising(t *testing.T) {
	rnd := rand.New(rand.NewSource(4))
	up := func(x float64) float64 { return math.Nextafter(x, math.Inf(1)) }
	for range *points {
		c, f := signed(rnd, decades(rnd, 1e-6, 24_000)), decades(rnd, 1e-3, 1e6)
		g := f * (1 + signed(rnd, decades(rnd, 1e-12, 0.9)))
		for _, row := range []struct {
			name string
			x    float64
			f    func(float64) float64
		}{
			{"Ratio", c, func(c float64) float64 { return units.Cents(c).Ratio() }},
			{"Excess", c, func(c float64) float64 { return units.Cents(c).Excess() }},
			{"Shift", c, func(c float64) float64 { return float64(units.Frequency(f).Shift(units.Cents(c))) }},
			{"Interval", g, func(g float64) float64 { return float64(units.Interval(units.Frequency(f), units.Frequency(g))) }},
			{"Interval", g, func(g float64) float64 { return -float64(units.Interval(units.Frequency(g), units.Frequency(f))) }},
		} {
			if low, high := row.f(row.x), row.f(up(row.x)); !(low <= high) {
				t.Fatalf("%s: got %v at %v and %v at the next, want no fall", row.name, low, row.x, high)
			}
		}
	}
	// Where one formula hands over to another.
	for _, c := range []float64{-1800, -600, 0, 600, 1200, 1800, 3000} {
		for range 50 {
			if low, high := units.Cents(c), units.Cents(up(c)); !(low.Ratio() <= high.Ratio() && low.Excess() <= high.Excess()) {
				t.Errorf("got a fall at %v", c)
			}
			c = up(c)
		}
	}
}
