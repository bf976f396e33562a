package solve

import (
	"errors"
	"math"
	"math/rand"
	"testing"
)

// An inverse times its matrix is the unit matrix, which is left alone.
func TestInverse(t *testing.T) {
	rnd := rand.New(rand.NewSource(1))
	for n := 1; n <= 6; n++ {
		for range 50 {
			a := definite(rnd, n)
			kept := square(n)
			for i := range a {
				copy(kept[i], a[i])
			}
			b, err := Inverse(a)
			if err != nil {
				t.Fatal(err)
			}
			for i := range a {
				for j := range a {
					sum, want := 0.0, 0.0
					for k := range a {
						sum += kept[i][k] * b[k][j]
					}
					if i == j {
						want = 1
					}
					if !(math.Abs(sum-want) < 1e-11) || b[i][j] != b[j][i] && math.Abs(b[i][j]-b[j][i]) > 1e-12*math.Abs(b[i][j]) {
						t.Errorf("%v: got %v at %d, %d of the product, want %v", kept, sum, i, j, want)
					}
					if a[i][j] != kept[i][j] {
						t.Errorf("got %v changed to %v", kept, a)
					}
				}
			}
		}
	}
}

// definite is the product of a matrix with its transpose, and a little more on
// the diagonal.
func definite(rnd *rand.Rand, n int) [][]float64 {
	m, a := square(n), square(n)
	for i := range m {
		for j := range m {
			m[i][j] = rnd.NormFloat64()
		}
	}
	for i := range m {
		for j := range m {
			for k := range m {
				a[i][j] += m[i][k] * m[j][k]
			}
		}
		a[i][i] += 0.1
	}
	return a
}

// By hand: [4 2; 2 3] has the determinant 8.
func TestInverseByHand(t *testing.T) {
	got, err := Inverse([][]float64{{4, 2}, {2, 3}})
	if err != nil {
		t.Fatal(err)
	}
	want := [][]float64{{3. / 8, -2. / 8}, {-2. / 8, 4. / 8}}
	for i := range want {
		for j := range want {
			if !(math.Abs(got[i][j]-want[i][j]) < 1e-15) {
				t.Errorf("got %v, want %v", got, want)
			}
		}
	}
}

func TestInverseSingular(t *testing.T) {
	for _, a := range [][][]float64{
		{{0}},
		{{-1}},
		{{nan}},
		{{inf}},
		{{1, 1}, {1, 1}},
		{{1, 2}, {2, 1}}, // not definite
		{{1, nan}, {nan, 1}},
		{{1, 0, 0}, {0, 1, 1}, {0, 1, 1}},
		{{1e6, 1e6}, {1e6, 1e6 + 1e-9}}, // nearly
	} {
		if got, err := Inverse(a); !errors.Is(err, ErrSingular) || got != nil {
			t.Errorf("%v: got %v, %v, want none, singular", a, got, err)
		}
	}
}
