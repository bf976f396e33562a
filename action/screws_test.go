package action_test

import (
	"math"
	"math/rand"
	"slices"
	"testing"

	"example.org/saddlepoint/action"
	"example.org/saddlepoint/units"
)

// line is the height over y of a saddle whose screws were changed so.
func line(s action.Screws, treble, bass, y units.Length) units.Length {
	return s.Bass + (s.Treble-s.Bass)*units.Length((y-bass).Over(treble-bass))
}

// Two strings get what they want; one is lifted level.
func TestTwoScrewsExact(t *testing.T) {
	// Worked by hand: strings at 3 and -7, screws at 8 and -12: the line rises by
	// 0.02 a millimetre.
	s, err := action.TwoScrews([]units.Length{0.3, 0.1}, []units.Length{3, -7}, 8, -12)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "treble screw", s.Treble, 0.4, 1e-15)
	near(t, "bass screw", s.Bass, 0, 1e-15)

	rnd := rand.New(rand.NewSource(1))
	any := func() units.Length { return units.Length(40*rnd.Float64() - 20) }
	for range 2000 {
		changes, offsets := []units.Length{any() / 20, any() / 20}, []units.Length{any(), any()}
		treble, bass := 20+any(), any()-20
		s, err := action.TwoScrews(changes, offsets, treble, bass)
		if err != nil {
			t.Fatal(err)
		}
		for i := range changes {
			off := 1e-12 / math.Abs(float64(offsets[0]-offsets[1])) // strings side by side magnify roundings
			near(t, "two strings", line(s, treble, bass, offsets[i]), changes[i], 1e-12+100*off)
			near(t, "what is left", s.Left[i], 0, 1e-12+100*off)
		}
		s, err = action.TwoScrews(changes[:1], offsets[:1], treble, bass)
		if err != nil {
			t.Fatal(err)
		}
		if s.Treble != changes[0] || s.Bass != changes[0] || len(s.Left) != 1 || s.Left[0] != 0 {
			t.Fatalf("one string: got %+v, want %v at both screws", s, changes[0])
		}
	}
	// Strings at one place cannot be told apart.
	if s, err := action.TwoScrews([]units.Length{0.2, 0.4}, []units.Length{5, 5}, 8, -8); err != nil {
		t.Error(err)
	} else {
		near(t, "at one place", s.Treble, 0.3, 1e-15)
		near(t, "at one place", s.Bass, 0.3, 1e-15)
		near(t, "at one place", s.Left[1], 0.1, 1e-15)
	}
}

// For more strings no other pair of screws on a fine grid leaves less, in
// squares.
func TestTwoScrewsLeast(t *testing.T) {
	const step, reach = 0.002, 60
	rnd := rand.New(rand.NewSource(2))
	for range 40 {
		n := 3 + rnd.Intn(4)
		changes, offsets := make([]units.Length, n), make([]units.Length, n)
		for i := range changes {
			changes[i], offsets[i] = units.Length(rnd.Float64()-0.5), units.Length(50*rnd.Float64()-25)
		}
		treble, bass := units.Length(10+20*rnd.Float64()), units.Length(-10-20*rnd.Float64())
		s, err := action.TwoScrews(changes, offsets, treble, bass)
		if err != nil {
			t.Fatal(err)
		}
		squares := func(try action.Screws) float64 {
			sum := 0.0
			for i := range changes {
				left := float64(changes[i] - line(try, treble, bass, offsets[i]))
				sum += left * left
			}
			return sum
		}
		least, at := math.Inf(1), action.Screws{}
		for i := -reach; i <= reach; i++ {
			for j := -reach; j <= reach; j++ {
				try := action.Screws{Treble: units.Length(math.Round(float64(s.Treble)/step)+float64(i)) * step,
					Bass: units.Length(math.Round(float64(s.Bass)/step)+float64(j)) * step}
				if sum := squares(try); sum < least {
					least, at = sum, try
				}
			}
		}
		if mine := squares(s); !(mine <= least) {
			t.Errorf("%v at %v: got %v left in squares, want no more than the grid's %v", changes, offsets, mine, least)
		}
		if reach := units.Length(reach * step * 0.9); at.Treble < s.Treble-reach || at.Treble > s.Treble+reach || at.Bass < s.Bass-reach || at.Bass > s.Bass+reach {
			t.Errorf("%v at %v: got the grid's best at its edge, %v, want it near %v", changes, offsets, at, s)
		}
		sum := units.Length(0)
		for i, left := range s.Left {
			near(t, "what is left", left, changes[i]-line(s, treble, bass, offsets[i]), 1e-13)
			sum += left
		}
		near(t, "the sum of what is left", sum, 0, 1e-13)
	}
}

