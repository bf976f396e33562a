package solve

import (
	"errors"
	"math"
)

// ErrSingular says that a matrix has no inverse worth having.
var ErrSingular = errors.New("got a singular matrix")

// Inverse returns the inverse of a symmetric positive definite matrix, which it
// leaves alone, by Cholesky's factor l, l l' = a.
func Inverse(a [][]float64) ([][]float64, error) {
	l, err := factor(a)
	if err != nil {
		return nil, err
	}
	n := len(a)
	out := square(n)
	x := make([]float64, n)
	for c := range out { // solves l l' x = e_c
		for i := range x {
			e := 0.0
			if i == c {
				e = 1
			}
			x[i] = without(e, l[i], x[:i]) / l[i][i]
		}
		for i := n - 1; i >= 0; i-- {
			for k := i + 1; k < n; k++ {
				x[i] -= l[k][i] * x[k]
			}
			x[i] /= l[i][i]
			out[i][c] = x[i]
		}
	}
	return out, nil
}

func factor(a [][]float64) ([][]float64, error) {
	l := square(len(a))
	for i := range l {
		for j := range i {
			l[i][j] = without(a[i][j], l[i], l[j][:j]) / l[j][j]
		}
		left := without(a[i][i], l[i], l[i][:i])
		if !(left > 1e-14*a[i][i]) { // nor where a[i][i] is infinite
			return nil, ErrSingular
		}
		l[i][i] = math.Sqrt(left)
	}
	return l, nil
}

// without is sum less the products of u and v, as far as v goes.
func without(sum float64, u, v []float64) float64 {
	for k := range v {
		sum -= u[k] * v[k]
	}
	return sum
}

func square(n int) [][]float64 {
	out := make([][]float64, n)
	for i := range out {
		out[i] = make([]float64, n)
	}
	return out
}
