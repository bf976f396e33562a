// Package solve finds roots in brackets.
package solve

import (
	"errors"
	"fmt"
	"math"
)

// ErrBracket says that the function does not change sign between the ends.
var ErrBracket = errors.New("no change of sign between the ends of the bracket")

// most is how often a function may be called. Halving alone narrows a bracket
// 2^198 times in that.
const most = 200

// Root finds where f crosses zero between a and b, to within tol in x, or within
// a few roundings of x where that is more. It keeps a bracket throughout,
// stepping by inverse quadratic interpolation where that is safe and halving
// where it is not (T. R. Chandrupatla, Advances in Engineering Software 28, 145,
// 1997). It returns the root and the number of times that f was called, at most
// 200.
func Root(f func(float64) float64, a, b, tol float64) (x float64, calls int, err error) {
	fa, fb := f(a), f(b)
	calls = 2
	switch {
	case fa == 0:
		return a, calls, nil
	case fb == 0:
		return b, calls, nil
	case !(min(fa, fb) < 0 && max(fa, fb) > 0): // or one is NaN
		return math.NaN(), calls, ErrBracket
	}
	t := 0.5
	for calls < most {
		x = a + t*(b-a)
		fx := f(x)
		calls++
		if math.IsNaN(fx) {
			return math.NaN(), calls, fmt.Errorf("got NaN at %v, want a number", x)
		}
		// c is the point dropped: a and b keep the bracket, a the newest.
		var c, fc float64
		if math.Signbit(fx) == math.Signbit(fa) {
			c, fc = a, fa
		} else {
			c, fc = b, fb
			b, fb = a, fa
		}
		a, fa = x, fx
		if math.Abs(fb) < math.Abs(fa) {
			x = b
		}
		least := (2*0x1p-52*math.Abs(x) + tol/2) / math.Abs(b-a)
		if fx == 0 || least > 0.5 {
			return x, calls, nil
		}
		t = 0.5
		xi, phi := (a-b)/(c-b), (fa-fb)/(fc-fb)
		if 1-math.Sqrt(1-xi) < phi && phi < math.Sqrt(xi) {
			t = fa/(fb-fa)*fc/(fb-fc) + (c-a)/(b-a)*fa/(fc-fa)*fb/(fc-fb)
		}
		t = min(1-least, max(least, t))
	}
	return math.NaN(), calls, fmt.Errorf("got no root to within %v in %d calls", tol, most)
}
