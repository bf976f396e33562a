package solve

import (
	"errors"
	"math"
	"testing"
)

var inf, nan = math.Inf(1), math.NaN()

// Known roots, from either end of the bracket. Beside each stands the most calls
// that it may take; halving alone takes 32 to 43.
func TestRoot(t *testing.T) {
	for _, row := range []struct {
		name string
		f    func(float64) float64
		a, b float64
		root float64
		most int
	}{
		{"straight", func(x float64) float64 { return 3 * (x - 0.25) }, -1, 2, 0.25, 5},
		{"parabola", func(x float64) float64 { return x*x - 2 }, 0, 2, math.Sqrt2, 10},
		{"cosine", math.Cos, 0, 3, math.Pi / 2, 9},
		{"logarithm", math.Log, 0.01, 10, 1, 12},
		{"cubic", func(x float64) float64 { return x*x*x - 2*x - 5 }, 2, 3, 2.0945514815423265, 9}, // Wallis, 1685
		{"flat at its root", func(x float64) float64 { return math.Pow(x-0.5, 9) }, -1, 1.3, 0.5, 40},
		{"very flat", func(x float64) float64 { return 1e-200 * (x - 0.5) }, -1, 3, 0.5, 5},
		{"steep", func(x float64) float64 { return math.Expm1(500 * (x - 0.3)) }, 0, 1, 0.3, 20},
		{"upright", func(x float64) float64 { return math.Cbrt(x - 0.7) }, 0, 1, 0.7, 35},
		{"a jump", func(x float64) float64 { return math.Copysign(1, x-0.3) }, 0, 1, 0.3, 35},
		{"to infinity", func(x float64) float64 { return math.Tan(x) }, 1, 2, math.Pi / 2, 35}, // a pole is a change of sign too
		{"infinite end", func(x float64) float64 { return math.Log(x) + 3 }, 0, 1, math.Exp(-3), 14},
		{"far out and curved", func(x float64) float64 { return x*x - 2e24 }, 0, 2e12, math.Sqrt2 * 1e12, 12},
		{"far out", func(x float64) float64 { return x - 1e12 }, 0, 3e12, 1e12, 5},
		{"root at an end", func(x float64) float64 { return x }, 0, 1, 0, 2},
	} {
		const tol = 1e-9
		for _, ends := range [][2]float64{{row.a, row.b}, {row.b, row.a}} {
			counted, best := 0, inf
			x, calls, err := Root(func(x float64) float64 {
				if best == 0 && counted >= 2 {
					t.Errorf("%s: got a call at %v, want none after the root was met", row.name, x)
				}
				counted++
				best = min(best, math.Abs(row.f(x)))
				return row.f(x)
			}, ends[0], ends[1], tol)
			if err != nil {
				t.Errorf("%s: %v", row.name, err)
			}
			if slack := tol + 8*0x1p-52*math.Abs(row.root); !(math.Abs(x-row.root) <= slack) {
				t.Errorf("%s from %v: got %v, want %v", row.name, ends, x, row.root)
			}
			if row.name != "to infinity" && math.Abs(row.f(x)) > best {
				t.Errorf("%s from %v: got %v, where it is %v, want the best point met, of %v", row.name, ends, x, row.f(x), best)
			}
			if calls != counted || calls > row.most {
				t.Errorf("%s from %v: got %d calls told and %d made, want at most %d", row.name, ends, calls, counted, row.most)
			}
		}
	}
}

// The bracket is kept: no call falls outside it, and no root is missed.
func TestRootStaysInside(t *testing.T) {
	for k := 1; k <= 60; k++ {
		root := math.Exp2(-float64(k) / 2)
		f := func(x float64) float64 {
			if !(x >= -1 && x <= 1) {
				t.Fatalf("got a call at %v, want it from -1 to 1", x)
			}
			return math.Atan(1e4 * (x - root)) // nearly a step
		}
		x, calls, err := Root(f, -1, 1, 1e-12)
		if err != nil || math.Abs(x-root) > 1e-12+8*0x1p-52 || calls > 24 {
			t.Errorf("got %v in %d calls, %v, want %v", x, calls, err, root)
		}
	}
}

