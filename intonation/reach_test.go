package intonation_test

import (
	"errors"
	"math"
	"testing"

	"example.org/saddlepoint/intonation"
	"example.org/saddlepoint/units"
)

// shifted is one string whose nut stands where fret 1 comes out right with the
// saddle at ds: found by halving, each model made afresh.
func shifted(t *testing.T, ds float64) intonation.Neck {
	n := one(t)
	low, high := -30., 70. // further from the frets is sharper
	for range 60 {
		mid := (low + high) / 2
		if at(t, n, 1, []int{1}, ds, mid)[0] > 0 {
			high = mid
		} else {
			low = mid
		}
	}
	n.Courses[0].NutSetback = units.Length(low)
	return n
}

// A saddle is placed up to 60 mm from the scale line, either way, and no further.
// Steps of least squares may pass the place by a little on their way to it, and
// are not followed further than that.
func TestReach(t *testing.T) {
	aim := intonation.Aim{Frets: []int{1}}
	for _, row := range []struct{ ds, squares float64 }{{-60.5, -60.5}, {-59.5, -53}, {59.5, 59.5}, {60.5, 60.5}} {
		worst, err := model(t, shifted(t, row.ds)).LeastWorst(1, aim)
		squares, errSquares := model(t, shifted(t, row.squares)).LeastSquares(1, aim)
		if math.Abs(row.ds) > 60 {
			if !errors.Is(err, intonation.ErrNoPlace) || !errors.Is(errSquares, intonation.ErrNoPlace) || worst.Left != nil || squares.Left != nil {
				t.Errorf("got %+v, %v and %+v, %v, want none at %v", worst, err, squares, errSquares, row.ds)
			}
			continue
		}
		if err != nil || errSquares != nil {
			t.Fatalf("%v, %v at %v", err, errSquares, row.ds)
		}
		near(t, "setback", float64(worst.Setback), row.ds, 1e-4)
		near(t, "setback by squares", float64(squares.Setback), row.squares, 1e-4)
	}
	// All frets as much sharp as only a nut 60 mm further in would mend.
	n := one(t)
	n.Courses[0].NutHeight, n.Courses[0].Rise = 9, -9
	if got, err := model(t, n).LeastSquaresNut(1, intonation.Aim{Frets: []int{1, 2}}); !errors.Is(err, intonation.ErrNoPlace) || got.Left != nil {
		t.Errorf("got %+v, %v, want no place for the nut", got, err)
	}
}

// On a neck so short that 60 mm forward lies among the frets, every string of a
// saddle is looked for behind them, whatever its stagger.
func TestPlacingOnShortNecks(t *testing.T) {
	n := each(neck(t), func(c *intonation.Course) { c.Open *= 3 })
	n.Division, n.Scale = frets(t, 24), 200 // 50 mm behind fret 24
	m := model(t, n)
	for _, stagger := range [][]units.Length{nil, {-9, -8, -8.5}, {8, 9, 8.5}, {-20, 0, 20}} {
		got, err := m.LeastWorstTogether([]int{1, 2, 3}, stagger...)
		if err != nil {
			t.Errorf("staggers %v: %v", stagger, err)
			continue
		}
		sharpest, flattest := math.Inf(-1), math.Inf(1)
		for _, left := range got.Left {
			for _, e := range left {
				sharpest, flattest = max(sharpest, float64(e)), min(flattest, float64(e))
			}
		}
		near(t, "balance", sharpest+flattest, 0, 1e-6)
	}
}

// Where the nut stands now does not count when it is placed as well, to the last
// digit.
func TestNutSetAside(t *testing.T) {
	n := one(t)
	want, err := model(t, n).LeastSquaresNut(1, intonation.Aim{})
	if err != nil {
		t.Fatal(err)
	}
	n.Courses[0].NutSetback, n.Courses[0].Setback = -0.7, 5
	got, err := model(t, n).LeastSquaresNut(1, intonation.Aim{})
	if err != nil || got.Setback != want.Setback || got.NutSetback != want.NutSetback {
		t.Errorf("got %v and %v, %v, want %v and %v", got.Setback, got.NutSetback, err, want.Setback, want.NutSetback)
	}
}

// A string that cannot be where it is looked for is refused.
func TestPlacingOfWhatCannotBe(t *testing.T) {
	// A finger that only a nut moved away leaves room for.
	n := one(t)
	n.Finger.Carry, n.Courses[0].NutSetback = 36.5, 1
	_, err := model(t, n).LeastSquaresNut(1, intonation.Aim{})
	wantError(t, err, "got a finger 36.5mm behind fret 1, want less than the 36.37mm from the nut")

	// A rod that sounds at its length, and hangs slack 10 mm forward. By hand, the
	// pull's root has none where e = sqrt(EI)/l is above w/(q + 2 sqrt(q^2 + pi^2/2)),
	// w = 2 l f sqrt(mu): stiffness up to the length's fourth power.
	n = one(t)
	c := &n.Courses[0]
	metres := 0.64
	most := 2 * metres * metres * float64(c.Open) * math.Sqrt(float64(c.UnitWeight)) / (1 + 2*math.Sqrt(1+math.Pi*math.Pi/2))
	c.Bend, c.Setback = most*most, 2
	m := model(t, n)
	if got, err := m.LeastWorst(1, intonation.Aim{}); !errors.Is(err, intonation.ErrNoPlace) || got.Left != nil {
		t.Errorf("got %+v, %v, want ErrNoPlace", got, err)
	}
	if got, err := m.LeastWorstTogether([]int{1}); !errors.Is(err, intonation.ErrNoPlace) || got.Left != nil || got.Setback != 0 {
		t.Errorf("got %+v, %v, want ErrNoPlace", got, err)
	}
}

// An empty list of frets is every fret, and leaves what lies behind it alone.
func TestAimIsLeftAlone(t *testing.T) {
	frets := []int{12, 5}
	if _, err := model(t, one(t)).LeastWorst(1, intonation.Aim{Frets: frets[:0]}); err != nil {
		t.Fatal(err)
	}
	if frets[0] != 12 || frets[1] != 5 {
		t.Errorf("got %v, want 12 and 5", frets)
	}
}
