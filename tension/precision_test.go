package tension_test

import (
	"flag"
	"math"
	"math/big"
	"math/rand"
	"testing"

	"example.org/saddlepoint/tension"
	"example.org/saddlepoint/units"
)

// points is how many random points each function is held to. DEVELOPERS.md has
// the figures of 100,000.
var points = flag.Int("points", 10_000, "random points for each function")

// A num is a number of 57 digits.
type num = *big.Float

func wide(x float64) num { return new(big.Float).SetPrec(192).SetFloat64(x) }

func times(xs ...num) num {
	out := wide(1)
	for _, x := range xs {
		out.Mul(out, x)
	}
	return out
}

func over(x, y num) num { return wide(0).Quo(x, y) }
func root(x num) num    { return wide(0).Sqrt(x) }

// pi is from OEIS A000796.
var pi, _ = wide(0).SetString("3.141592653589793238462643383279502884197169399375105820974944592")

// worst is the largest error of a function, in units of the last place of what
// it ought to be.
type worst float64

func (w *worst) see(got float64, want num) {
	x, _ := want.Float64()
	off, _ := wide(0).Sub(wide(got), want).Float64()
	*w = max(*w, worst(math.Abs(off)/(math.Nextafter(x, math.Inf(1))-x)))
}

func decades(rnd *rand.Rand, low, high float64) float64 {
	return math.Exp2(math.Log2(low) + rnd.Float64()*(math.Log2(high)-math.Log2(low)))
}

// The law and its inverses over all decades of any string. A pull is mu v v and a
// unit weight T/v/v, v = 2 l f: four roundings, of which those of v count twice.
func TestPrecision(t *testing.T) {
	rnd := rand.New(rand.NewSource(2))
	var pull, pitch, weight, length, gauge, gaugeFor, plain, wound, kappa, r, b0 worst
	for range *points {
		mu, f, l, p := decades(rnd, 1e-8, 10), decades(rnd, 0.1, 1e5), decades(rnd, 0.1, 1e5), decades(rnd, 1e-3, 1e5)
		d, rho, young := decades(rnd, 1e-3, 20), decades(rnd, 100, 3e4), decades(rnd, 1e8, 1e12)
		density, force, hertz, mm := units.LinearDensity(mu), units.Force(p), units.Frequency(f), units.Length(l)

		v := over(times(wide(l), wide(f)), wide(500)) // 2 l f, with l in metres
		pull.see(float64(tension.Pull(density, hertz, mm)), times(wide(mu), v, v))
		weight.see(float64(tension.UnitWeight(force, hertz, mm)), over(over(wide(p), v), v))
		speed := root(over(wide(p), wide(mu)))
		pitch.see(float64(tension.Pitch(density, force, mm)), over(times(wide(500), speed), wide(l)))
		length.see(float64(tension.Length(density, force, hertz)), over(times(wide(500), speed), wide(f)))

		// d in mm = 2000 sqrt(mu/(pi rho)).
		across := func(mu num) num { return times(wide(2000), root(over(mu, times(pi, wide(rho))))) }
		gauge.see(float64(tension.Gauge(density, units.Density(rho))), across(wide(mu)))
		gaugeFor.see(float64(tension.Gauge(tension.UnitWeight(force, hertz, mm), units.Density(rho))), across(over(over(wide(p), v), v)))

		m := tension.Material{Density: units.Density(rho), Young: units.Stress(young)}
		s, err := tension.Plain(units.Length(d), m)
		if err != nil {
			t.Fatal(err)
		}
		area := over(times(pi, wide(d), wide(d)), wide(4e6))
		plain.see(float64(s.UnitWeight), times(wide(rho), area))
		strung := tension.Strung{String: s, Pitch: hertz, Length: mm}
		pulls := times(wide(rho), area, v, v)
		k := over(times(wide(young), area), pulls)
		kappa.see(strung.Kappa(), k)
		if x, _ := k.Float64(); x > 2 { // below, the 1 taken off it cancels
			r.see(strung.R(), over(wide(0).Sub(k, wide(1)), wide(2)))
		}
		bend := over(times(wide(young), area, wide(d), wide(d)), wide(16e6))
		b0.see(strung.B0(), over(times(wide(1000), root(over(bend, pulls))), wide(l)))

		share := 0.01 + 0.98*rnd.Float64()
		c := share * d
		s, err = tension.Wound(units.Length(d), units.Length(c), m, m)
		if err != nil {
			t.Fatal(err)
		}
		// pi w (c + w)/4 times the way of the helix, sqrt((pi (c + w))^2 + w^2).
		w := over(wide(0).Sub(wide(d), wide(c)), wide(2))
		turn := times(pi, wide(0).Add(wide(c), w))
		helix := root(wide(0).Add(times(turn, turn), times(w, w)))
		core := over(times(pi, wide(c), wide(c)), wide(4))
		wrap := over(times(pi, w, helix), wide(4))
		wound.see(float64(s.UnitWeight), over(times(wide(rho), wide(0).Add(core, wrap)), wide(1e6)))
	}
	for _, row := range []struct {
		name  string
		ulps  worst
		bound worst
	}{
		{"Pull", pull, 6}, {"Pitch", pitch, 4}, {"UnitWeight", weight, 6}, {"Length", length, 4},
		{"Gauge", gauge, 4}, {"Gauge of a UnitWeight", gaugeFor, 4}, {"Plain's UnitWeight", plain, 4}, {"Wound's UnitWeight", wound, 8},
		{"Strung.Kappa, from diameters", kappa, 8}, {"Strung.R above 0.5, from diameters", r, 8}, {"Strung.B0, from diameters", b0, 8},
	} {
		t.Logf("%s: worst error %.2f units in the last place", row.name, row.ulps)
		if !(row.ulps <= row.bound) {
			t.Errorf("%s: got %.2f units in the last place, want at most %v", row.name, row.ulps, row.bound)
		}
	}
}

// What grows in mathematics never falls from one float64 to the next.
func TestRising(t *testing.T) {
	rnd := rand.New(rand.NewSource(3))
	for range *points {
		mu, f, l, p := decades(rnd, 1e-6, 1), decades(rnd, 1, 1e4), decades(rnd, 10, 1e4), decades(rnd, 1, 1e4)
		density, hertz, mm := units.LinearDensity(mu), units.Frequency(f), units.Length(l)
		for _, row := range []struct {
			name string
			x    float64
			f    func(float64) float64
		}{
			{"Pull in pitch", f, func(f float64) float64 { return float64(tension.Pull(density, units.Frequency(f), mm)) }},
			{"Pull in unit weight", mu, func(mu float64) float64 { return float64(tension.Pull(units.LinearDensity(mu), hertz, mm)) }},
			{"Pull in length", l, func(l float64) float64 { return float64(tension.Pull(density, hertz, units.Length(l))) }},
			{"Pitch in pull", p, func(p float64) float64 { return float64(tension.Pitch(density, units.Force(p), mm)) }},
			{"UnitWeight in pull", p, func(p float64) float64 { return float64(tension.UnitWeight(units.Force(p), hertz, mm)) }},
			{"Length in pull", p, func(p float64) float64 { return float64(tension.Length(density, units.Force(p), hertz)) }},
			{"Gauge in unit weight", mu, func(mu float64) float64 { return float64(tension.Gauge(units.LinearDensity(mu), 7850)) }},
		} {
			if low, high := row.f(row.x), row.f(math.Nextafter(row.x, math.Inf(1))); !(low <= high) {
				t.Errorf("%s: got %v at %v and %v at the next, want no fall", row.name, low, row.x, high)
			}
		}
	}
}
