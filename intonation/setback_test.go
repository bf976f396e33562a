package intonation_test

import (
	"errors"
	"math"
	"math/rand"
	"testing"

	"example.org/saddlepoint/intonation"
	"example.org/saddlepoint/units"
)

// at is the errors of a string's aim with its break points elsewhere, from a
// model made afresh.
func at(t *testing.T, n intonation.Neck, str int, frets []int, ds, dn float64) []float64 {
	t.Helper()
	n = each(n, func(c *intonation.Course) { c.Setback, c.NutSetback = units.Length(ds), units.Length(dn) })
	m := model(t, n)
	var out []float64
	for _, f := range frets {
		out = append(out, float64(m.Cents(str, f)))
	}
	return out
}

// mean is the weighted mean square.
func mean(errs, weights []float64) float64 {
	squares, sum := 0.0, 0.0
	for i, e := range errs {
		squares, sum = squares+weights[i]*e*e, sum+weights[i]
	}
	return squares / sum
}

func furthest(errs, weights []float64) float64 {
	out := 0.0
	for i, e := range errs {
		out = max(out, math.Abs(weights[i]*e))
	}
	return out
}

// anyAim is some frets, with weights or without.
func anyAim(rnd *rand.Rand) (intonation.Aim, []int, []float64) {
	var a intonation.Aim
	frets, weights := []int{}, []float64{}
	few := rnd.Intn(2) == 0
	for f := 1; f <= 22; f++ {
		if few && rnd.Intn(3) > 0 {
			continue
		}
		frets, weights = append(frets, f), append(weights, 1)
	}
	if few {
		if len(frets) < 2 {
			frets, weights = []int{5, 12}, []float64{1, 1}
		}
		a.Frets = frets
	}
	if rnd.Intn(2) == 0 {
		for i := range weights {
			weights[i] = 0.1 + rnd.Float64()
		}
		if len(weights) > 4 {
			weights[0], weights[len(weights)-1] = 0, 0 // the notes that stay furthest out
		}
		a.Weights = weights
	}
	return a, frets, weights
}

// least walks down from x by ever smaller steps, one way or two: a slow
// minimiser that knows nothing of slopes.
func least(f func(ds, dn float64) float64, ds, dn float64, nut bool) (float64, float64) {
	low := f(ds, dn)
	for step := 1.0; step > 1e-7; {
		moved := false
		ways := [][2]float64{{step, 0}, {-step, 0}}
		if nut {
			// The valley runs aslant.
			ways = append(ways, [2]float64{0, step}, [2]float64{0, -step},
				[2]float64{step, step}, [2]float64{-step, -step}, [2]float64{step, -step}, [2]float64{-step, step},
				[2]float64{step, -0.4 * step}, [2]float64{-step, 0.4 * step}, [2]float64{step, -0.2 * step}, [2]float64{-step, 0.2 * step})
		}
		for _, w := range ways {
			if v := f(ds+w[0], dn+w[1]); v < low {
				ds, dn, low, moved = ds+w[0], dn+w[1], v, true
			}
		}
		if !moved {
			step /= 2
		}
	}
	return ds, dn
}

func TestLeastSquares(t *testing.T) {
	rnd := rand.New(rand.NewSource(1))
	worst := 0.0
	for k := range 24 {
		n, str := neck(t), 1+rnd.Intn(6)
		n.Courses[str-1].NutSetback = units.Length(k%3-1) / 4
		m := model(t, n)
		a, frets, weights := anyAim(rnd)
		nut := k%2 == 1
		find, dn := m.LeastSquares, float64(n.Courses[str-1].NutSetback)
		if nut {
			find, dn = m.LeastSquaresNut, 0
		}
		got, err := find(str, a)
		if err != nil {
			t.Fatal(err)
		}
		cost := func(ds, dn float64) float64 { return mean(at(t, n, str, frets, ds, dn), weights) }
		ds, dn := least(cost, 1, dn, nut)
		// Where the frets are few and near one another the valley is flat along its
		// length: what counts is how low it is.
		off := float64(got.RMS) - math.Sqrt(cost(ds, dn))
		worst = max(worst, off)
		if !(off < 1e-8) {
			t.Errorf("%+v: got an RMS of %v at %v, %v, want that of %v, %v, %v less", a, got.RMS, got.Setback, got.NutSetback, ds, dn, off)
		}
		if len(a.Frets) == 0 {
			near(t, "setback", float64(got.Setback), ds, 1e-4)
			near(t, "nut setback", float64(got.NutSetback), dn, 1e-4)
		}
		left := at(t, n, str, frets, float64(got.Setback), float64(got.NutSetback))
		checkLeft(t, got, left, weights)
	}
	t.Logf("RMS %.2g cents over the least at worst", worst)
}

