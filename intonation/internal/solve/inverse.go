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
			x[i] = 0
			if i == c {
				x[i] = 1
			}
			for k := 0; k < i; k++ {
				x[i] -= l[i][k] * x[k]
			}
			x[i] /= l[i][i]
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
		for j := 0; j <= i; j++ {
			sum := a[i][j]
			for k := 0; k < j; k++ {
				sum -= l[i][k] * l[j][k]
			}
			if i == j {
				if !(sum > 1e-14*a[i][i]) || math.IsInf(sum, 0) {
					return nil, ErrSingular
				}
				l[i][i] = math.Sqrt(sum)
				continue
			}
			l[i][j] = sum / l[j][j]
		}
	}
	return l, nil
}

func square(n int) [][]float64 {
	out := make([][]float64, n)
	for i := range out {
		out[i] = make([]float64, n)
	}
	return out
}
