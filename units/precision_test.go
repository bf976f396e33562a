package units_test

import (
	"flag"
	"math"
	"math/rand"
	"testing"

	"example.org/saddlepoint/units"
)

// points is how many random points each function is held to. DEVELOPERS.md has
// the figures of 100,000.
var points = flag.Int("points", 10_000, "random points for each function")

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
		w.see(float64(units.Interval(units.Frequency(from), units.Frequency(to))), intervalOf(of(0).Quo(of(to), of(from))), to/from)
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
		nearest.see(float64(p.Off), intervalOf(right.Quo(of(float64(f)), right)), float64(f))

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
