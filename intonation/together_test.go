package intonation_test

import (
	"errors"
	"fmt"
	"math"
	"math/rand"
	"testing"

	"example.org/saddlepoint/intonation"
	"example.org/saddlepoint/units"
)

// One saddle under strings that break where they will: no place on a fine grid,
// each string worked out by itself, leaves less at the worst; and what is said to
// be left is what is left.
func TestLeastWorstTogether(t *testing.T) {
	const step = 0.005
	rnd := rand.New(rand.NewSource(5))
	var all []int
	for f := 1; f <= 22; f++ {
		all = append(all, f)
	}
	for k := range 8 {
		n := neck(t)
		for i := range n.Courses {
			n.Courses[i].NutSetback = units.Length(0.4*rnd.Float64() - 0.2)
		}
		strs := rnd.Perm(6)[:1+rnd.Intn(6)]
		var stagger []units.Length
		for i := range strs {
			strs[i]++
			if k%2 == 1 {
				stagger = append(stagger, units.Length(3*rnd.Float64()-1.5))
			}
		}
		got, err := model(t, n).LeastWorstTogether(strs, stagger...)
		if err != nil {
			t.Fatal(err)
		}
		left := func(i int, setback float64) []float64 {
			if len(stagger) > 0 {
				setback += float64(stagger[i])
			}
			return at(t, n, strs[i], all, setback, float64(n.Courses[strs[i]-1].NutSetback))
		}
		low := math.Inf(1)
		for ds := float64(got.Setback) - 0.2; ds < float64(got.Setback)+0.2; ds += step {
			worst := 0.0
			for i := range strs {
				for _, e := range left(i, ds) {
					worst = max(worst, math.Abs(e))
				}
			}
			low = min(low, worst)
		}
		if !(math.Abs(float64(got.Worst)) <= low+1e-9) {
			t.Errorf("strings %v, staggers %v: got %v at worst, want no more than the grid's %v", strs, stagger, got.Worst, low)
		}
		if len(got.Left) != len(strs) {
			t.Fatalf("got %d strings, want %d", len(got.Left), len(strs))
		}
		worst, squares, notes := 0.0, 0.0, 0.0
		for i := range strs {
			for f, e := range left(i, float64(got.Setback)) {
				near(t, "left", float64(got.Left[i][f]), e, 1e-7)
				squares, notes = squares+e*e, notes+1
				if math.Abs(e) > math.Abs(worst)+1e-6 { // the first of two that are as far out
					worst = e
				}
			}
		}
		near(t, "worst", float64(got.Worst), worst, 1e-7)
		near(t, "RMS", float64(got.RMS), math.Sqrt(squares/notes), 1e-7)
	}
}

func TestLeastWorstTogetherErrors(t *testing.T) {
	n := neck(t)
	m := model(t, n)
	nan := units.Length(math.NaN())
	// String 2 bears what it has now, and not what it would have where it comes to stand.
	free, err := m.LeastWorstTogether([]int{1, 2}, 0, 3)
	if err != nil {
		t.Fatal(err)
	}
	there := each(n, func(c *intonation.Course) { c.Setback = free.Setback + 3 })
	pull, bears := model(t, there).Taut(2).Pull, m.Taut(2).Pull+0.01
	n.Courses[1].Breaks = bears
	tight := model(t, n)
	for _, row := range []struct {
		m       *intonation.Model
		strs    []int
		stagger []units.Length
		want    string
	}{
		{m, nil, nil, "got no strings, want one at least"},
		{m, []int{1, 2}, []units.Length{1}, "got 1 staggers, want 2, one a string"},
		{m, []int{1}, []units.Length{1, 2}, "got 2 staggers, want 1, one a string"},
		{m, []int{1, 7}, nil, "got string 7, want 1 to 6"},
		{m, []int{1, 2}, []units.Length{0, nan}, "got a stagger of NaNmm, want a finite one"},
		{m, []int{1, 2}, []units.Length{0, -100}, intonation.ErrNoPlace.Error()},
		{tight, []int{1, 2}, []units.Length{0, 3}, fmt.Sprintf("got a pull of %.1f, want less than %.1f, which breaks it", pull, bears)},
	} {
		got, err := row.m.LeastWorstTogether(row.strs, row.stagger...)
		wantError(t, err, row.want)
		if got.Left != nil || got.Setback != 0 || got.RMS != 0 || got.Worst != 0 {
			t.Errorf("got %+v beside an error, want nothing", got)
		}
	}
}

// A saddle may have to stand in front of the scale line, but no further than 60 mm.
func TestLeastWorstForward(t *testing.T) {
	n := neck(t)
	n.Courses[0].NutSetback = -3 // flat all along
	m := model(t, n)
	got, err := m.ZeroAt(1, 12)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "left at 12", at(t, n, 1, []int{12}, float64(got.Setback), -3)[0], 0, 1e-7)
	if !(got.Setback < -1 && got.NutSetback == -3) {
		t.Errorf("got %+v, want the saddle forward", got)
	}
	n.Courses[0].NutSetback = -5
	m = model(t, n)
	if e := at(t, n, 1, []int{1}, -70, -5)[0]; !(e < 0) {
		t.Fatalf("got fret 1 at %v cents with the saddle 70 mm forward, want it flat", e)
	}
	if got, err := m.ZeroAt(1, 1); !errors.Is(err, intonation.ErrNoPlace) || got.Left != nil {
		t.Errorf("got %+v, %v, want ErrNoPlace", got, err)
	}
}