func TestTwoScrewsErrors(t *testing.T) {
	nan, inf := units.Length(math.NaN()), units.Length(math.Inf(1))
	one := []units.Length{0.1}
	for _, row := range []struct {
		changes, offsets []units.Length
		treble, bass     units.Length
		want             string
	}{
		{nil, nil, 7, -7, "got 0 changes at 0 offsets, want one a string"},
		{one, nil, 7, -7, "got 1 changes at 0 offsets, want one a string"},
		{one, []units.Length{1, 2}, 7, -7, "got 1 changes at 2 offsets, want one a string"},
		{one, one, 7, 7, "got screws at 7mm and 7mm, want the treble one further to the treble"},
		{one, one, -7, 7, "got screws at -7mm and 7mm, want the treble one further to the treble"},
		{one, one, nan, -7, "got screws at NaNmm and -7mm, want the treble one further to the treble"},
		{one, one, inf, -7, "got screws at +Infmm and -7mm, want the treble one further to the treble"},
		{one, one, inf, -inf, "got screws at +Infmm and -Infmm, want the treble one further to the treble"},
		{[]units.Length{nan}, one, 7, -7, "got a change or an offset that is not finite, want numbers"},
		{one, []units.Length{inf}, 7, -7, "got a change or an offset that is not finite, want numbers"},
		{[]units.Length{0.1, -inf, 0.3}, []units.Length{1, 2, 3}, 7, -7, "got a change or an offset that is not finite, want numbers"},
	} {
		s, err := action.TwoScrews(row.changes, row.offsets, row.treble, row.bass)
		wantError(t, err, row.want)
		if s.Treble != 0 || s.Bass != 0 || s.Left != nil {
			t.Errorf("got %+v beside an error, want nothing", s)
		}
	}
}

// The tilt is that of the line between the screws: 0.4 mm over 20 mm is 1.1458
// degrees; the treble end up is positive.
func TestTwoScrewsTilt(t *testing.T) {
	for _, sign := range []units.Length{1, -1} {
		s, err := action.TwoScrews([]units.Length{0.3 * sign, 0.1 * sign}, []units.Length{3, -7}, 8, -12)
		if err != nil {
			t.Fatal(err)
		}
		check(t, "tilt", float64(s.Tilt)*float64(sign), "1.1458")
	}
	s, err := action.TwoScrews([]units.Length{0.3, 0.3, 0.3}, []units.Length{9, 3, -7}, 8, -12)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "level", units.Length(s.Tilt), 0, 1e-13)
}

func TestOneScrew(t *testing.T) {
	for _, row := range []struct {
		changes []units.Length
		by      units.Length
		left    []units.Length
	}{
		{[]units.Length{-0.5}, -0.5, []units.Length{0}},
		{[]units.Length{-0.5, 0.25}, -0.125, []units.Length{-0.375, 0.375}},
		{[]units.Length{0.25, 0.5, 0.375, 1}, 0.625, []units.Length{-0.375, -0.125, -0.25, 0.375}},
	} {
		by, left := action.OneScrew(row.changes)
		if by != row.by || !slices.Equal(left, row.left) {
			t.Errorf("%v: got %v, leaving %v, want %v, leaving %v", row.changes, by, left, row.by, row.left)
		}
	}
	if by, left := action.OneScrew(nil); by == by || left != nil {
		t.Errorf("no changes: got %v, leaving %v, want NaN", by, left)
	}
	nan := units.Length(math.NaN())
	if by, left := action.OneScrew([]units.Length{1, nan, 2}); by == by || len(left) != 3 || left[0] == left[0] {
		t.Errorf("NaN: got %v, leaving %v, want NaN", by, left)
	}

	// No other move on a fine grid leaves less at the worst.
	rnd := rand.New(rand.NewSource(3))
	for range 200 {
		changes := make([]units.Length, 1+rnd.Intn(6))
		for i := range changes {
			changes[i] = units.Length(2*rnd.Float64() - 1)
		}
		by, _ := action.OneScrew(changes)
		worst := func(by units.Length) float64 {
			w := 0.0
			for _, c := range changes {
				w = math.Max(w, math.Abs(float64(c-by)))
			}
			return w
		}
		for k := -1000; k <= 1000; k++ {
			if try := units.Length(k) / 1000; worst(try) < worst(by)-1e-15 {
				t.Fatalf("%v: got %v, but %v leaves less", changes, by, try)
			}
		}
	}
}