// At a jump only halving helps, by hand: from a width of 1, 10 halvings leave
// 2^-10, which is within a tolerance a little over that, and 11 one a little
// under. The first two calls are at the ends.
func TestRootHalves(t *testing.T) {
	for _, root := range []float64{0.3, 0.7, 0.95} {
		for _, row := range []struct {
			tol   float64
			calls int
		}{{1.05 * 0x1p-10, 12}, {0.95 * 0x1p-10, 13}, {1.05 * 0x1p-30, 32}, {0.95 * 0x1p-30, 33}} {
			_, calls, err := Root(func(x float64) float64 { return math.Copysign(1, x-root) }, 0, 1, row.tol)
			if err != nil || calls != row.calls {
				t.Errorf("root %v to within %v: got %d calls, %v, want %d", root, row.tol, calls, err, row.calls)
			}
		}
	}
}

// No call is wasted next to a point that is known: each lies half the tolerance
// inside the bracket at least, also where curves end in a corner at the root.
func TestRootStepsFarEnough(t *testing.T) {
	const tol = 1e-6
	for k := range 200 {
		root, power := math.Exp2(-float64(k)/8), 0.2+float64(k%9)/3
		low, high := -1., 1.
		f := func(x float64) float64 {
			y := math.Copysign(math.Pow(math.Abs(x-root), power), x-root)
			if x > root {
				y *= 3
			}
			if x > -1 && x < 1 && !(min(x-low, high-x) >= 0.499*tol) {
				t.Errorf("%v to the %v: got a call at %v in a bracket from %v to %v", root, power, x, low, high)
			}
			if y < 0 {
				low = max(low, x)
			} else if x < 1 {
				high = min(high, x)
			}
			return y
		}
		x, _, err := Root(f, -1, 1, tol)
		if err != nil || !(math.Abs(x-root) <= tol) {
			t.Errorf("got %v, %v, want %v", x, err, root)
		}
	}
}

func TestRootErrors(t *testing.T) {
	square := func(x float64) float64 { return (x*x + 1) / 4 }
	for _, row := range []struct {
		name  string
		f     func(float64) float64
		a, b  float64
		calls int
		want  string
	}{
		{"above", square, -1, 1, 2, "no change of sign between the ends of the bracket"},
		{"below", func(x float64) float64 { return -square(x) }, -1, 1, 2, "no change of sign between the ends of the bracket"},
		{"NaN at an end", func(x float64) float64 { return x }, nan, 1, 2, "no change of sign between the ends of the bracket"},
		{"NaN at the other", func(x float64) float64 { return x }, -1, nan, 2, "no change of sign between the ends of the bracket"},
		{"NaN inside", func(x float64) float64 {
			if x == -1 || x == 1 {
				return x
			}
			return nan
		}, -1, 1, 3, "got NaN at 0, want a number"},
		{"endless bracket", func(x float64) float64 { return x - 1 }, -inf, inf, 3, "got NaN at NaN, want a number"},
		// A step 1e300 times smaller than its bracket is more than 200 calls can find.
		{"too wide", func(x float64) float64 { return math.Copysign(1, x-1) }, -1e300, 2e300, 200, "got no root to within 1e-09 in 200 calls"},
	} {
		x, calls, err := Root(row.f, row.a, row.b, 1e-9)
		if err == nil || err.Error() != row.want || !math.IsNaN(x) || calls != row.calls {
			t.Errorf("%s: got %v in %d calls, error %v; want NaN in %d, error %s", row.name, x, calls, err, row.calls, row.want)
		}
	}
	if _, _, err := Root(square, -1, 1, 1e-9); !errors.Is(err, ErrBracket) {
		t.Errorf("got %v, want ErrBracket", err)
	}
}