// checkLeft checks that what is said to be left is what is left.
func checkLeft(t *testing.T, got intonation.Placed, left, weights []float64) {
	t.Helper()
	if len(got.Left) != len(left) {
		t.Fatalf("got %d left, want %d", len(got.Left), len(left))
	}
	worst := 0.0
	for i, e := range left {
		near(t, "left", float64(got.Left[i]), e, 1e-9)
		if weights[i] > 0 && math.Abs(e) > math.Abs(worst)+1e-6 { // the first of two that are as far out
			worst = e
		}
	}
	near(t, "worst", float64(got.Worst), worst, 1e-9)
	near(t, "RMS", float64(got.RMS), math.Sqrt(mean(left, weights)), 1e-9)
}

// The least worst is a fine grid's, weights and all.
func TestLeastWorst(t *testing.T) {
	rnd := rand.New(rand.NewSource(2))
	const step = 0.002
	for range 12 {
		n, str := neck(t), 1+rnd.Intn(6)
		a, frets, weights := anyAim(rnd)
		got, err := model(t, n).LeastWorst(str, a)
		if err != nil {
			t.Fatal(err)
		}
		best, low := 0.0, math.Inf(1)
		for ds := float64(got.Setback) - 1; ds < float64(got.Setback)+1; ds += step {
			if v := furthest(at(t, n, str, frets, ds, 0), weights); v < low {
				best, low = ds, v
			}
		}
		near(t, "setback", float64(got.Setback), best, step)
		left := at(t, n, str, frets, float64(got.Setback), 0)
		if v := furthest(left, weights); !(v <= low+1e-9) {
			t.Errorf("%+v: got %v at worst, want no more than the grid's %v", a, v, low)
		}
		checkLeft(t, got, left, weights)
	}
}

func TestZeroAt(t *testing.T) {
	n := neck(t)
	n.Courses[2].NutSetback = -0.3
	m := model(t, n)
	for _, fret := range []int{1, 5, 12, 22} {
		got, err := m.ZeroAt(3, fret)
		if err != nil {
			t.Fatalf("fret %d: %v", fret, err)
		}
		near(t, "left", at(t, n, 3, []int{fret}, float64(got.Setback), -0.3)[0], 0, 1e-7)
		if got.NutSetback != -0.3 || len(got.Left) != 1 {
			t.Errorf("fret %d: got %+v", fret, got)
		}
	}
}

// A weight of 0 is a fret not there; one of 2 is a fret there twice; weights all
// alike are none; the saddle's own setback does not count.
func TestWeights(t *testing.T) {
	n := neck(t)
	n.Courses[0].Setback = 7
	m, moved := model(t, neck(t)), model(t, n)
	type find func(*intonation.Model, intonation.Aim) (intonation.Placed, error)
	for name, f := range map[string]find{
		"saddle": func(m *intonation.Model, a intonation.Aim) (intonation.Placed, error) { return m.LeastSquares(1, a) },
		"nut":    func(m *intonation.Model, a intonation.Aim) (intonation.Placed, error) { return m.LeastSquaresNut(1, a) },
		"worst":  func(m *intonation.Model, a intonation.Aim) (intonation.Placed, error) { return m.LeastWorst(1, a) },
	} {
		for _, pair := range [][2]intonation.Aim{
			{{Frets: []int{1, 5, 12, 17}, Weights: []float64{1, 0, 1, 1}}, {Frets: []int{1, 12, 17}}},
			{{Frets: []int{1, 5, 12}, Weights: []float64{3, 3, 3}}, {Frets: []int{1, 5, 12}}},
			{{Frets: []int{1, 5, 12}, Weights: []float64{}}, {Frets: []int{12, 5, 1}}},
			{{Frets: []int{}}, {}},
		} {
			same(t, name, f, m, m, pair)
			same(t, name, f, m, moved, pair)
		}
		if name != "worst" {
			same(t, name, f, m, m, [2]intonation.Aim{
				{Frets: []int{1, 5, 12}, Weights: []float64{1, 2, 1}}, {Frets: []int{1, 5, 12, 5}},
			})
		}
		// And weights matter.
		a, _ := f(m, intonation.Aim{Frets: []int{1, 5, 12}, Weights: []float64{5, 1, 1}})
		b, _ := f(m, intonation.Aim{Frets: []int{1, 5, 12}})
		if a.Setback == b.Setback {
			t.Errorf("%s: got %v with weights and without", name, a.Setback)
		}
	}
}

