package intonation_test

import (
	"flag"
	"math"
	"math/rand"
	"testing"

	"example.org/saddlepoint/fret"
	"example.org/saddlepoint/intonation"
	"example.org/saddlepoint/units"
)

// points is how many random points each function is held to. DEVELOPERS.md has
// the figures of 100,000.
var points = flag.Int("points", 5_000, "random points for each function")

// worst is the largest error of a function, in units of the last place of what
// it ought to be, or of a term that is larger.
type worst struct{ ulps, at float64 }

func (w *worst) see(got float64, want num, term, at float64) {
	x, _ := want.Float64()
	off, _ := less(of(got), want).Float64()
	x = max(math.Abs(x), math.Abs(term))
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

func decades(rnd *rand.Rand, low, high float64) float64 {
	return math.Exp2(math.Log2(low) + rnd.Float64()*(math.Log2(high)-math.Log2(low)))
}

func signed(rnd *rand.Rand, x float64) float64 { return math.Copysign(x, rnd.Float64()-0.5) }

// ratioOf is 2^(c/1200).
func ratioOf(c num) num { return exp(over(times(ln2, c), of(1200))) }

// anyPair is a reading of any two frets from 5 cents apart to four octaves, half
// of the low ones open strings, and its lengths once more.
type anyPair struct {
	reading   intonation.Reading
	division  fret.Division
	scale     units.Length
	low, high num
	apart     float64 // cents
}

func pairOf(t *testing.T, rnd *rand.Rand) anyPair {
	a := decades(rnd, 1, 3600)
	b := a + decades(rnd, 5, 1200)
	p := anyPair{scale: units.Length(decades(rnd, 100, 2000)), apart: b - a}
	p.reading = intonation.Reading{String: 1, Low: 1, High: 2, Setback: units.Length(rnd.Float64()*14 - 2)}
	switch rnd.Intn(4) {
	case 0:
		p.reading.Setback = 0
	case 1, 2:
		p.reading.Low, p.apart = 0, b
	}
	var err error
	if p.division, err = fret.Divide(units.Cents(a), units.Cents(b)); err != nil {
		t.Fatal(err)
	}
	length := func(n int) num {
		c := float64(p.division.Cents(n))
		return sum(over(of(float64(p.scale)), ratioOf(of(c))), of(float64(p.reading.Setback)))
	}
	p.low, p.high = length(p.reading.Low), length(2)
	return p
}

// Readings from a millionth of a cent to half of what the frets are apart, at most
// 1000 cents; above that the span and what the reading takes of it cancel, and the move soon passes
// the scale.
func TestMovePrecision(t *testing.T) {
	t.Parallel()
	rnd := rand.New(rand.NewSource(11))
	var move, band, change, after worst
	for range *points {
		p := pairOf(t, rnd)
		e := signed(rnd, decades(rnd, 1e-6, min(p.apart/2, 1000)))
		p.reading.Cents = units.Cents(e)
		exact := func(c num) num { // l_a l_b (X - 1)/(l_a - X l_b)
			x := ratioOf(c)
			return over(times(p.low, p.high, less(x, of(1))), less(p.low, times(x, p.high)))
		}
		got, err := intonation.Move(p.reading, p.division, p.scale)
		if err != nil {
			t.Fatalf("%+v: %v", p, err)
		}
		move.see(float64(got), exact(of(e)), 0, e)

		tuner := decades(rnd, 1e-6, p.apart/10)
		wide, err := intonation.Band(p.reading, p.division, p.scale, units.Cents(tuner))
		if err != nil {
			t.Fatalf("%+v: %v", p, err)
		}
		by := times(root(of(2)), of(tuner))
		band.see(float64(wide), over(less(exact(sum(of(e), by)), exact(less(of(e), by))), of(2)), 0, tuner)

		near, _ := p.high.Float64()
		d := decades(rnd, 1e-9, float64(p.scale))
		if rnd.Intn(2) == 0 {
			d = -near * decades(rnd, 1e-9, 0.5)
		}
		// 1200 log2 of (l_a + d) l_b over l_a (l_b + d).
		ratio := over(times(sum(p.low, of(d)), p.high), times(p.low, sum(p.high, of(d))))
		cents := over(times(of(1200), ln(ratio)), ln2)
		left, err := intonation.After(p.reading, p.division, p.scale, units.Length(d))
		if err != nil {
			t.Fatalf("%+v: %v", p, err)
		}
		after.see(float64(left), sum(of(e), cents), e, d)
		p.reading.Cents = 0
		if left, err = intonation.After(p.reading, p.division, p.scale, units.Length(d)); err != nil {
			t.Fatalf("%+v: %v", p, err)
		}
		change.see(float64(left), cents, 0, d)
	}
	move.within(t, "Move", 8)
	band.within(t, "Band", 10) // two of what is left of the span, and all that Move takes
	change.within(t, "After, from a reading of 0", 8)
	after.within(t, "After, of the larger of both readings", 8)
}

// The stiffness series by what it raises: partials up to the twentieth of strings
// from limp to a rod's.
func TestPartialPrecision(t *testing.T) {
	t.Parallel()
	rnd := rand.New(rand.NewSource(12))
	var w worst
	for range *points {
		b, q, n := decades(rnd, 1e-9, 0.1), 2*rnd.Float64(), 2+rnd.Intn(19)
		m := model(t, intonation.Neck{Division: frets(t, 1), Scale: 650, Courses: []intonation.Course{{
			NutHeight: 1, Rise: 1, Fixity: q, Held: intonation.Held{Kappa: 50, B0: b},
		}}})
		series := func(n float64) num {
			half := over(times(pi, pi), of(2))
			return sum(of(1), times(of(q), of(b)), times(sum(times(of(q), of(q)), times(half, of(n*n))), of(b), of(b)))
		}
		w.see(float64(m.Partial(1, n)), over(times(of(1200), ln(over(series(float64(n)), series(1)))), ln2), 0, b)
	}
	w.within(t, "Model.Partial", 6) // ten roundings, one after the other
}

// What grows in mathematics never falls from one float64 to the next.
func TestRising(t *testing.T) {
	rnd := rand.New(rand.NewSource(13))
	for range *points {
		p := pairOf(t, rnd)
		e, by := signed(rnd, decades(rnd, 1e-6, min(p.apart/2, 1000))), signed(rnd, decades(rnd, 1e-6, 5))
		for _, row := range []struct {
			name string
			x    float64
			f    func(float64) (float64, error)
		}{
			{"Move", e, func(c float64) (float64, error) {
				p.reading.Cents = units.Cents(c)
				by, err := intonation.Move(p.reading, p.division, p.scale)
				return float64(by), err
			}},
			{"After", by, func(by float64) (float64, error) {
				p.reading.Cents = 0
				c, err := intonation.After(p.reading, p.division, p.scale, units.Length(by))
				return -float64(c), err
			}},
		} {
			low, err := row.f(row.x)
			high, errHigh := row.f(math.Nextafter(row.x, math.Inf(1)))
			if err != nil || errHigh != nil || !(low <= high) {
				t.Errorf("%s: got %v at %v and %v at the next, want no fall (%v, %v)", row.name, low, row.x, high, err, errHigh)
			}
		}
	}
}