func same(t *testing.T, name string, f func(*intonation.Model, intonation.Aim) (intonation.Placed, error), m, other *intonation.Model, pair [2]intonation.Aim) {
	t.Helper()
	a, err := f(m, pair[0])
	if err != nil {
		t.Fatal(err)
	}
	b, err := f(other, pair[1])
	if err != nil {
		t.Fatal(err)
	}
	near(t, name+" saddle", float64(a.Setback), float64(b.Setback), 1e-8)
	near(t, name+" nut", float64(a.NutSetback), float64(b.NutSetback), 1e-8)
	near(t, name+" RMS", float64(a.RMS), float64(b.RMS), 1e-8)
}

// A string that is near breaking is placed all the same; one that the place
// itself would break is refused.
func TestPlacingNearBreaking(t *testing.T) {
	n := neck(t)
	pull := model(t, n).Taut(1).Pull
	n.Courses[0].Breaks = pull + 0.5
	m := model(t, n)
	for _, a := range []intonation.Aim{{}, {Frets: []int{12}}} {
		if _, err := m.LeastWorst(1, a); err != nil {
			t.Errorf("%+v: %v", a, err)
		}
		if _, err := m.LeastSquares(1, a); err != nil {
			t.Errorf("%+v: %v", a, err)
		}
	}
	n.Courses[0].Setback, n.Courses[0].Breaks = -5, pull-1
	const want = "got a pull of 72.8N, want less than 71.9N, which breaks it"
	if got, err := model(t, n).LeastWorst(1, intonation.Aim{}); err == nil || err.Error() != want {
		t.Errorf("got %v, %v, want %s", got, err, want)
	}
}

func TestPlacingRefuses(t *testing.T) {
	m := model(t, neck(t))
	nan, inf := math.NaN(), math.Inf(1)
	for _, row := range []struct {
		str  int
		aim  intonation.Aim
		want string
	}{
		{0, intonation.Aim{}, "got string 0, want 1 to 6"},
		{7, intonation.Aim{}, "got string 7, want 1 to 6"},
		{1, intonation.Aim{Frets: []int{12, 0}}, "got fret 0, want 1 to 22"},
		{1, intonation.Aim{Frets: []int{23, 1}}, "got fret 23, want 1 to 22"},
		{1, intonation.Aim{Frets: []int{5, 12}, Weights: []float64{1}}, "got 1 weights, want 2, one a fret"},
		{1, intonation.Aim{Weights: []float64{1}}, "got 1 weights, want 22, one a fret"},
		{1, intonation.Aim{Frets: []int{5, 12}, Weights: []float64{1, -1}}, "got a weight of -1, want at least 0"},
		{1, intonation.Aim{Frets: []int{5, 12}, Weights: []float64{1, nan}}, "got a weight of NaN, want at least 0"},
		{1, intonation.Aim{Frets: []int{5, 12}, Weights: []float64{0, 0}}, "got weights that add up to 0, want more than 0"},
		{1, intonation.Aim{Frets: []int{5, 12}, Weights: []float64{1, inf}}, "got weights that add up to +Inf, want more than 0"},
	} {
		for _, f := range []func(int, intonation.Aim) (intonation.Placed, error){m.LeastSquares, m.LeastSquaresNut, m.LeastWorst} {
			if got, err := f(row.str, row.aim); err == nil || err.Error() != row.want {
				t.Errorf("%+v: got %v, %v, want %s", row.aim, got, err, row.want)
			}
		}
	}
	for _, a := range []intonation.Aim{{Frets: []int{12}}, {Frets: []int{12, 12}}, {Frets: []int{5, 12}, Weights: []float64{0, 1}}} {
		const want = "got frets that cannot tell saddle from nut, want two that differ"
		if got, err := m.LeastSquaresNut(1, a); err == nil || err.Error() != want {
			t.Errorf("%+v: got %v, %v, want %s", a, got, err, want)
		}
	}
	// A first fret 15 cents sharp is out of any saddle's reach.
	n := each(neck(t), func(c *intonation.Course) { c.NutHeight = 2.5 })
	for _, f := range []func(int, intonation.Aim) (intonation.Placed, error){model(t, n).LeastSquares, model(t, n).LeastWorst} {
		if got, err := f(3, intonation.Aim{Frets: []int{1}}); !errors.Is(err, intonation.ErrNoPlace) {
			t.Errorf("got %+v, %v, want ErrNoPlace", got, err)
		}
	}
}
